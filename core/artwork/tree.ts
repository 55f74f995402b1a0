import type { XmlElement } from "./xml.ts";

/** The child elements, without text. */
export const elementsIn = (element: XmlElement): XmlElement[] =>
  element.children.filter((child) => child.type === "element");

/** The text of an element and of all within it. */
export const textIn = (element: XmlElement): string =>
  element.children.map((child) => (child.type === "text" ? child.text : textIn(child))).join("");
