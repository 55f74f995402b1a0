/**
 * Needle paths inside a fill: the taut string through a stack of rows, and how paths and rows are cut into
 * stitches.
 */
import { distance, lerp, nearestOnSegment } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";

/** A horizontal opening that a path has to pass through. */
export interface Gate {
  readonly y: number;
  readonly left: number;
  readonly right: number;
}

/**
 * The shortest path between two points through gates that lie one after the other, up or down. The string is
 * pulled taut as in the funnel algorithm (D. T. Lee and F. P. Preparata, 1984), here with slopes, since gates are
 * parallel. Returns the bends only, without the two points.
 */
export function tautBends(from: Point, to: Point, gates: readonly Gate[]): Point[] {
  const heading = Math.sign(to[1] - from[1]);
  const between = gates.filter(({ y }) => (y - from[1]) * heading > 1e-6 && (to[1] - y) * heading > 1e-6);
  const goal: Gate = { y: to[1], left: to[0], right: to[0] };
  const bends: Point[] = [];
  let [x, y] = from;
  let next = 0;
  while (next <= between.length) {
    let low = Number.NEGATIVE_INFINITY;
    let high = Number.POSITIVE_INFINITY;
    let lowAt = next;
    let highAt = next;
    let bend = -1;
    for (let i = next; i <= between.length; i++) {
      const gate = i < between.length ? between[i] : goal;
      const dy = Math.abs(gate.y - y);
      const left = (gate.left - x) / dy;
      const right = (gate.right - x) / dy;
      if (left > high) {
        bend = highAt;
        x = between[bend].right;
        break;
      }
      if (right < low) {
        bend = lowAt;
        x = between[bend].left;
        break;
      }
      if (left >= low) {
        low = left;
        lowAt = i;
      }
      if (right <= high) {
        high = right;
        highAt = i;
      }
    }
    if (bend < 0) break;
    y = between[bend].y;
    bends.push([x, y]);
    next = bend + 1;
  }
  return bends;
}

/** The corners of a polyline that it needs to stay within `tolerance` of itself (Douglas and Peucker, 1973). */
export function corners(line: readonly Point[], tolerance: number): Point[] {
  if (line.length < 3) return [...line];
  const first = line[0];
  const last = line[line.length - 1];
  let far = 0;
  let farAt = 0;
  for (let i = 1; i + 1 < line.length; i++) {
    const off = distance(line[i], nearestOnSegment(line[i], first, last));
    if (off > far) {
      far = off;
      farAt = i;
    }
  }
  if (far <= tolerance) return [first, last];
  return [
    ...corners(line.slice(0, farAt + 1), tolerance).slice(0, -1),
    ...corners(line.slice(farAt), tolerance),
  ];
}

/** Equal steps from `a` to `b`, none over `longest`: the points after `a`, up to `b` itself. */
export function evenSteps(a: Point, b: Point, longest: number): Point[] {
  const steps = Math.max(1, Math.ceil(distance(a, b) / longest - 1e-9));
  return Array.from({ length: steps }, (_, i) => (i + 1 === steps ? b : lerp(a, b, (i + 1) / steps)));
}

/**
 * By how many sixteenths of a stitch the penetrations of successive rows are shifted. Found by search: next
 * neighbours lie at least 4/16 apart, rows two apart 3/16, rows three and four apart 2/16; and shifts follow each
 * other so unevenly that no line of penetrations runs on over the rows, straight or slanting. So there are no ribs.
 */
const BRICK = [0, 11, 4, 14, 9, 1, 6, 12, 3, 8, 15, 10, 5, 13, 2, 7];

/** No penetration lies nearer than this to the end of its row, where the rows' own ends already weaken the fabric. */
const NEAR_END_MM = 0.5;

/**
 * Where the needle goes down within a row from `from` to `to`, both left out: on a lattice of the stitch length
 * that all rows share and each shifts by its own part of a stitch. An end piece shorter than a quarter stitch, or
 * than half a millimetre, is evened out with its neighbour. No stitch is longer than `length`.
 */
export function brickPoints(from: number, to: number, row: number, origin: number, length: number): number[] {
  const low = Math.min(from, to);
  const high = Math.max(from, to);
  if (high - low <= length) return [];
  const shift = BRICK[((row % BRICK.length) + BRICK.length) % BRICK.length] / BRICK.length;
  const phase = origin + shift * length;
  const xs: number[] = [];
  for (let j = Math.floor((low - phase) / length) + 1; phase + j * length < high; j++)
    xs.push(phase + j * length);
  const least = Math.min(Math.max(length / 4, NEAR_END_MM), length / 2);
  if (xs.length === 2 && xs[0] - low < least && high - xs[1] < least) return [(low + high) / 2];
  if (xs[0] - low < least) xs[0] = (low + (xs[1] ?? high)) / 2;
  const last = xs.length - 1;
  if (high - xs[last] < least) xs[last] = ((xs[last - 1] ?? low) + high) / 2;
  return from <= to ? xs : xs.reverse();
}
