/**
 * `clipPath` elements as regions (SVG 2 / CSS Masking 1, 6): the union of what their children outline, by each
 * child's clip-rule, and within the clips of the children and of the clipPath itself.
 */
import { boxOf, joinBoxes } from "../geometry/point.ts";
import { intersect, regionFromRings, union } from "../geometry/region.ts";
import type { Box, Matrix, Region } from "../geometry/types.ts";
import type { Drawing } from "./drawing.ts";
import { flatten } from "./flatten.ts";
import { multiply } from "./matrix.ts";
import { CURVE_TOLERANCE_MM } from "./tolerance.ts";
import { elementsIn } from "./tree.ts";
import type { Context, enter, Shape, shapesOf } from "./walk.ts";
import { withinReach } from "./within-reach.ts";
import type { XmlElement } from "./xml.ts";

/**
 * The region of a clipPath for an element, in millimetres; empty where it clips everything away.
 *
 * @param context of the clipped element, with its transform
 * @param content what the element draws, in its own user units: asked only where the clip is in parts of its box
 * @param collect the walk over an element, handed in because it in turn asks for clips
 */
export function clipRegion(
  clipPath: XmlElement,
  context: Context,
  content: () => Shape[],
  collect: typeof shapesOf,
  step: typeof enter,
  drawing: Drawing,
): Region {
  const box = clipPath.attributes.clipPathUnits === "objectBoundingBox" ? boundsOf(content()) : null;
  if (box !== null && !(box.maxX > box.minX && box.maxY > box.minY)) return [];
  const toMm = box === null ? context.toMm : multiply(context.toMm, fromUnitSquare(box));
  const outside: Context = {
    ...context,
    toMm,
    style: clipPath.parent === null ? context.style : drawing.styleInPlace(clipPath.parent),
    clip: null,
    purpose: "clip",
  };
  const inside = step(clipPath, outside, drawing);
  if (inside === null) return [];
  const regions = elementsIn(clipPath)
    .filter(({ name }) => name !== "g" && name !== "svg")
    .flatMap((child) => collect(child, { ...inside, clip: null }, drawing))
    .map((shape) => shapeRegion(shape, drawing));
  const clip = regions.length === 1 ? regions[0] : union(regions);
  return inside.clip === null ? clip : intersect(clip, inside.clip);
}

function shapeRegion({ outline, toMm, style, clip }: Shape, drawing: Drawing): Region {
  const rings = withinReach(flatten(outline, toMm, CURVE_TOLERANCE_MM).map(({ points }) => points));
  drawing.countPoints(rings.reduce((count, ring) => count + ring.length, 0));
  const region = drawing.mayCross(rings) ? regionFromRings(rings, style.clipRule) : [];
  return clip === null ? region : intersect(region, clip);
}

/** The map from the square between (0, 0) and (1, 1) to a box. */
export const fromUnitSquare = ({ minX, minY, maxX, maxY }: Box): Matrix => [
  maxX - minX,
  0,
  0,
  maxY - minY,
  minX,
  minY,
];

/** A bounding box is taken of curves cut to this share of their size. */
const BOUNDS_STEP = 1e-3;

/** The box around the outlines of shapes (strokes play no part), in the units that they map to. */
export function boundsOf(shapes: readonly Shape[]): Box {
  return shapes.reduce((box, { outline, toMm }) => {
    const rough = boxOf(flatten(outline, toMm, Number.MAX_VALUE).flatMap(({ points }) => points));
    const size = Math.max(rough.maxX - rough.minX, rough.maxY - rough.minY);
    const fine = flatten(outline, toMm, Math.max(size * BOUNDS_STEP, 1e-9));
    return joinBoxes(box, boxOf(fine.flatMap(({ points }) => points)));
  }, boxOf([]));
}
