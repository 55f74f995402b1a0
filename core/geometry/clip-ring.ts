/**
 * A ring cut to a box (Sutherland and Hodgman 1974, one side of the box after the other). Where the ring leaves
 * and enters the box more than once, the parts stay joined by edges that run there and back along the box's
 * side and enclose nothing: right for what fills by winding number, not for drawing outlines.
 */
import { boxContains, growBox } from "./point.ts";
import { signedArea } from "./polyline.ts";
import { regionBox, ringsOf, unionOfRings } from "./region.ts";
import type { Box, Point, Region, Ring } from "./types.ts";

/** Far less than a thread, and several times what polygon sums round to. */
const HAIR_MM = 1e-3;

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

/** Rings of a well-formed region, outlines one way round and holes the other, and the box round them. */
export interface Cuttable {
  readonly rings: readonly Ring[];
  readonly box: Box;
}

/**
 * All rings of some regions that are to be joined, as far as they lie inside `box` or a little beyond it. Each region
 * is cut a hair further out than the one before: cuts that lie on one line are what sums of polygons spend most of
 * their time on, and enclose nothing. Its holes are cut further out than its outlines, so that a hole's end is no
 * sliver of cover; what they take away beyond the outline winds backwards, which `unionOfRings` leaves empty.
 */
export function ringsWithin(regions: readonly Cuttable[], box: Box): Ring[] {
  return regions.flatMap(({ rings, box: own }, k) => {
    if (boxContains(box, own)) return rings;
    const forOutlines = growBox(box, 2 * k * HAIR_MM);
    const forHoles = growBox(forOutlines, HAIR_MM);
    return rings.map((ring) => clipRing(ring, signedArea(ring) > 0 ? forOutlines : forHoles));
  });
}

/** What of the region lies in the box or a little beyond it: what is asked near the middle of a large region costs less. */
export function regionWithin(region: Region, box: Box): Region {
  const own = regionBox(region);
  return boxContains(box, own)
    ? region
    : unionOfRings(ringsWithin([{ rings: ringsOf(region), box: own }], box));
}
