/** What reading does with finished regions: keep them within a clip, and put their polygons in a settled order. */
import { boxContains, boxOf } from "../geometry/point.ts";
import { signedArea } from "../geometry/polyline.ts";
import { intersect, regionBox } from "../geometry/region.ts";
import type { Box, Point, Polygon, Region, Ring } from "../geometry/types.ts";

/**
 * Islands and holes smaller than this are left out: a square of half the thread's width squared, which no
 * stitch can show. Common practice, no source.
 */
export const SMALLEST_AREA_MM2 = 0.05;

/** The part of a region within a clip (`null`: everywhere). The region itself where nothing is cut off. */
export function within(region: Region, clip: Region | null): Region {
  if (clip === null || region.length === 0) return region;
  return isBoxAround(clip, regionBox(region)) ? region : intersect(region, clip);
}

/** Whether a clip is an upright rectangle that holds the box: most clips are, and need no polygon sums. */
function isBoxAround(clip: Region, box: Box): boolean {
  if (clip.length !== 1 || clip[0].holes.length > 0 || clip[0].outer.length !== 4) return false;
  const { outer } = clip[0];
  const around = boxOf(outer);
  const upright = outer.every(
    ([x, y]) => (x === around.minX || x === around.maxX) && (y === around.minY || y === around.maxY),
  );
  return upright && boxContains(around, box);
}

export interface Islands {
  readonly kept: readonly Polygon[];
  /** How many were too small. */
  readonly dropped: number;
}

/**
 * The polygons of a region from top to bottom, then left to right, each ring from its topmost point on: so that
 * neither the direction nor the start of the path that made them matters. Holes too small to stay open go.
 */
export function islandsOf(region: Region): Islands {
  const kept = region
    .filter(({ outer }) => signedArea(outer) >= SMALLEST_AREA_MM2)
    .map(({ outer, holes }) => ({
      outer: fromTop(outer),
      holes: holes
        .filter((hole) => -signedArea(hole) >= SMALLEST_AREA_MM2)
        .map(fromTop)
        .sort(byTop),
    }))
    .sort((a, b) => byTop(a.outer, b.outer));
  return { kept, dropped: region.length - kept.length };
}

const isAbove = (a: Point, b: Point): boolean => a[1] < b[1] || (a[1] === b[1] && a[0] < b[0]);

function fromTop(ring: Ring): Ring {
  let top = 0;
  for (let i = 1; i < ring.length; i++) if (isAbove(ring[i], ring[top])) top = i;
  return top === 0 ? ring : [...ring.slice(top), ...ring.slice(0, top)];
}

const byTop = (a: Ring, b: Ring): number => a[0][1] - b[0][1] || a[0][0] - b[0][0];
