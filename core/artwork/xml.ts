/**
 * XML text as a tree of plain records. Each element knows where in the text it stands, so that a later step
 * can cut it out or insert beside it without touching another byte.
 *
 * The tokenizer is saxes. Namespaces are resolved here, leniently: an undeclared prefix, common in files that
 * passed through several editors, means «no namespace» and is no error. Simple internal entities of the
 * document type (`<!ENTITY ns_svg "http://…">`, written by desktop editors) are expanded up to a small total
 * size; external ones are never fetched, so that a reference to one is an undefined entity.
 */
import { SaxesParser } from "saxes";
import { ArtworkError } from "../errors.ts";
import { MAX_DEPTH, MAX_ELEMENTS, MAX_ENTITY_TEXT, MAX_TEXT_LENGTH } from "./limits.ts";

export interface XmlText {
  readonly type: "text";
  readonly text: string;
}

export interface XmlElement {
  readonly type: "element";
  /** Local name, without prefix. */
  readonly name: string;
  /** Resolved URI; "" if none. */
  readonly namespace: string;
  /** Keys as written: `href`, `xlink:href`, `data-tuck-angle`. */
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (XmlElement | XmlText)[];
  readonly parent: XmlElement | null;
  /** Offsets into the text: the `<`, just after the `>` of the opening tag, the `<` of the closing tag (`end` where there is none), just after the last `>`. */
  readonly start: number;
  readonly openEnd: number;
  readonly closeStart: number;
  readonly end: number;
  readonly selfClosing: boolean;
  /** Of the `<`, from 1. */
  readonly line: number;
  readonly column: number;
}

type Building = {
  -readonly [K in keyof XmlElement]: K extends "children" ? (XmlElement | XmlText)[] : XmlElement[K];
};

type Prefixes = ReadonlyMap<string, string>;

/**
 * Parses a whole document and returns its root element. Comments and processing instructions are dropped.
 *
 * @throws ArtworkError with line and column where the text is not well-formed XML or exceeds a limit
 */
export function parseXml(text: string): XmlElement {
  if (text.length > MAX_TEXT_LENGTH)
    throw new ArtworkError(`The file is larger than ${MAX_TEXT_LENGTH / 1e6} MB: simplify the drawing.`);
  if (text.trim() === "" || text.trim() === "\uFEFF") throw new ArtworkError("The file is empty.");

  const parser = new SaxesParser();
  const places = new Places(text);
  const open: { element: Building; prefixes: Prefixes }[] = [];
  let root: XmlElement | null = null;
  let count = 0;

  parser.on("error", ({ message }) => {
    throw new ArtworkError(`Not well-formed XML: ${sentence(message)}`, {
      line: parser.line,
      column: parser.column,
    });
  });
  parser.on("doctype", (doctype) => defineEntities(parser.ENTITIES, doctype));
  parser.on("opentag", ({ name, attributes, isSelfClosing }) => {
    const outer = open.at(-1);
    const openEnd = parser.position;
    // A raw «<» can't occur in an attribute, so the nearest one before this tag's end opens it.
    const start = text.lastIndexOf("<", openEnd - 1);
    const place = places.at(start);
    if (++count > MAX_ELEMENTS)
      throw new ArtworkError(`The file has more than ${MAX_ELEMENTS} elements: simplify the drawing.`, place);
    if (open.length >= MAX_DEPTH)
      throw new ArtworkError(`Elements are nested more than ${MAX_DEPTH} deep: ungroup the drawing.`, place);
    const prefixes = declarePrefixes(outer?.prefixes ?? ROOT_PREFIXES, attributes);
    const colon = name.indexOf(":");
    const element: Building = {
      type: "element",
      name: name.slice(colon + 1),
      namespace: prefixes.get(colon < 0 ? "" : name.slice(0, colon)) ?? "",
      attributes,
      children: [],
      parent: outer?.element ?? null,
      start,
      openEnd,
      closeStart: openEnd,
      end: openEnd,
      selfClosing: isSelfClosing,
      ...place,
    };
    outer?.element.children.push(element);
    root ??= element;
    open.push({ element, prefixes });
  });
  parser.on("closetag", () => {
    const closed = open.pop()?.element;
    if (closed === undefined || closed.selfClosing) return;
    closed.end = parser.position;
    closed.closeStart = text.lastIndexOf("<", closed.end - 1);
  });
  const addText = (added: string) => open.at(-1)?.element.children.push({ type: "text", text: added });
  parser.on("text", addText);
  parser.on("cdata", addText);

  parser.write(text).close();
  if (root === null) throw new ArtworkError("The file holds no element: it is not an SVG drawing.");
  return root;
}

const ROOT_PREFIXES: Prefixes = new Map([["xml", "http://www.w3.org/XML/1998/namespace"]]);

function declarePrefixes(outer: Prefixes, attributes: Readonly<Record<string, string>>): Prefixes {
  let declared: Map<string, string> | null = null;
  for (const name in attributes) {
    if (!name.startsWith("xmlns") || (name.length > 5 && name[5] !== ":")) continue;
    declared ??= new Map(outer);
    declared.set(name.slice(6), attributes[name]);
  }
  return declared ?? outer;
}

const ENTITY_DECLARATION = /<!ENTITY\s+([^\s%"'<>]+)\s+(?:"([^"]*)"|'([^']*)')\s*>/g;
const REFERENCE = /&([^#;\s&]+);/g;

/**
 * Defines the internal general entities of a document type. Every expansion draws on one allowance, whether
 * inside another entity (entities built of entities grow exponentially) or in the text.
 */
function defineEntities(entities: Record<string, string>, doctype: string): void {
  let allowance = MAX_ENTITY_TEXT;
  const spend = (value: string): string => {
    allowance -= value.length;
    if (allowance < 0)
      throw new ArtworkError("The entities of the document type expand without end: remove its DOCTYPE.");
    return value;
  };
  for (const [, name, double, single] of doctype.matchAll(ENTITY_DECLARATION)) {
    if (Object.hasOwn(entities, name)) continue;
    const value = (double ?? single).replace(REFERENCE, (whole, inner) => entities[inner] ?? whole);
    Object.defineProperty(entities, name, { get: () => spend(value) });
  }
}

/** The tokenizer's message as a sentence: without its own position, with a capital and one full stop. */
function sentence(message: string): string {
  const bare = message.replace(/^\d+:\d+: /, "").replace(/\.?$/, ".");
  return bare.replace(/\s+/g, " ");
}

/** Line and column of ever later offsets, counted as the text is walked through. */
class Places {
  readonly #text: string;
  #line = 1;
  #lineStart = 0;
  #next: number;

  constructor(text: string) {
    this.#text = text;
    this.#next = text.indexOf("\n");
  }

  at(offset: number): { line: number; column: number } {
    while (this.#next >= 0 && this.#next < offset) {
      this.#line++;
      this.#lineStart = this.#next + 1;
      this.#next = this.#text.indexOf("\n", this.#lineStart);
    }
    return { line: this.#line, column: offset - this.#lineStart + 1 };
  }
}
