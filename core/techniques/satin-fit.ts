/**
 * Whether a stroke suits satin. It does unless its line turns more sharply and more often than its width has room
 * for, or a clip has cut away part of what its line and width would paint.
 */
import { distance, lerp, nearestOnSegment } from "../geometry/point.ts";
import { regionArea, regionBox, regionContains } from "../geometry/region.ts";
import type { Point, Region } from "../geometry/types.ts";
import type { Ladder } from "./satin-rungs.ts";

/** The region is looked at in this many places or a little more: 1 % of it is then about one of them. */
const PLACES = 150;

/** Thread lies this near to a rung, counting its own width and the next stitch. */
const NEAR_MM = 0.35;

/** Satin of which less than this lies in the region, or which fills less than this of it, is none. */
const SHARE = 0.97;

/** A rung is looked at this far out from its centre to the stroke's edge: at the edge, a curve's facets would count. */
const OUTWARDS = 0.8;

/** Whether the rungs, laid with this much pull compensation, fill the region and keep within it, but for 3 %. */
export const fitsSatin = (ladder: Ladder, region: Region, pullMm: number): boolean =>
  shareInside(ladder, region, pullMm) >= SHARE && shareFilled(ladder, region) >= SHARE;

/** Share of the rungs' ends, a little in from the rails, that lie in the region. */
function shareInside({ rungs }: Ladder, region: Region, pullMm: number): number {
  const every = Math.max(1, Math.floor(rungs.length / PLACES));
  const inside = (centre: Point, rail: Point): number => {
    const edge = Math.max(0, 1 - pullMm / distance(centre, rail));
    return regionContains(region, lerp(centre, rail, edge * OUTWARDS)) ? 1 : 0;
  };
  let looked = 0;
  let found = 0;
  for (let i = 0; i < rungs.length; i += every) {
    const { centre, left, right } = rungs[i];
    looked += 2;
    found += inside(centre, left) + inside(centre, right);
  }
  return found / looked;
}

/** Share of the region that is near a rung, by looking at it in places on a square grid. */
function shareFilled({ rungs }: Ladder, region: Region): number {
  const step = Math.sqrt(regionArea(region) / PLACES);
  const { minX, minY, maxX, maxY } = regionBox(region);
  let looked = 0;
  let near = 0;
  for (let y = minY + step / 2; y < maxY; y += step) {
    for (let x = minX + step / 2; x < maxX; x += step) {
      const p: Point = [x, y];
      if (!regionContains(region, p)) continue;
      looked++;
      if (rungs.some(({ left, right }) => distance(p, nearestOnSegment(p, left, right)) <= NEAR_MM)) near++;
    }
  }
  return looked === 0 ? 1 : near / looked;
}
