/**
 * Marks set in a drawing's text: single `data-tuck-*` attributes of the artist's own elements, or, for the drawing
 * as a whole, of its `metadata` element. No other byte is touched; each edit can be made the other way round.
 */
import { nameElements } from "../artwork/names.ts";
import { isOwn } from "../artwork/own-layers.ts";
import { elementsIn } from "../artwork/tree.ts";
import { parseXml, type XmlElement } from "../artwork/xml.ts";
import { escapeXml } from "./markup.ts";

/** One `data-tuck-*` attribute to set or take away. */
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
export function withMarks(svgText: string, edits: readonly MarkEdit[]): string {
  if (edits.length === 0) return svgText;
  const root = parseXml(svgText);
  const elements = new Map([...nameElements(root).nameOf].map(([element, name]) => [name, element]));
  const metadata = elementsIn(root).find((child) => child.name === "metadata" && !isOwn(child));
  const tags = new Map<XmlElement, string>();
  let added: string | null = null;
  for (const { element: name, name: attribute, value } of edits) {
    const element = name === null ? metadata : elements.get(name);
    if (element !== undefined) {
      const tag = tags.get(element) ?? svgText.slice(element.start, element.openEnd);
      tags.set(element, withAttribute(tag, attribute, value));
    } else if (name === null && (added !== null || value !== null)) {
      added = withAttribute(added ?? `<${prefixOf(svgText, root)}metadata/>`, attribute, value);
    }
  }
  if (added !== null) putFirst(added, svgText, root, tags);

  let edited = "";
  let from = 0;
  for (const [{ start, openEnd }, tag] of [...tags].sort(([a], [b]) => a.start - b.start)) {
    edited += svgText.slice(from, start) + tag;
    from = openEnd;
  }
  return edited + svgText.slice(from);
}

const ATTRIBUTE = /(\s+)([^\s=/>]+)\s*=\s*(?:"[^"]*"|'[^']*')/g;

/** The opening tag with the attribute set, in its place where it has one, else as its last; `null` takes it away. */
function withAttribute(tag: string, name: string, value: string | null): string {
  const attribute = value === null ? null : `${name}="${escapeXml(value)}"`;
  let isThere = false;
  // Every attribute is matched, so that what merely looks like one inside another's quotes is passed over.
  const changed = tag.replace(ATTRIBUTE, (written: string, space: string, one: string) => {
    if (one !== name) return written;
    isThere = true;
    return attribute === null ? "" : space + attribute;
  });
  if (isThere || attribute === null) return changed;
  return tag.replace(/\s*\/?>$/, (close) => ` ${attribute}${close}`);
}

/** Makes the element the root's first child, by way of the root's opening tag. */
function putFirst(element: string, text: string, root: XmlElement, tags: Map<XmlElement, string>): void {
  const tag = tags.get(root) ?? text.slice(root.start, root.openEnd);
  tags.set(
    root,
    root.selfClosing
      ? `${tag.slice(0, -"/>".length)}>${element}</${nameAsWritten(text, root)}>`
      : tag + element,
  );
}

/** Of element names: `""`, or `"svg:"` in `<svg:svg>`. */
const prefixOf = (text: string, root: XmlElement): string => {
  const name = nameAsWritten(text, root);
  return name.slice(0, name.indexOf(":") + 1);
};

const nameAsWritten = (text: string, { start, openEnd }: XmlElement): string =>
  /[^\s/>]+/.exec(text.slice(start + 1, openEnd))?.[0] ?? "";
