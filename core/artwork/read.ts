/**
 * SVG text to `Artwork`: what the drawing shows, resolved once, as pieces in millimetres.
 *
 *     parse ▸ elements ─ cascade ▸ styles ─ walk ▸ shapes ─ flatten, outline, clip ▸ pieces
 */
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import { ArtworkError } from "../errors.ts";
import { growBox, joinBoxes } from "../geometry/point.ts";
import type { Box } from "../geometry/types.ts";
import type { Settings } from "../settings.ts";
import { boundsOf } from "./clip.ts";
import { Drawing, isSvg } from "./drawing.ts";
import { greatestStretch, IDENTITY } from "./matrix.ts";
import { NO_OVERRIDES } from "./overrides.ts";
import { withoutLayers } from "./own-layers.ts";
import { pageOf } from "./page.ts";
import { piecesOf } from "./pieces.ts";
import { rectangle } from "./rectangle.ts";
import { INITIAL_STYLE } from "./style.ts";
import type { Artwork } from "./types.ts";
import { type Context, enter, type Shape, shapesWithin } from "./walk.ts";
import { parseXml, type XmlElement } from "./xml.ts";

/**
 * Reads a drawing. Tuckline's own layers in it are not artwork and are passed over; the hash is that of the text
 * without them.
 *
 * @param name what to call the drawing, usually its file's name
 * @throws ArtworkError where the text is no SVG drawing, exceeds a limit, or has no size
 */
export function readArtwork(svgText: string, name: string, settings: Settings): Artwork {
  const root = parseXml(svgText);
  requireSvg(root);
  const drawing = new Drawing(root);
  if (root.namespace === "") noteNamespace(drawing);

  const page = pageOf(drawing, settings, () => drawnBox(drawing));
  const shapes = shapesOfRoot(drawing, {
    ...BARE_CONTEXT,
    toMm: page.userToMm,
    viewportWidth: page.viewportWidth,
    viewportHeight: page.viewportHeight,
    clip: rectangle(0, 0, page.widthMm, page.heightMm, IDENTITY),
    purpose: "paint",
  });
  const pieces = piecesOf(shapes, page.pxToMm, settings, drawing);
  if (pieces.length === 0) noteNothing(drawing);
  return {
    source: { name, sha256: bytesToHex(sha256(utf8ToBytes(withoutLayers(svgText, root)))) },
    size: { widthMm: page.widthMm, heightMm: page.heightMm },
    userToMm: page.userToMm,
    pieces,
    findings: drawing.notes.findings,
  };
}

/** Around the root: nothing declared, nothing clipped, user units for millimetres. */
const BARE_CONTEXT: Context = {
  toMm: IDENTITY,
  style: INITIAL_STYLE,
  viewportWidth: 300,
  viewportHeight: 150,
  clip: null,
  overrides: NO_OVERRIDES,
  opacity: 1,
  prefix: "",
  chain: [],
  groups: [],
  purpose: "measure",
};

function shapesOfRoot(drawing: Drawing, around: Context): Shape[] {
  const inside = enter(drawing.root, around, drawing);
  return inside === null ? [] : shapesWithin(drawing.root, inside, drawing);
}

/** Everything drawn, clips left aside, with user units of the root in place of millimetres. */
export const shapesInUserUnits = (drawing: Drawing): Shape[] => shapesOfRoot(drawing, BARE_CONTEXT);

/** The box around everything drawn, strokes included, in user units. */
function drawnBox(drawing: Drawing): Box {
  const shapes = shapesInUserUnits(drawing);
  return shapes.reduce((box, shape) => {
    const { style, toMm } = shape;
    const reach = style.stroke.kind === "none" ? 0 : (style.strokeWidth / 2) * greatestStretch(toMm);
    return joinBoxes(box, growBox(boundsOf([shape]), reach));
  }, boundsOf([]));
}

function requireSvg(root: XmlElement): void {
  if (root.name === "svg" && isSvg(root)) return;
  throw new ArtworkError(`Not an SVG drawing: its root element is “${root.name}”, not “svg”.`, root);
}

const noteNamespace = (drawing: Drawing): void =>
  drawing.notes.add(
    "no-namespace",
    "info",
    "",
    "The drawing does not declare the SVG namespace; it is read as SVG all the same.",
    'Add xmlns="http://www.w3.org/2000/svg" to its svg element, or save it anew in an editor.',
  );

const noteNothing = (drawing: Drawing): void =>
  drawing.notes.add(
    "nothing-to-sew",
    "warning",
    "",
    "The drawing shows nothing that can be sewn.",
    "Draw shapes with a fill or a stroke inside the page.",
  );
