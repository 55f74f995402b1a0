/** What a drawing itself sets with `data-tuck-*`, element by element: for those who ask where a setting comes from. */
import type { Finding } from "../findings.ts";
import { Drawing } from "./drawing.ts";
import { Notes } from "./notes.ts";
import { OVERRIDE_ATTRIBUTES, overridesOn } from "./overrides.ts";
import { guestsIn, isOwn } from "./own-layers.ts";
import { elementsIn } from "./tree.ts";
import { parseXml, type XmlElement } from "./xml.ts";

/** One setting of the drawing’s own: on what, and which. */
export interface DrawnSetting {
  /** Id of the element, or the name it goes by without one. */
  readonly element: string;
  /** A group's holds for all within it that does not set its own. */
  readonly on: "group" | "element";
  readonly attribute: string;
  readonly value: string;
  /** The settings whose place it takes; none for what only elements have. */
  readonly settings: readonly string[];
}

/**
 * All that is set, in document order, and findings about values that are ignored.
 *
 * @throws ArtworkError where the text is not well-formed XML
 */
export function drawnSettings(svgText: string): { drawn: DrawnSetting[]; findings: Finding[] } {
  const drawing = new Drawing(parseXml(svgText));
  const notes = new Notes();
  const drawn: DrawnSetting[] = [];
  const visit = (element: XmlElement): void => {
    if (isOwn(element)) {
      guestsIn(element).forEach(visit);
      return;
    }
    const children = elementsIn(element);
    const name = drawing.nameOf(element);
    const own = overridesOn(element, name, notes);
    for (const { attribute, key, settings } of OVERRIDE_ATTRIBUTES) {
      const value = own[key];
      if (value === undefined) continue;
      const on = children.length > 0 ? "group" : "element";
      drawn.push({ element: name, on, attribute, value: String(value), settings });
    }
    children.forEach(visit);
  };
  visit(drawing.root);
  return { drawn, findings: notes.findings };
}
