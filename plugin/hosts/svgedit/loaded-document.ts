/**
 * A drawing in the editor: the source, the editor's tree, which element of one is which of the other, and how
 * everything was when it had just been loaded, so that changes can be told from what the editor did by itself.
 */
import type { XmlElement } from "../../../core/artwork/xml.ts";
import { KEY, RUN, type Source } from "./source.ts";
import type { EditorDrawing, SvgCanvas } from "./svgedit-types.ts";
import { isDrawnName } from "./vocabulary.ts";

interface Snapshot {
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly (Element | string)[];
}

export class LoadedDocument {
  readonly source: Source;
  readonly content: SVGSVGElement;
  readonly #canvas: SvgCanvas;
  readonly #originals = new Map<Element, XmlElement>();
  readonly #elements = new Map<XmlElement, Element>();
  readonly #snapshots = new Map<Element, Snapshot>();
  /** Groups that are there for the editor's sake alone, and the texts within when they were made. */
  readonly #wrappers = new Map<Element, { readonly attributes: string; readonly title: string }>();
  /** Kept while another document is shown; the editor's own are told when it changes. */
  drawing: EditorDrawing;
  #size: { readonly width: number; readonly height: number };

  /** Of what the canvas holds right after it loaded `source.prepared`. */
  constructor(source: Source, canvas: SvgCanvas) {
    this.source = source;
    this.content = canvas.getSvgContent();
    this.#canvas = canvas;
    this.drawing = canvas.current_drawing_;
    this.#size = { width: canvas.contentW, height: canvas.contentH };
    this.#recognise(this.content);
    for (const [element, original] of this.#originals) this.#restore(element, original);
    for (const element of this.content.querySelectorAll("g")) this.#noteWrapper(element);
    for (const element of [this.content, ...this.#originals.keys()])
      this.#snapshots.set(element, {
        attributes: this.attributesOf(element),
        children: this.childrenOf(element),
      });
  }

  originalOf(element: Element): XmlElement | undefined {
    return this.#originals.get(element);
  }

  elementOf(original: XmlElement): Element | undefined {
    return this.#elements.get(original);
  }

  /** The page's size in user units. */
  size(): { readonly width: number; readonly height: number } {
    return this.isShown() ? { width: this.#canvas.contentW, height: this.#canvas.contentH } : this.#size;
  }

  isShown(): boolean {
    return this.#canvas.getSvgContent() === this.content;
  }

  /** To be called when another document takes the canvas. */
  leave(): void {
    this.#size = this.size();
    this.drawing = this.#canvas.current_drawing_;
  }

  attributesBefore(element: Element): ReadonlyMap<string, string> {
    return this.#snapshots.get(element)?.attributes ?? new Map();
  }

  childrenBefore(element: Element): readonly (Element | string)[] {
    return this.#snapshots.get(element)?.children ?? [];
  }

  /** As the drawing is to have them: without what the editor sets for itself. */
  attributesOf(element: Element): Map<string, string> {
    const attributes = new Map<string, string>();
    const isOriginal = this.#originals.has(element);
    for (const { name, value } of element.attributes) {
      if (name === KEY || name === RUN || name.startsWith("xmlns") || name.startsWith("se:")) continue;
      if (name === "class" && value.startsWith("se_")) continue;
      if (name === "style") {
        const style = value.replace(/(^|;)\s*pointer-events\s*:[^;]*/g, "").replace(/^;|\s+$/g, "");
        if (!isOriginal && style !== "") attributes.set(name, style);
      } else attributes.set(name, value);
    }
    this.#withoutDimming(element, attributes);
    if (element.parentNode === this.content && isDrawnName(element.localName)) this.#withoutShift(attributes);
    return attributes;
  }

  /** Elements, and texts that are more than white space; groups that are not the artist's are passed through. */
  childrenOf(element: Element): (Element | string)[] {
    const children: (Element | string)[] = [];
    for (const node of element.childNodes) {
      if (node instanceof Element) {
        if (this.#isTransparent(node)) children.push(...this.#insideWrapper(node));
        else if (this.#originals.has(node) || !saysNothing(node)) children.push(node);
      } else if (node.nodeType !== Node.COMMENT_NODE && node.nodeValue?.trim()) children.push(node.nodeValue);
    }
    return children;
  }

  #recognise(element: Element): void {
    const original = this.source.elements[Number(element.getAttribute(KEY) ?? Number.NaN)];
    if (original !== undefined) {
      this.#originals.set(element, original);
      this.#elements.set(original, element);
      element.removeAttribute(KEY);
    }
    for (const child of element.children) this.#recognise(child);
  }

  /** What the editor dropped, though it shows it well when it is simply there. */
  #restore(element: Element, original: XmlElement): void {
    for (const [name, value] of this.source.given.get(original) ?? [])
      if (!element.hasAttribute(name) && isHarmless(name, value, element)) element.setAttribute(name, value);
  }

  #noteWrapper(element: Element): void {
    if (this.#originals.has(element)) return;
    element.removeAttribute(RUN);
    this.#wrappers.set(element, { attributes: attributeText(element), title: titleOf(element) });
  }

  #isTransparent(element: Element): boolean {
    const before = this.#wrappers.get(element);
    return before?.attributes === attributeText(element) && before.title === titleOf(element);
  }

  #insideWrapper(wrapper: Element): (Element | string)[] {
    return this.childrenOf(wrapper).filter(
      (child) => typeof child === "string" || child.localName !== "title" || this.#originals.has(child),
    );
  }

  /** While a group is edited from inside, the editor dims what lies outside. */
  #withoutDimming(element: Element, attributes: Map<string, string>): void {
    const storage = this.#canvas.getDataStorage();
    if (!storage.has(element, "orig_opac")) return;
    const opacity = storage.get(element, "orig_opac");
    if (typeof opacity === "string") attributes.set("opacity", opacity);
    else attributes.delete("opacity");
  }

  /** The transform of a top-level element as it is on the drawing's own page. */
  #withoutShift(attributes: Map<string, string>): void {
    const { shift, x, y } = this.source.page;
    if (shift === "") return;
    const transform = attributes.get("transform") ?? "";
    const own = transform.startsWith(shift)
      ? transform.slice(shift.length).trim()
      : `translate(${x} ${y}) ${transform}`.trim();
    if (own === "") attributes.delete("transform");
    else attributes.set("transform", own);
  }
}

/** The editor makes `defs` before it needs them, and our `metadata` may have lost what it was made for. */
const saysNothing = (element: Element): boolean =>
  !isDrawnName(element.localName) && element.childNodes.length === 0 && element.attributes.length === 0;

const titleOf = (element: Element): string =>
  [...element.children].find(({ localName }) => localName === "title")?.textContent ?? "";

/** Attributes that say something of the drawing; what the editor sets while it works is passed over. */
const attributeText = (element: Element): string =>
  [...element.attributes]
    .filter(({ name }) => name !== "style" && name !== "opacity" && name !== "id")
    .map(({ name, value }) => `${name}=${value}`)
    .sort()
    .join("\n");

function isHarmless(name: string, value: string, element: Element): boolean {
  if (name.startsWith("on") || name === "href" || name === "xml:space") return false;
  // The editor owns the root's place and size.
  if (
    element.id === "svgcontent" &&
    /^(width|height|x|y|viewBox|id|overflow|preserveAspectRatio)$/.test(name)
  )
    return false;
  return !/url\(\s*['"]?[^#'")\s]/i.test(value);
}
