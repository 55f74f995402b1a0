/** SVG text to a DOM, by jsdom: what a browser would make of it. */
import { type DomDocument, type DomElement, JSDOM } from "jsdom";

export type { DomDocument, DomElement } from "jsdom";

export const SVG_NAMESPACE = "http://www.w3.org/2000/svg";

export const parseDom = (svgText: string): DomDocument =>
  new JSDOM(svgText, { contentType: "image/svg+xml" }).window.document;

/** Every element that a selector finds, in the order of the drawing. */
export const all = (within: DomElement, selector: string): DomElement[] =>
  Array.from(within.querySelectorAll(selector));

export function one(within: DomElement, selector: string): DomElement {
  const found = within.querySelector(selector);
  if (found === null) throw new Error(`nothing is ${selector}`);
  return found;
}

/** What an editor saves after it worked on the drawing: `edit` changes the DOM, the text comes back anew. */
export function edited(svgText: string, edit: (document: DomDocument) => void): string {
  const dom = new JSDOM(svgText, { contentType: "image/svg+xml" });
  edit(dom.window.document);
  return dom.serialize();
}
