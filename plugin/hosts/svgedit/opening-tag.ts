/** An element's opening tag with some of its attributes changed; untouched, it keeps every byte. */
import type { XmlElement } from "../../../core/artwork/xml.ts";
import { escapeXml } from "./escape.ts";

export interface TagEdits {
  /** `null` takes the attribute away. */
  readonly set: ReadonlyMap<string, string | null>;
  /** Properties that a rule or the `style` attribute sets: only the `style` attribute can have the last word. */
  readonly setStyle: ReadonlyMap<string, string | null>;
}

/** @param isOpen whether content follows; a tag that closed itself is opened then */
export function openingTag(text: string, element: XmlElement, edits: TagEdits, isOpen: boolean): string {
  let tag = text.slice(element.start, element.openEnd);
  const set = new Map(edits.set);
  if (edits.setStyle.size > 0) set.set("style", styleWith(element.attributes.style ?? "", edits.setStyle));
  for (const [name, value] of set) tag = withAttribute(tag, name, value);
  return isOpen && element.selfClosing ? tag.replace(/\s*\/>$/, ">") : tag;
}

function withAttribute(tag: string, name: string, value: string | null): string {
  const place = new RegExp(`(\\s+)${name.replace(/[.-]/g, "\\$&")}\\s*=\\s*(?:"[^"]*"|'[^']*')`);
  // Names inside values must not be taken for attributes: values are hidden while one is looked for.
  const found = place.exec(tag.replace(/"[^"]*"|'[^']*'/g, (quoted) => `"${"_".repeat(quoted.length - 2)}"`));
  const written = value === null || value === "" ? "" : `${name}="${escapeXml(value)}"`;
  if (found === null && name === "id") return tag.replace(/^<[^\s/>]+/, (start) => `${start} ${written}`);
  if (found === null)
    return written === "" ? tag : tag.replace(/\s*\/?>$/, (end) => ` ${written}${end.trimStart()}`);
  const space = written === "" ? "" : found[1];
  return tag.slice(0, found.index) + space + written + tag.slice(found.index + found[0].length);
}

function styleWith(style: string, edits: ReadonlyMap<string, string | null>): string | null {
  const kept = style
    .split(";")
    .map((declaration) => declaration.trim())
    .filter(
      (declaration) => declaration !== "" && !edits.has(declaration.split(":")[0].trim().toLowerCase()),
    );
  const added = [...edits].filter(([, value]) => value !== null).map(([name, value]) => `${name}:${value}`);
  return [...kept, ...added].join(";") || null;
}
