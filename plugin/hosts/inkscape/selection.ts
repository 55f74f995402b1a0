/**
 * The artist's elements that are meant by what is selected: the selected ones themselves, and of Tuckline's own
 * (a marker, a piece's stitches) the elements whose pieces they show.
 */
import { guestsIn, isOwn } from "../../../core/artwork/own-layers.ts";
import { elementsIn } from "../../../core/artwork/tree.ts";
import type { Piece } from "../../../core/artwork/types.ts";
import { parseXml, type XmlElement } from "../../../core/artwork/xml.ts";
import { Refusal } from "./entry.ts";
import { artworkOf } from "./planning.ts";
import { REFUSALS } from "./texts.ts";

/**
 * Their ids, each once, in the order of the selection.
 *
 * @throws Refusal where nothing is selected, or nothing of the artwork
 */
export function artworkSelected(svg: string, selection: readonly string[]): string[] {
  if (selection.length === 0) throw new Refusal(REFUSALS.nothingSelected);
  const root = parseXml(svg);
  const artwork = artworkById(root);
  const meant = selection.flatMap((id) => {
    if (artwork.has(id)) return [id];
    const shown = elementById(root, id)?.attributes["data-tuck-piece"];
    return shown === undefined ? [] : elementOfPiece(svg, shown, artwork);
  });
  if (meant.length === 0) throw new Refusal(REFUSALS.nothingSewn);
  return [...new Set(meant)];
}

/** The artist's elements by id: the first of each. */
export function artworkById(root: XmlElement): ReadonlyMap<string, XmlElement> {
  const found = new Map<string, XmlElement>();
  const visit = (element: XmlElement): void => {
    if (isOwn(element)) {
      guestsIn(element).forEach(visit);
      return;
    }
    const { id } = element.attributes;
    if (id !== undefined && !found.has(id)) found.set(id, element);
    elementsIn(element).forEach(visit);
  };
  visit(root);
  return found;
}

/** Any element of the drawing, whoever drew it. */
export function elementById(root: XmlElement, id: string): XmlElement | undefined {
  if (root.attributes.id === id) return root;
  for (const child of elementsIn(root)) {
    const found = elementById(child, id);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** The artist's element that a piece comes from; of one drawn by a clone, the clone. */
export function elementOf({ id, element }: Pick<Piece, "id" | "element">): string {
  const isDrawnInPlace = id.startsWith(element) && /^(\.|$)/.test(id.slice(element.length));
  return isDrawnInPlace ? element : id.slice(0, id.indexOf("/"));
}

function elementOfPiece(svg: string, id: string, artwork: ReadonlyMap<string, XmlElement>): string[] {
  const piece = artworkOf(svg).pieces.find((one) => one.id === id);
  const element = piece && elementOf(piece);
  return element !== undefined && artwork.has(element) ? [element] : [];
}
