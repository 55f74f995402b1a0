import { distance, lerp, nearestFraction } from "./point.ts";

import type { Point, Polyline, Ring } from "./types.ts";

export function polylineLength(line: Polyline): number {
  let length = 0;
  for (let i = 1; i < line.length; i++) length += distance(line[i - 1], line[i]);
  return length;
}

/** A ring as a polyline that ends where it began. */
export const closeRing = (ring: Ring): Polyline => (ring.length === 0 ? ring : [...ring, ring[0]]);

/** Shoelace area: positive for an outer ring in x right, y down. */
export function signedArea(ring: Ring): number {
  let twice = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    twice += (ring[j][0] - ring[i][0]) * (ring[i][1] + ring[j][1]);
  }
  return twice / 2;
}

/** Distance along the polyline from its start to each of its points. */
export function arcLengths(line: Polyline): Float64Array {
  const lengths = new Float64Array(line.length);
  for (let i = 1; i < line.length; i++) lengths[i] = lengths[i - 1] + distance(line[i - 1], line[i]);
  return lengths;
}

/** Index i of the segment (i, i + 1) that holds arc length `s`, found by bisection; there must be one segment. */
export function segmentAt(lengths: Float64Array, s: number): number {
  let low = 0;
  let high = lengths.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (lengths[middle] <= s) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** The point `s` along a polyline; `s` outside its length is clamped. `lengths` are its `arcLengths`. */
export function pointAlong(line: Polyline, lengths: Float64Array, s: number): Point {
  if (line.length === 1) return line[0];
  const i = segmentAt(lengths, s);
  const length = lengths[i + 1] - lengths[i];
  const t = length === 0 ? 0 : (s - lengths[i]) / length;
  return lerp(line[i], line[i + 1], Math.min(1, Math.max(0, t)));
}

/** The stretch of a polyline from arc length `from` to `to`; reversed where `from` is greater. */
export function slicePolyline(line: Polyline, lengths: Float64Array, from: number, to: number): Point[] {
  const low = Math.min(from, to);
  const high = Math.max(from, to);
  const slice: Point[] = [pointAlong(line, lengths, low)];
  for (let i = 0; i < line.length; i++) if (lengths[i] > low && lengths[i] < high) slice.push(line[i]);
  slice.push(pointAlong(line, lengths, high));
  return from <= to ? slice : slice.reverse();
}

export interface Nearest {
  readonly point: Point;
  readonly distance: number;
  /** Arc length from the start of the polyline. */
  readonly along: number;
}

/** Where a polyline comes nearest to `p`. The first such place wins a tie. */
export function nearestOnPolyline(p: Point, line: Polyline): Nearest {
  let best = Number.POSITIVE_INFINITY;
  let segment = 0;
  let fraction = 0;
  for (let i = 1; i < line.length; i++) {
    const a = line[i - 1];
    const b = line[i];
    const t = nearestFraction(p, a, b);
    const dx = a[0] + (b[0] - a[0]) * t - p[0];
    const dy = a[1] + (b[1] - a[1]) * t - p[1];
    const d = dx * dx + dy * dy;
    if (d < best) [best, segment, fraction] = [d, i, t];
  }
  if (segment === 0)
    return { point: line[0], distance: line.length === 1 ? distance(p, line[0]) : best, along: 0 };
  const [a, b] = [line[segment - 1], line[segment]];
  let along = 0;
  for (let i = 1; i < segment; i++) along += distance(line[i - 1], line[i]);
  return {
    point: lerp(a, b, fraction),
    distance: Math.sqrt(best),
    along: along + distance(a, b) * fraction,
  };
}

/** Centre of a ring's area; of a ring without area, the middle of its points. */
export function ringCentroid(ring: Ring): Point {
  let twice = 0;
  let x = 0;
  let y = 0;
  const [ox, oy] = ring[0];
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [ax, ay] = [ring[j][0] - ox, ring[j][1] - oy];
    const [bx, by] = [ring[i][0] - ox, ring[i][1] - oy];
    const cross = ax * by - bx * ay;
    twice += cross;
    x += (ax + bx) * cross;
    y += (ay + by) * cross;
  }
  if (Math.abs(twice) < 1e-12) {
    return [
      ring.reduce((sum, p) => sum + p[0], 0) / ring.length,
      ring.reduce((sum, p) => sum + p[1], 0) / ring.length,
    ];
  }
  return [ox + x / (3 * twice), oy + y / (3 * twice)];
}
