/** What all of reading shares about one drawing: names, styles, references, findings, and what is used up. */
import { ArtworkError } from "../errors.ts";
import type { Ring } from "../geometry/types.ts";
import { MAX_CROSSINGS, MAX_ELEMENTS, MAX_PATH_TEXT, requirePoints } from "./limits.ts";
import { type Names, nameElements } from "./names.ts";
import { Notes } from "./notes.ts";
import { overlappingEdges } from "./overlaps.ts";
import { isOwn } from "./own-layers.ts";
import { type Declared, declaredOn, readSheet, type Sheet } from "./sheet.ts";
import { computeStyle, INITIAL_STYLE, type Style } from "./style.ts";
import { elementsIn } from "./tree.ts";
import type { XmlElement } from "./xml.ts";

export const SVG_NAMESPACE = "http://www.w3.org/2000/svg";

export class Drawing {
  readonly root: XmlElement;
  readonly names: Names;
  readonly notes = new Notes();
  readonly #sheet: Sheet;
  readonly #declared = new Map<XmlElement, Declared>();
  #visits = 0;
  #points = 0;
  #pathText = 0;
  #crossings = 0;

  constructor(root: XmlElement) {
    this.root = root;
    this.names = nameElements(root);
    this.#sheet = readSheet(stylesIn(root), this.notes);
  }

  nameOf(element: XmlElement): string {
    return this.names.nameOf.get(element) ?? element.name;
  }

  declaredOn(element: XmlElement): Declared {
    let declared = this.#declared.get(element);
    if (declared === undefined) {
      declared = declaredOn(element, this.#sheet);
      this.#declared.set(element, declared);
    }
    return declared;
  }

  /** The style of an element where it stands in the document, for what is drawn elsewhere: clips, stops, patterns. */
  styleInPlace(element: XmlElement): Style {
    const parent = element.parent === null ? INITIAL_STYLE : this.styleInPlace(element.parent);
    const lengths = { fontSizePx: parent.fontSizePx, viewportWidth: 0, viewportHeight: 0 };
    return computeStyle(this.declaredOn(element), parent, lengths);
  }

  /**
   * The element that `#id` refers to; `null`, with a finding about the referring element, where it is missing
   * or lies in another file, which is never fetched.
   */
  target(href: string, referrer: string): XmlElement | null {
    const reference = href.trim();
    if (!reference.startsWith("#")) {
      this.notes.add(
        "external-reference",
        "warning",
        referrer,
        `“${referrer}” refers to “${reference.slice(0, 60)}” outside the drawing, which is not fetched.`,
        "Copy what it refers to into the drawing.",
      );
      return null;
    }
    const id = reference.slice(1);
    const found = this.names.byId.get(id) ?? this.names.byId.get(decoded(id));
    if (found !== undefined) return found;
    this.notes.add(
      "missing-reference",
      "warning",
      referrer,
      `“${referrer}” refers to “${reference.slice(0, 60)}”, which is not in the drawing.`,
      "Restore the element it refers to, or remove the reference.",
    );
    return null;
  }

  /** @throws ArtworkError where more elements are drawn than the limit allows */
  countVisit(): void {
    if (++this.#visits > MAX_ELEMENTS)
      throw new ArtworkError(
        `The drawing shows more than ${MAX_ELEMENTS} elements, each copy by “use” counted: simplify it.`,
      );
  }

  /** @throws ArtworkError where more path data are drawn than the limit allows */
  countPathText(length: number): void {
    this.#pathText += length;
    if (this.#pathText > MAX_PATH_TEXT)
      throw new ArtworkError(
        `The drawing has more than ${MAX_PATH_TEXT / 1e6} MB of path data: simplify its paths.`,
      );
  }

  /** @throws ArtworkError where outlines have more points in all than the limit allows */
  countPoints(count: number): void {
    this.#points += count;
    requirePoints(this.#points);
  }

  /**
   * Whether these rings may go into a polygon sum: not where they, with all before them, cross themselves more
   * often than the limit allows.
   */
  mayCross(rings: readonly Ring[]): boolean {
    if (rings.reduce((count, ring) => count + ring.length, 0) < LONG_OUTLINE) return true;
    this.#crossings += overlappingEdges(rings, MAX_CROSSINGS - this.#crossings);
    return this.#crossings < MAX_CROSSINGS;
  }
}

/** Shorter outlines can cross themselves some ten thousand times at most, and are not looked into. */
const LONG_OUTLINE = 200;

function decoded(id: string): string {
  try {
    return decodeURIComponent(id);
  } catch {
    return id;
  }
}

/** `href`, or its older form with a prefix. */
export function hrefOf({ attributes }: XmlElement): string | undefined {
  return attributes.href ?? attributes["xlink:href"];
}

export const isSvg = ({ namespace }: XmlElement): boolean => namespace === SVG_NAMESPACE || namespace === "";

function stylesIn(element: XmlElement): XmlElement[] {
  if (isOwn(element)) return [];
  if (element.name === "style" && isSvg(element)) return [element];
  return elementsIn(element).flatMap(stylesIn);
}
