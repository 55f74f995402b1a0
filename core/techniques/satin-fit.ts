/**
 * Whether a stroke suits satin. It does unless its line turns more sharply and more often than its width has room
 * for, or a clip has cut away part of what its line and width would paint.
 */
import { distance, lerp, nearestOnSegment, squaredDistance } from "../geometry/point.ts";
import { signedArea } from "../geometry/polyline.ts";
import { regionArea, regionBox, regionContains } from "../geometry/region.ts";
import type { Point, Region } from "../geometry/types.ts";
import { turnAt } from "./even-stitches.ts";
import type { Ladder } from "./satin-rungs.ts";

/** The region is looked at in this many places or a little more: 1 % of it is then about one of them. */
const PLACES = 150;

/** So many rungs are looked at, evenly along the line: what a clip cuts off is more than 3 % of it or not worth a fill. */
const RUNGS = 25;

/** Thread lies this near to a rung, counting its own width and the next stitch. */
const NEAR_MM = 0.35;

/** Satin of which less than this lies in the region, or which fills less than this of it, is none. */
const SHARE = 0.97;

/** A rung is looked at this far out from its centre to the stroke's edge: at the edge, a curve's facets would count. */
const OUTWARDS = 0.8;

/** With less turning than this, radians per half width of line, rungs fill a stroke: there is no need to look. */
const CALM_RAD = 0.5;

/** A stroke that turns and turns lies over itself. As satin it would be stiff and its travel show, beyond this. */
const LAYERS = 1.7;

/**
 * Whether rungs across a stroke of this width, laid with this much pull compensation, fill the region and keep
 * within it, but for 3 %, without lying over each other too much.
 */
export const fitsSatin = (ladder: Ladder, region: Region, widthMm: number, pullMm: number): boolean =>
  shareInside(ladder, region, pullMm) >= SHARE &&
  (turningIn(ladder, widthMm / 2) <= CALM_RAD ||
    (shareFilled(ladder, region) >= SHARE && areaSwept(ladder) <= LAYERS * regionArea(region)));

/** How much the line turns, either way, in a stretch of `mm` on average; radians. */
function turningIn({ line, lengths }: Ladder, mm: number): number {
  let turns = 0;
  for (let i = 2; i < line.length; i++) turns += Math.abs(turnAt(line[i - 2], line[i - 1], line[i]));
  return (turns * mm) / lengths[lengths.length - 1];
}

/** Share of the rungs' ends, a little in from the rails, that lie in the region. */
function shareInside({ rungs }: Ladder, region: Region, pullMm: number): number {
  const every = Math.max(1, Math.floor(rungs.length / RUNGS));
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
export function shareFilled({ rungs }: Ladder, region: Region): number {
  const step = Math.sqrt(regionArea(region) / PLACES);
  const { minX, minY, maxX, maxY } = regionBox(region);
  let looked = 0;
  let near = 0;
  for (let y = minY + step / 2; y < maxY; y += step) {
    for (let x = minX + step / 2; x < maxX; x += step) {
      const p: Point = [x, y];
      if (!regionContains(region, p)) continue;
      looked++;
      if (
        rungs.some(({ left, right }) => squaredDistance(p, nearestOnSegment(p, left, right)) <= NEAR_MM ** 2)
      )
        near++;
    }
  }
  return looked === 0 ? 1 : near / looked;
}

/** The area between each rung and the next, summed; what is swept twice counts twice. */
export function areaSwept({ rungs }: Ladder): number {
  let area = 0;
  for (let i = 1; i < rungs.length; i++) {
    const [a, b] = [rungs[i - 1], rungs[i]];
    area += Math.abs(signedArea([a.left, b.left, b.right, a.right]));
  }
  return area;
}
