/**
 * A plan as layers of the drawing it was made from. The artwork's text stays as it is, byte for byte: all that
 * is added stands right before the root's closing tag, and every white space that is added lies inside an
 * added element, so that `strip` can take it all out again.
 */
import { ROOT_WAS_EMPTY, withoutLayers } from "../artwork/own-layers.ts";
import { SIZE_DECIMALS } from "../artwork/page.ts";
import { parseXml, type XmlElement } from "../artwork/xml.ts";
import type { Plan } from "../plan/types.ts";
import { connectorsLayer } from "./connectors-layer.ts";
import { cutLineLayer } from "./cut-line-layer.ts";
import { findingsLayer } from "./findings-layer.ts";
import type { Drawing } from "./layer.ts";
import { type LayerStates, LEFT_OUT_ATTRIBUTE, leftOutText, readLayerStates } from "./layer-states.ts";
import { markup } from "./markup.ts";
import { pointsLayer } from "./points-layer.ts";
import { sewnPieces } from "./sewn-pieces.ts";
import { stitchesLayer } from "./stitches-layer.ts";
import { plainNumber, userUnits } from "./user-units.ts";

/**
 * The drawing with the plan's layers, in place of any it had before: stitches, connectors, entries and exits,
 * findings, of a patch its cut line, and the sewn size. Writing the same plan again changes nothing.
 *
 * @param svgText the drawing that was planned, with or without layers from an earlier plan
 * @param asked which layers are wanted; what it does not name stays hidden, or left out, where it was
 * @throws ArtworkError where the text is not well-formed XML
 */
export function writeLayers(svgText: string, plan: Plan, asked: LayerStates = {}): string {
  const planned = parseXml(svgText);
  const artwork = withoutLayers(svgText, planned);
  const root = artwork === svgText ? planned : parseXml(artwork);

  const rootName = nameAsWritten(artwork, root);
  const drawing: Drawing = {
    svg: markup(rootName.slice(0, rootName.indexOf(":") + 1)),
    user: userUnits(plan.userToMm),
    states: { ...readLayerStates(planned), ...asked },
  };
  const pieces = sewnPieces(plan);
  const added = [
    sizeRecord(plan, root, drawing),
    stitchesLayer(pieces, drawing),
    connectorsLayer(plan.connectors, drawing),
    pointsLayer(pieces, drawing),
    ...(plan.cutLine === undefined ? [] : [cutLineLayer(plan.cutLine, drawing)]),
    findingsLayer(plan.findings, drawing),
  ].join("");

  return root.selfClosing
    ? `${artwork.slice(0, root.end - 2)}>${added}</${rootName}>${artwork.slice(root.end)}`
    : artwork.slice(0, root.closeStart) + added + artwork.slice(root.closeStart);
}

/** The element's name with its prefix. */
const nameAsWritten = (text: string, element: XmlElement): string =>
  /[^\s/>]+/.exec(text.slice(element.start + 1, element.openEnd))?.[0] ?? "";

/** The drawing's sewn size, which an editor that rewrites the root's width and height would lose. */
function sizeRecord(plan: Plan, root: XmlElement, { svg, states }: Drawing): string {
  const { widthMm, heightMm } = plan.drawnSize ?? plan.size;
  return svg.element("metadata", {
    "data-tuck-role": "size",
    "data-tuck-width-mm": plainNumber(widthMm, SIZE_DECIMALS),
    "data-tuck-height-mm": plainNumber(heightMm, SIZE_DECIMALS),
    [LEFT_OUT_ATTRIBUTE]: leftOutText(states),
    [ROOT_WAS_EMPTY.name]: root.selfClosing ? ROOT_WAS_EMPTY.value : undefined,
  });
}
