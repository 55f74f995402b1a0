/**
 * Clips and windows may reach beyond anything that polygon sums can work with: `width="1e12"` on an inner `svg` is
 * a way to say «no clip». What is drawn lies within reach, so what of them lies beyond makes no difference.
 */
import { clipRing } from "../geometry/clip-ring.ts";
import type { Box, Ring } from "../geometry/types.ts";
import { MAX_COORDINATE_MM } from "./limits.ts";

const REACH: Box = {
  minX: -MAX_COORDINATE_MM,
  minY: -MAX_COORDINATE_MM,
  maxX: MAX_COORDINATE_MM,
  maxY: MAX_COORDINATE_MM,
};

/** Rings in millimetres, cut to the greatest coordinates; one with a corner at no place at all is left out. */
export const withinReach = (rings: readonly Ring[]): Ring[] =>
  rings
    .filter((ring) => ring.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y)))
    .map((ring) => clipRing(ring, REACH))
    .filter((ring) => ring.length >= 3);
