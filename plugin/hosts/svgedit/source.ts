/**
 * The drawing as it was opened, and the form of it that the editor is given.
 *
 * The editor understands a part of SVG: what it does not know it drops, and it rewrites the rest. So the text
 * that was opened stays the truth. Every element that the editor gets carries a key, by which it is found again
 * after loading; what the artist then changes is written back into the original text (write-back.ts), and what
 * the editor never saw is still there.
 *
 * What the editor is given is the drawing made plain: styles worked out into attributes (styles.ts), one page
 * size in user units that begins at 0 0 (page-size.ts), an id on every drawn element, and loose top-level
 * elements in layers of their own, run by run, so that nothing changes places in paint order.
 */
import { nameElements } from "../../../core/artwork/names.ts";
import { parseXml, type XmlElement, type XmlText } from "../../../core/artwork/xml.ts";
import { ArtworkError } from "../../../core/errors.ts";
import { escapeXml } from "./escape.ts";
import { type EditorPage, editorPage } from "./page-size.ts";
import { type ResolvedStyles, resolveStyles } from "./styles.ts";
import { isDrawn, isKnown, SVG_NAMESPACE, XLINK_NAMESPACE } from "./vocabulary.ts";

export interface Source {
  /** As it was opened. */
  readonly text: string;
  readonly root: XmlElement;
  /** By key. */
  readonly elements: readonly XmlElement[];
  readonly page: EditorPage;
  readonly styles: ResolvedStyles;
  /** What the editor is given. */
  readonly prepared: string;
  /** Ids that elements were given because they had none, or one that was taken. */
  readonly idOf: ReadonlyMap<XmlElement, string>;
  /** Attributes of what the editor is given, before it drops any. */
  readonly given: ReadonlyMap<XmlElement, ReadonlyMap<string, string>>;
}

/** On every element that the editor is given, until it is loaded. */
export const KEY = "data-tuck-key";
/** On the layers that loose elements are put into, until they are loaded. */
export const RUN = "data-tuck-run";

/**
 * @param measure the box around all that is drawn, in user units: asked for only where the root has no size
 * @throws ArtworkError where the text is no SVG drawing, with line and column
 */
export function readSource(text: string, measure: (svgText: string) => DOMRect | null): Source {
  const root = parseXml(text);
  if (root.name !== "svg" || root.namespace !== SVG_NAMESPACE)
    throw new ArtworkError(`The file is no SVG drawing: it begins with <${root.name}>.`, root);
  const elements = keyed(root);
  const keyOf = new Map(elements.map((element, key) => [element, key]));
  const styles = resolveStyles(root, keyOf);
  const idOf = missingIds(elements, root);
  const given = new Map(elements.map((element) => [element, attributesFor(element, styles, idOf)]));
  const markup = new Markup(keyOf, given);
  const page = editorPage(root, () => measure(markup.root(root, null)));
  return { text, root, elements, page, styles, idOf, given, prepared: markup.root(root, page) };
}

/** All that the editor is to see, the root first. */
function keyed(element: XmlElement, found: XmlElement[] = []): XmlElement[] {
  found.push(element);
  if (element.name !== "metadata")
    for (const child of element.children) if (child.type === "element" && isKnown(child)) keyed(child, found);
  return found;
}

function missingIds(elements: readonly XmlElement[], root: XmlElement): Map<XmlElement, string> {
  const { nameOf } = nameElements(root);
  const taken = new Set(elements.map(({ attributes }) => attributes.id));
  const ids = new Map<XmlElement, string>();
  for (const element of elements) {
    // Own layers have no names, and need no ids.
    const name = nameOf.get(element);
    if (element === root || !isDrawn(element) || name === undefined || name === element.attributes.id)
      continue;
    let id = name;
    for (let n = 2; taken.has(id); n++) id = `${name}~${n}`;
    taken.add(id);
    ids.set(element, id);
  }
  return ids;
}

/** As the editor is to have them: the style worked out, no references to other files, no handlers. */
function attributesFor(
  element: XmlElement,
  styles: ResolvedStyles,
  idOf: ReadonlyMap<XmlElement, string>,
): Map<string, string> {
  const attributes = new Map<string, string>();
  for (const [name, value] of Object.entries(element.attributes)) {
    if (name === "style" || name.startsWith("on") || name === "xmlns" || name.startsWith("xmlns:")) continue;
    const plain = name === "xlink:href" ? "href" : name;
    if (plain.includes(":") && plain !== "xml:space") continue;
    if (plain === "href" && !/^(#|data:image\/)/.test(value.trim())) continue;
    if (plain === "href" && name !== "href" && "href" in element.attributes) continue;
    attributes.set(plain, value);
  }
  for (const [property, value] of styles.of.get(element) ?? []) attributes.set(property, value);
  const id = idOf.get(element);
  if (id !== undefined) attributes.set("id", id);
  return attributes;
}

/** Writes what the editor is given. */
class Markup {
  readonly #keyOf: ReadonlyMap<XmlElement, number>;
  readonly #given: ReadonlyMap<XmlElement, ReadonlyMap<string, string>>;

  constructor(
    keyOf: ReadonlyMap<XmlElement, number>,
    given: ReadonlyMap<XmlElement, ReadonlyMap<string, string>>,
  ) {
    this.#keyOf = keyOf;
    this.#given = given;
  }

  root(root: XmlElement, page: EditorPage | null): string {
    const size =
      page === null
        ? 'width="100" height="100"'
        : `width="${page.width}" height="${page.height}" viewBox="0 0 ${page.width} ${page.height}"`;
    const parts: string[] = [];
    let run: string[] = [];
    let runs = 0;
    const flush = (): void => {
      if (run.length > 0)
        parts.push(
          `<g class="layer" ${RUN}="${runs}"${shiftOf(page, "")}><title>${runTitle(runs++)}</title>${run.join("")}</g>`,
        );
      run = [];
    };
    for (const child of root.children) {
      if (child.type === "text" || !isKnown(child)) continue;
      if (!isDrawn(child)) parts.push(this.#element(child));
      else if (isLayer(child)) {
        flush();
        parts.push(this.#element(child, page));
      } else run.push(this.#element(child));
    }
    flush();
    return `<svg xmlns="${SVG_NAMESPACE}" xmlns:xlink="${XLINK_NAMESPACE}" ${size} ${KEY}="0">${parts.join("")}</svg>`;
  }

  #element(element: XmlElement, shiftedBy: EditorPage | null = null): string {
    const attributes = [...(this.#given.get(element) ?? [])]
      .filter(([name]) => shiftedBy === null || name !== "transform")
      .map(([name, value]) => ` ${name}="${escapeXml(value)}"`)
      .join("");
    const shift = shiftedBy === null ? "" : shiftOf(shiftedBy, element.attributes.transform ?? "");
    const content =
      element.name === "metadata" || element.name === "style" ? "" : this.#children(element.children);
    return `<${element.name} ${KEY}="${this.#keyOf.get(element)}"${attributes}${shift}>${content}</${element.name}>`;
  }

  #children(children: XmlElement["children"]): string {
    return children
      .map((child: XmlElement | XmlText) => {
        if (child.type === "text") return escapeXml(child.text);
        return isKnown(child) ? this.#element(child) : "";
      })
      .join("");
  }
}

export const isLayer = ({ name, attributes }: XmlElement): boolean =>
  name === "g" && (attributes.class ?? "").split(/\s+/).includes("layer");

export const runTitle = (run: number): string => (run === 0 ? "Drawing" : `Drawing ${run + 1}`);

/** The `transform` attribute of a layer, moved so that the page begins at 0 0. */
function shiftOf(page: EditorPage | null, transform: string): string {
  const moved = page === null ? transform : `${page.shift}${transform === "" ? "" : ` ${transform}`}`.trim();
  return moved === "" ? "" : ` transform="${escapeXml(moved)}"`;
}
