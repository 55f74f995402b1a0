/** A step with an arrow key along an outline or a line that may run another way than the arrow. */
import { distance, rotate } from "../../core/geometry/point.ts";
import type { Point } from "../../core/geometry/types.ts";

/** Turns tried, nearest to the arrow first. */
const TURNS_DEG = [0, 40, -40, 75, -75];
/** A step that comes less far than this share of itself has run against an edge. */
const ENOUGH = 0.5;

/**
 * Where a step leads: straight on if the way is free, else along the edge on whichever side of the arrow it leads
 * furthest. It stays where nothing leads that way.
 *
 * @param snap the nearest place that is allowed
 */
export function stepAlong(from: Point, step: Point, snap: (at: Point) => Point): Point {
  const length = distance([0, 0], step);
  let best = from;
  for (const turn of TURNS_DEG) {
    const [dx, dy] = rotate(step, (turn * Math.PI) / 180);
    const to = snap([from[0] + dx, from[1] + dy]);
    const isOnward = (to[0] - from[0]) * step[0] + (to[1] - from[1]) * step[1] > 0;
    if (isOnward && distance(from, to) > distance(from, best)) best = to;
    if (distance(from, best) >= ENOUGH * length) return best;
  }
  return best;
}
