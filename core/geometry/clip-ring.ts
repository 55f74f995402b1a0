/**
 * A ring cut to a box (Sutherland and Hodgman 1974, one side of the box after the other). Where the ring leaves
 * and enters the box more than once, the parts stay joined by edges that run there and back along the box's
 * side and enclose nothing: right for what fills by winding number, not for drawing outlines.
 */
import type { Box, Point, Ring } from "./types.ts";

/** The part of `ring` inside `box`; empty where there is none. Winding is kept. */
export function clipRing(ring: Ring, box: Box): Ring {
  let clipped = ring;
  clipped = clipSide(clipped, 0, box.minX, 1);
  clipped = clipSide(clipped, 0, box.maxX, -1);
  clipped = clipSide(clipped, 1, box.minY, 1);
  return clipSide(clipped, 1, box.maxY, -1);
}

/** Keeps what lies at or beyond `limit` along `axis`, in the direction `sign`. */
function clipSide(ring: Ring, axis: 0 | 1, limit: number, sign: 1 | -1): Ring {
  if (!Number.isFinite(limit)) return ring;
  const kept: Point[] = [];
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [before, here] = [ring[j], ring[i]];
    const wasIn = sign * (before[axis] - limit) >= 0;
    const isIn = sign * (here[axis] - limit) >= 0;
    if (wasIn !== isIn) kept.push(crossing(before, here, axis, limit));
    if (isIn) kept.push(here);
  }
  return kept;
}

function crossing(a: Point, b: Point, axis: 0 | 1, limit: number): Point {
  const t = (limit - a[axis]) / (b[axis] - a[axis]);
  const other = a[1 - axis] + (b[1 - axis] - a[1 - axis]) * t;
  return axis === 0 ? [limit, other] : [other, limit];
}
