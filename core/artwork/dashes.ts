/** Cuts a line into its dashes (SVG 2, 13.5.6). */
import { norm } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import type { FlatSubpath } from "./flatten.ts";

export interface Dash {
  readonly line: FlatSubpath;
  /** Where the line runs at the dash: it tells how a dash without length is turned. */
  readonly direction: Point;
}

/**
 * The dashes of one subpath, in order from its start; each subpath begins the pattern anew.
 *
 * @param pattern dash and gap in turn, an even count with a sum above zero, in the line's units
 * @param offset how far into the pattern the line begins; may be negative
 */
export function cutDashes(line: FlatSubpath, pattern: readonly number[], offset: number): Dash[] {
  const points = line.closed ? [...line.points, line.points[0]] : line.points;
  const corners = line.closed ? [...line.corners, true] : line.corners;
  const dashes: Dash[] = [];
  let { index, left } = startOf(pattern, offset);
  let dash: Point[] = [points[0]];
  let dashCorners: boolean[] = [true];

  for (let i = 1; i < points.length; i++) {
    const from = points[i - 1];
    const to = points[i];
    const length = norm(to[0] - from[0], to[1] - from[1]);
    const direction: Point = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
    let walked = 0;
    while (left <= length - walked) {
      walked += left;
      const at: Point = [from[0] + direction[0] * walked, from[1] + direction[1] * walked];
      if (index % 2 === 0) {
        add(dash, dashCorners, at, true);
        dashes.push({ line: { points: dash, corners: dashCorners, closed: false }, direction });
      }
      dash = [at];
      dashCorners = [true];
      index = (index + 1) % pattern.length;
      left = pattern[index];
    }
    left -= length - walked;
    if (index % 2 === 0) add(dash, dashCorners, to, corners[i]);
  }
  if (index % 2 === 0 && dash.length > 1)
    dashes.push({ line: { points: dash, corners: dashCorners, closed: false }, direction: [1, 0] });
  return dashes;
}

/** Which entry of the pattern a line begins in, and how much of that entry is left. */
function startOf(pattern: readonly number[], offset: number): { index: number; left: number } {
  const sum = pattern.reduce((total, length) => total + length, 0);
  let into = ((offset % sum) + sum) % sum;
  let index = 0;
  while (into > 0 && into >= pattern[index] && index < pattern.length - 1) {
    into -= pattern[index];
    index++;
  }
  return { index, left: Math.max(0, pattern[index] - into) };
}

function add(dash: Point[], corners: boolean[], point: Point, corner: boolean): void {
  const last = dash[dash.length - 1];
  if (last[0] === point[0] && last[1] === point[1]) return;
  dash.push(point);
  corners.push(corner);
}
