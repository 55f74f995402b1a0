/**
 * Attributes of the artist's elements, changed in the text of the drawing: no other byte of it moves.
 *
 * What belongs to the document as a whole stands on a `metadata` element of the artist's below the root; where
 * there is none, one is put first in the root.
 */
import { isOwn } from "../../../core/artwork/own-layers.ts";
import { elementsIn } from "../../../core/artwork/tree.ts";
import { parseXml, type XmlElement } from "../../../core/artwork/xml.ts";
import { escapeXml } from "../../../core/layers/markup.ts";
import type { AttributeEdit } from "../../editor-host.ts";

/**
 * @param edits the last one for an element's attribute counts; those for ids that are not in the drawing are
 * passed over
 * @throws ArtworkError where the text is not well-formed XML
 */
export function withAttributes(svgText: string, edits: readonly AttributeEdit[]): string {
  const root = parseXml(svgText);
  const elements = artworkById(root);
  const tags = new Map<XmlElement, string>();
  const unplaced: AttributeEdit[] = [];
  for (const edit of edits) {
    const element = edit.element === null ? documentMetadata(root) : elements.get(edit.element);
    if (element === undefined) {
      if (edit.element === null && edit.value !== null) unplaced.push(edit);
      continue;
    }
    const tag = tags.get(element) ?? svgText.slice(element.start, element.openEnd);
    tags.set(element, withAttribute(tag, edit.name, edit.value));
  }
  let edited = "";
  let from = 0;
  for (const [{ start, openEnd }, tag] of [...tags].sort(([a], [b]) => a.start - b.start)) {
    edited += svgText.slice(from, start) + tag;
    from = openEnd;
  }
  edited += svgText.slice(from);
  return unplaced.length === 0 ? edited : withMetadata(edited, unplaced);
}

/** The artist's elements by id: the first of each. */
export function artworkById(root: XmlElement): Map<string, XmlElement> {
  const found = new Map<string, XmlElement>();
  const visit = (element: XmlElement): void => {
    if (isOwn(element)) return;
    const { id } = element.attributes;
    if (id !== undefined && !found.has(id)) found.set(id, element);
    elementsIn(element).forEach(visit);
  };
  visit(root);
  return found;
}

const documentMetadata = (root: XmlElement): XmlElement | undefined =>
  elementsIn(root).find((element) => element.name === "metadata" && !isOwn(element));

const ATTRIBUTE = /(\s+)([^\s=/>]+)\s*=\s*(?:"[^"]*"|'[^']*')/g;

/** The opening tag with the attribute set, in its place where it has one; `null` takes it away. */
function withAttribute(tag: string, name: string, value: string | null): string {
  const attribute = value === null ? null : `${name}="${escapeXml(value)}"`;
  let isThere = false;
  const changed = tag.replace(ATTRIBUTE, (written: string, space: string, one: string) => {
    if (one !== name) return written;
    isThere = true;
    return attribute === null ? "" : space + attribute;
  });
  if (isThere || attribute === null) return changed;
  return tag.replace(/\s*\/?>$/, (end) => ` ${attribute}${end}`);
}

function withMetadata(svgText: string, edits: readonly AttributeEdit[]): string {
  const root = parseXml(svgText);
  const prefix = /^<([^\s/>]*:)?/.exec(svgText.slice(root.start))?.[1] ?? "";
  const tag = edits.reduce(
    (built, { name, value }) => withAttribute(built, name, value),
    `<${prefix}metadata/>`,
  );
  if (!root.selfClosing) return svgText.slice(0, root.openEnd) + tag + svgText.slice(root.openEnd);
  const rootName = /^<([^\s/>]+)/.exec(svgText.slice(root.start))?.[1];
  return `${svgText.slice(0, root.openEnd).replace(/\s*\/>$/, ">")}${tag}</${rootName}>${svgText.slice(root.end)}`;
}
