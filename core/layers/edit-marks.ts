/**
 * Marks set in a drawing's text: single `data-tuck-*` attributes of the artist's own elements, or, for the drawing
 * as a whole, of its `metadata` element. No other byte is touched; each edit can be made the other way round.
 */
import { nameElements } from "../artwork/names.ts";
import { isOwn } from "../artwork/own-layers.ts";
import { elementsIn } from "../artwork/tree.ts";
import { parseXml, type XmlElement } from "../artwork/xml.ts";
import { escapeXml } from "./markup.ts";

export interface MarkEdit {
  /** The name that the element goes by, its id where it has one; `null` is the drawing as a whole. */
  readonly element: string | null;
  readonly name: `data-tuck-${string}`;
  /** `null` takes the attribute away. */
  readonly value: string | null;
}

/**
 * The drawing with the edits made, one after another. One of an element that is not there is passed over.
 *
 * @throws ArtworkError where the text is not well-formed XML
 */
export const withMarks = (svgText: string, edits: readonly MarkEdit[]): string =>
  edits.reduce(withMark, svgText);

function withMark(text: string, { element: name, name: attribute, value }: MarkEdit): string {
  const root = parseXml(text);
  if (name !== null) {
    const element = [...nameElements(root).nameOf].find(([, known]) => known === name)?.[0];
    return element === undefined ? text : withAttribute(text, element, attribute, value);
  }
  const metadata = elementsIn(root).find((child) => child.name === "metadata" && !isOwn(child));
  if (metadata !== undefined) return withAttribute(text, metadata, attribute, value);
  return value === null ? text : withMetadata(text, root, `${attribute}="${escapeXml(value)}"`);
}

function withAttribute(
  text: string,
  { start, openEnd }: XmlElement,
  name: string,
  value: string | null,
): string {
  const tag = text.slice(start, openEnd);
  const bare = tag.replace(new RegExp(`\\s+${name}\\s*=\\s*(?:"[^"]*"|'[^']*')`), "");
  const [close] = /\s*\/?>$/.exec(bare)!;
  const added = value === null ? "" : ` ${name}="${escapeXml(value)}"`;
  return text.slice(0, start) + bare.slice(0, -close.length) + added + close + text.slice(openEnd);
}

/** The text with a `metadata` element as the root's first child, under the prefix that the root has. */
function withMetadata(text: string, root: XmlElement, attribute: string): string {
  const rootName = /[^\s/>]+/.exec(text.slice(root.start + 1, root.openEnd))?.[0] ?? "svg";
  const element = `<${rootName.slice(0, rootName.indexOf(":") + 1)}metadata ${attribute}/>`;
  return root.selfClosing
    ? `${text.slice(0, root.openEnd - 2)}>${element}</${rootName}>${text.slice(root.openEnd)}`
    : text.slice(0, root.openEnd) + element + text.slice(root.openEnd);
}
