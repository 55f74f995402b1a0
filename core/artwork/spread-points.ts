/**
 * Places spread evenly over an area, to take a mean over it. Lines are drawn across it at even distances; laid end
 * to end, what of them lies inside is marked off in steps of that same distance. Each place then stands for the same
 * share of the area, and however narrow an area is, it gets its share.
 */
import { boxOf } from "../geometry/point.ts";
import { regionArea, ringsOf } from "../geometry/region.ts";
import type { Point, Region, Ring } from "../geometry/types.ts";

/** About so many places: a mean over them is within some percent of that over the area. */
const PLACES = 400;
/** More lines are not drawn: an area that would need them is hair-thin. */
const MOST_LINES = 200;

/** The angle of the golden section's slope. */
const [COS, SIN] = [Math.cos(Math.atan(0.618)), Math.sin(Math.atan(0.618))];
const turned = ([x, y]: Point): Point => [COS * x + SIN * y, COS * y - SIN * x];
const turnedBack = ([x, y]: Point): Point => [COS * x - SIN * y, COS * y + SIN * x];

/** Places in the region: about 400, at least one unless it is empty. */
export function spreadPoints(region: Region): Point[] {
  const rings = ringsOf(region).map((ring) => ring.map(turned));
  const { minY, maxY } = boxOf(rings.flat());
  if (!(maxY > minY)) return [];
  const step = Math.max(Math.sqrt(regionArea(region) / PLACES), (maxY - minY) / MOST_LINES);
  const lines = Math.max(1, Math.round((maxY - minY) / step));
  const points: Point[] = [];
  let untilNext = step / 2;
  for (let line = 0; line < lines; line++) {
    const y = minY + ((line + 0.5) * (maxY - minY)) / lines;
    for (const [from, to] of spansAt(rings, y)) {
      let x = from + untilNext;
      for (; x < to; x += step) points.push(turnedBack([x, y]));
      untilNext = x - to;
    }
  }
  return points.length > 0 ? points : [region[0].outer[0]];
}

/** From where to where a line across runs inside. */
function spansAt(rings: readonly Ring[], y: number): [from: number, to: number][] {
  const crossings = rings
    .flatMap((ring) =>
      ring.flatMap(([x, py], i) => {
        const [nextX, nextY] = ring[(i + 1) % ring.length];
        return py <= y === nextY <= y ? [] : [x + ((y - py) / (nextY - py)) * (nextX - x)];
      }),
    )
    .sort((a, b) => a - b);
  return Array.from({ length: Math.floor(crossings.length / 2) }, (_, k) => [
    crossings[2 * k],
    crossings[2 * k + 1],
  ]);
}
