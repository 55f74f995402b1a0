/** What the fill and the stroke of a shape cover, in millimetres, within its clip. */
import { regionFromRings } from "../geometry/region.ts";
import type { Region, Ring } from "../geometry/types.ts";
import type { Drawing } from "./drawing.ts";
import { flatten } from "./flatten.ts";
import { MAX_COORDINATE_MM } from "./limits.ts";
import { within } from "./region-parts.ts";
import type { Stroke } from "./stroke.ts";
import { CURVE_TOLERANCE_MM } from "./tolerance.ts";
import type { Shape } from "./walk.ts";

/** What a fill covers: nothing, with a finding, where it can't be worked out. */
export function fillRegion({ outline, toMm, style, clip, name }: Shape, drawing: Drawing): Region {
  const rings = flatten(outline, toMm, CURVE_TOLERANCE_MM)
    .map(({ points }) => points)
    .filter((ring) => ring.length >= 3);
  drawing.countPoints(rings.reduce((count, ring) => count + ring.length, 0));
  return isComputable(rings, name, drawing) ? within(regionFromRings(rings, style.fillRule), clip) : [];
}

/** What all lines of a stroke cover together. */
export const strokeRegion = ({ lines }: Stroke, { clip }: Shape): Region =>
  within(
    regionFromRings(
      lines.flatMap(({ rings }) => rings),
      "nonzero",
    ),
    clip,
  );

/** Whether polygon sums can be done with these rings at all; if not, a finding says why. */
export function isComputable(rings: readonly Ring[], name: string, drawing: Drawing): boolean {
  const fits = rings.every((ring) =>
    ring.every(([x, y]) => Math.abs(x) <= MAX_COORDINATE_MM && Math.abs(y) <= MAX_COORDINATE_MM),
  );
  if (!fits) {
    drawing.notes.add(
      "out-of-range",
      "warning",
      name,
      `“${name}” reaches further than ${MAX_COORDINATE_MM / 1000} m from the drawing; it is left out.`,
      "Bring it back to the drawing’s size in the editor.",
    );
    return false;
  }
  if (drawing.mayCross(rings)) return true;
  drawing.notes.add(
    "too-tangled",
    "warning",
    name,
    `“${name}” crosses itself too often to be worked out; it is left out.`,
    "Simplify its path in the editor.",
  );
  return false;
}
