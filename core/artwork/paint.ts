/** The `fill` and `stroke` properties (SVG 2, 13.2). */
import { type Colour, parseColour } from "./colour.ts";

export type Paint =
  | { readonly kind: "none" }
  | { readonly kind: "current-colour" }
  | { readonly kind: "colour"; readonly colour: Colour }
  /** A gradient or pattern; `href` as written between the brackets. */
  | { readonly kind: "server"; readonly href: string; readonly fallback: Paint | null }
  /** The fill or stroke of the element that a marker or `use` belongs to: as good as none here. */
  | { readonly kind: "context" };

export const NO_PAINT: Paint = { kind: "none" };

const URL_FIRST = /^url\(\s*(?:"([^"]*)"|'([^']*)'|([^)]*?))\s*\)\s*(.*)$/is;

/** A paint, or `null` where the text is none. */
export function parsePaint(text: string): Paint | null {
  const value = text.trim();
  switch (value.toLowerCase()) {
    case "none":
      return NO_PAINT;
    case "currentcolor":
      return { kind: "current-colour" };
    case "context-fill":
    case "context-stroke":
      return { kind: "context" };
  }
  const found = URL_FIRST.exec(value);
  if (found === null) {
    const colour = parseColour(value);
    return colour === null ? null : { kind: "colour", colour };
  }
  const rest = found[4];
  const fallback = rest === "" ? null : parsePaint(rest);
  if (rest !== "" && fallback === null) return null;
  return { kind: "server", href: found[1] ?? found[2] ?? found[3], fallback };
}

/** What stands in `url(…)`, or `null` where the text has no such form. */
export function urlIn(text: string): string | null {
  const found = URL_FIRST.exec(text.trim());
  return found === null ? null : (found[1] ?? found[2] ?? found[3]);
}
