/**
 * The artist's elements that are meant by what is selected: the selected ones themselves, and of Tuckline's own
 * (a marker, a piece's stitches) the elements whose pieces they show.
 */
import { readArtwork } from "../../../core/artwork/read.ts";
import { elementsIn } from "../../../core/artwork/tree.ts";
import { parseXml, type XmlElement } from "../../../core/artwork/xml.ts";
import { Refusal } from "./entry.ts";
import { nameOf } from "./planning.ts";
import { artworkById } from "./set-attributes.ts";
import { settingsIn } from "./settings.ts";
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

/** Any element of the drawing, whoever drew it. */
export function elementById(root: XmlElement, id: string): XmlElement | undefined {
  if (root.attributes.id === id) return root;
  for (const child of elementsIn(root)) {
    const found = elementById(child, id);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** The element that a piece comes from; of one drawn by a clone, the clone. */
function elementOfPiece(svg: string, id: string, artwork: ReadonlyMap<string, XmlElement>): string[] {
  const piece = readArtwork(svg, nameOf(svg), settingsIn(svg)).pieces.find((one) => one.id === id);
  const element = id.includes("/") ? id.slice(0, id.indexOf("/")) : piece?.element;
  return element !== undefined && artwork.has(element) ? [element] : [];
}
