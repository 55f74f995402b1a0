/**
 * What the artist changed in the editor, written back into the text that was opened. What was not touched keeps
 * every byte. Of an element that was, the changed attributes are set in its own opening tag; what the editor
 * dropped or rewrote on loading is not the artist's change and stays as it was. New elements are written as the
 * editor has them; comments and whatever the editor was not given keep their place before the element they
 * stood before.
 */
import type { XmlElement } from "../../../core/artwork/xml.ts";
import { escapeContent, escapeXml } from "./escape.ts";
import type { LoadedDocument } from "./loaded-document.ts";
import { openingTag, type TagEdits } from "./opening-tag.ts";
import { resizedHeader } from "./page-size.ts";
import type { Source } from "./source.ts";
import { isPresentation } from "./styles.ts";
import { isDrawn, isKnown } from "./vocabulary.ts";

/** The drawing as it is now, as SVG text. */
export function writeBack(document: LoadedDocument): string {
  const { source, content } = document;
  const { text, root } = source;
  const writer = new Writer(document);
  const header = resizedHeader(root, source.page, document.size());
  const openTag = openingTag(text, root, { set: header, setStyle: new Map() }, true);
  return (
    text.slice(0, root.start) +
    openTag +
    writer.content(root, content) +
    closingOf(text, root) +
    text.slice(root.end)
  );
}

function closingOf(text: string, element: XmlElement): string {
  if (!element.selfClosing) return text.slice(element.closeStart, element.end);
  return `</${/^<([^\s/>]+)/.exec(text.slice(element.start, element.openEnd))?.[1]}>`;
}

class Writer {
  readonly #document: LoadedDocument;
  readonly #source: Source;
  /** Of the root's own prefix, where SVG has one (`svg:`). */
  readonly #prefix: string;

  constructor(document: LoadedDocument) {
    this.#document = document;
    this.#source = document.source;
    const { text, root } = document.source;
    this.#prefix = /^<([^\s:/>]+:)/.exec(text.slice(root.start, root.openEnd))?.[1] ?? "";
  }

  /** What stands between the tags of an element that was opened. */
  content(original: XmlElement, now: Element): string {
    const { text } = this.#source;
    const children = this.#document.childrenOf(now);
    const before = this.#document.childrenBefore(now);
    if (isSame(children, before)) return this.#untouched(original);
    if (!isSame(children.filter(isText), before.filter(isText)))
      return children.map((child) => (isText(child) ? escapeContent(child) : this.#any(child))).join("");

    const places = placesIn(original, text);
    const indexOf = new Map(places.leads.map((lead, k) => [lead.before, k]));
    const present = new Set(
      children.flatMap((child) => (isText(child) ? [] : (this.#document.originalOf(child) ?? []))),
    );
    const indent = /^\s*/.exec(places.leads[0]?.text ?? "")?.[0] ?? "";
    const written: string[] = [];
    let passed = 0;
    /** What stood before elements that are gone by now, without the white space around them. */
    const leftBefore = (index: number): void => {
      for (; passed < index; passed++) {
        const lead = places.leads[passed];
        const isKept = lead.kept.length > 0 || lead.text.trim() !== "";
        if (!present.has(lead.before) && isKept) written.push(this.#lead(lead));
      }
    };
    for (const child of children) {
      if (isText(child)) continue;
      const own = this.#document.originalOf(child);
      const index = own?.parent === original ? indexOf.get(own) : undefined;
      if (index !== undefined) {
        leftBefore(index);
        written.push(this.#lead(places.leads[index]), this.#any(child));
      } else if (own === undefined || isDrawn(own) || own.parent !== original)
        written.push(indent, this.#any(child));
    }
    leftBefore(places.leads.length);
    written.push(this.#lead(places.tail));
    return written.join("");
  }

  #untouched(original: XmlElement): string {
    const { text } = this.#source;
    let written = "";
    let from = original.openEnd;
    for (const child of original.children) {
      if (child.type === "text") continue;
      written += text.slice(from, child.start) + this.#original(child);
      from = child.end;
    }
    return written + text.slice(from, original.closeStart);
  }

  #lead(lead: Lead): string {
    let written = "";
    let from = lead.start;
    for (const element of lead.kept) {
      written += this.#source.text.slice(from, element.start) + this.#keptOf(element);
      from = element.end;
    }
    return written + this.#source.text.slice(from, lead.end);
  }

  /** A title or description that the artist took away is gone; other unseen things stay. */
  #keptOf(element: XmlElement): string {
    const now = this.#document.elementOf(element);
    const isGone = now !== undefined && !now.isConnected && /^(title|desc)$/.test(element.name);
    return isGone ? "" : this.#original(element);
  }

  /** An element that was opened, with what was changed in it. */
  #original(original: XmlElement): string {
    const { text } = this.#source;
    const now = this.#document.elementOf(original);
    if (now === undefined || !isKnown(original)) return text.slice(original.start, original.end);
    const edits = this.#editsOf(original, now);
    const content =
      original.name === "metadata" || original.name === "style"
        ? text.slice(original.openEnd, original.closeStart)
        : this.content(original, now);
    if (original.selfClosing && content === "") return openingTag(text, original, edits, false);
    return openingTag(text, original, edits, true) + content + closingOf(text, original);
  }

  #any(element: Element): string {
    const original = this.#document.originalOf(element);
    return original === undefined ? this.#fresh(element) : this.#original(original);
  }

  /** An element that was made in the editor. */
  #fresh(element: Element): string {
    const name = this.#prefix + element.localName;
    const attributes = [...this.#document.attributesOf(element)]
      .map(([attribute, value]) => ` ${attribute}="${escapeXml(value)}"`)
      .join("");
    const content = this.#document
      .childrenOf(element)
      .map((child) => (isText(child) ? escapeContent(child) : this.#any(child)))
      .join("");
    return content === "" ? `<${name}${attributes}/>` : `<${name}${attributes}>${content}</${name}>`;
  }

  #editsOf(original: XmlElement, now: Element): TagEdits {
    const before = this.#document.attributesBefore(now);
    const after = this.#document.attributesOf(now);
    const set = new Map<string, string | null>();
    const setStyle = new Map<string, string | null>();
    const styled = this.#source.styles.of.get(original);
    for (const name of new Set([...before.keys(), ...after.keys()])) {
      const value = after.get(name) ?? null;
      if (value === (before.get(name) ?? null)) continue;
      if (isPresentation(name) && styled?.has(name)) setStyle.set(name, value);
      else if (name === "href" && !("href" in original.attributes) && "xlink:href" in original.attributes)
        set.set("xlink:href", value);
      else set.set(name, value);
    }
    const id = this.#source.idOf.get(original);
    if (id !== undefined && !set.has("id")) set.set("id", id);
    return { set, setStyle };
  }
}

const isText = (child: Element | string): child is string => typeof child === "string";

const isSame = (some: readonly unknown[], others: readonly unknown[]): boolean =>
  some.length === others.length && some.every((one, k) => one === others[k]);

/** What stands before a drawn child: text, comments, and elements that are not drawn or not known. */
interface Lead {
  readonly start: number;
  readonly end: number;
  readonly text: string;
  readonly kept: readonly XmlElement[];
  readonly before: XmlElement;
}

function placesIn(original: XmlElement, text: string): { leads: Lead[]; tail: Lead } {
  const leads: Lead[] = [];
  let start = original.openEnd;
  let kept: XmlElement[] = [];
  const lead = (end: number, before: XmlElement): Lead => ({
    start,
    end,
    text: text.slice(start, end),
    kept,
    before,
  });
  for (const child of original.children) {
    if (child.type === "text") continue;
    if (!isKnown(child) || !isDrawn(child)) {
      kept.push(child);
      continue;
    }
    leads.push(lead(child.start, child));
    start = child.end;
    kept = [];
  }
  return { leads, tail: lead(original.closeStart, original) };
}
