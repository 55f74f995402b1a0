/**
 * The style of an element, resolved: what it declares, what it inherits, and the initial values of SVG 2 where
 * neither says anything. Lengths are user units.
 */
import type { FillRule, LineCap, LineJoin } from "../geometry/region.ts";
import { BLACK, type Colour, parseColour } from "./colour.ts";
import { type LengthContext, lengthToUser } from "./lengths.ts";
import { NO_PAINT, type Paint, parsePaint } from "./paint.ts";
import { dashList, parseOpacity } from "./properties.ts";
import type { Declared } from "./sheet.ts";

/** What children inherit. */
export interface Style {
  readonly colour: Colour;
  readonly fontSizePx: number;
  readonly fill: Paint;
  readonly fillOpacity: number;
  readonly fillRule: FillRule;
  readonly clipRule: FillRule;
  readonly stroke: Paint;
  readonly strokeOpacity: number;
  readonly strokeWidth: number;
  readonly lineCap: LineCap;
  readonly lineJoin: LineJoin;
  readonly miterLimit: number;
  /** Lengths of dash and gap in turn, an even count; empty for a solid line. */
  readonly dashes: readonly number[];
  readonly dashOffset: number;
  readonly strokeFirst: boolean;
  readonly visible: boolean;
  readonly marked: boolean;
}

export const INITIAL_STYLE: Style = {
  colour: BLACK,
  fontSizePx: 16,
  fill: { kind: "colour", colour: BLACK },
  fillOpacity: 1,
  fillRule: "nonzero",
  clipRule: "nonzero",
  stroke: NO_PAINT,
  strokeOpacity: 1,
  strokeWidth: 1,
  lineCap: "butt",
  lineJoin: "miter",
  miterLimit: 4,
  dashes: [],
  dashOffset: 0,
  strokeFirst: false,
  visible: true,
  marked: false,
};

/**
 * The style of an element whose parent has the style `parent`.
 *
 * @param lengths what relative lengths refer to; its font size is the parent's
 */
export function computeStyle(declared: Declared, parent: Style, lengths: LengthContext): Style {
  if (declared.size === 0) return parent;
  const style: { -readonly [K in keyof Style]: Style[K] } = { ...parent };

  // The font size and the colour come first: the other properties may refer to them.
  style.fontSizePx = resolve(declared, "font-size", parent.fontSizePx, 16, (text) =>
    fontSize(text, parent.fontSizePx),
  );
  const own: LengthContext = { ...lengths, fontSizePx: style.fontSizePx };
  style.colour = resolve(declared, "color", parent.colour, BLACK, (text) =>
    text.toLowerCase() === "currentcolor" ? parent.colour : parseColour(text),
  );

  const set = <K extends keyof Style>(
    property: string,
    key: K,
    read: (text: string) => Style[K] | null,
  ): void => {
    style[key] = resolve(declared, property, parent[key], INITIAL_STYLE[key], read);
  };
  const user = (text: string) => lengthToUser(text, "other", own);

  set("fill", "fill", parsePaint);
  set("fill-opacity", "fillOpacity", parseOpacity);
  set("fill-rule", "fillRule", (text) => text.toLowerCase() as FillRule);
  set("clip-rule", "clipRule", (text) => text.toLowerCase() as FillRule);
  set("stroke", "stroke", parsePaint);
  set("stroke-opacity", "strokeOpacity", parseOpacity);
  set("stroke-width", "strokeWidth", user);
  set("stroke-linecap", "lineCap", (text) => text.toLowerCase() as LineCap);
  set("stroke-linejoin", "lineJoin", lineJoin);
  set("stroke-miterlimit", "miterLimit", Number);
  set("stroke-dasharray", "dashes", (text) => dashLengths(text, user));
  set("stroke-dashoffset", "dashOffset", user);
  set("paint-order", "strokeFirst", strokeBeforeFill);
  set("visibility", "visible", (text) => text.toLowerCase() === "visible");
  if (["marker", "marker-start", "marker-mid", "marker-end"].some((name) => declared.has(name)))
    style.marked = ["marker", "marker-start", "marker-mid", "marker-end"].some(
      (name) => declared.get(name)?.startsWith("url(") === true,
    );
  return style;
}

/** One inherited property by CSS's rules; an unreadable value leaves the inherited one. */
function resolve<T>(
  declared: Declared,
  property: string,
  inherited: T,
  initial: T,
  read: (text: string) => T | null,
): T {
  const text = declared.get(property);
  switch (text?.toLowerCase()) {
    case undefined:
    case "inherit":
    case "unset":
    case "revert":
    case "revert-layer":
      return inherited;
    case "initial":
      return initial;
    default:
      return read(text as string) ?? inherited;
  }
}

/** The keywords of CSS Fonts 4, 2.5, as factors of the medium size, 16 px. */
const FONT_SIZES: Readonly<Record<string, number>> = {
  "xx-small": 9 / 16,
  "x-small": 10 / 16,
  small: 13 / 16,
  medium: 1,
  large: 18 / 16,
  "x-large": 24 / 16,
  "xx-large": 2,
};

function fontSize(text: string, parentPx: number): number | null {
  const keyword = FONT_SIZES[text.toLowerCase()];
  if (keyword !== undefined) return keyword * 16;
  if (text.endsWith("%")) return (Number.parseFloat(text) / 100) * parentPx;
  const size = lengthToUser(text, "other", {
    fontSizePx: parentPx,
    viewportWidth: 0,
    viewportHeight: 0,
  });
  return size !== null && Number.isFinite(size) && size >= 0 ? size : null;
}

/** Beyond `miter`, `round` and `bevel`, SVG 2 says that what is not supported is drawn as `miter`. */
function lineJoin(text: string): LineJoin {
  const join = text.toLowerCase();
  return join === "round" || join === "bevel" ? join : "miter";
}

/** SVG 2, 13.5.6: an odd list counts twice, a negative entry or a sum of zero makes the line solid. */
function dashLengths(text: string, user: (part: string) => number | null): number[] {
  if (text === "none") return [];
  const lengths = dashList(text).map((part) => user(part) ?? Number.NaN);
  const sum = lengths.reduce((total, length) => total + length, 0);
  if (!(sum > 0) || lengths.some((length) => !(length >= 0))) return [];
  return lengths.length % 2 === 0 ? lengths : [...lengths, ...lengths];
}

/** Of `paint-order`, only whether the stroke goes under the fill matters here: markers are not drawn. */
function strokeBeforeFill(text: string): boolean {
  const words = text.toLowerCase().split(/\s+/);
  const stroke = words.indexOf("stroke");
  const fill = words.indexOf("fill");
  return stroke >= 0 && (fill < 0 || stroke < fill);
}
