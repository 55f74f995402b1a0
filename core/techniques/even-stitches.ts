/**
 * Even stitches along a line: where the needle goes down when a polyline is sewn.
 *
 * A *corner* is a vertex that turns by more than 30°: the needle always goes down there. A *stretch* is what
 * lies between two corners. Within a stretch the stitches are alike where the line is straight and become
 * shorter, gradually, where it bends: a chord over an arc of radius R that keeps within d of it is at most
 * √(8·R·d) long (the sagitta formula s = c² / 8R, elementary geometry). So each place asks for a density of
 * stitches, 1 / min(length, √(8·R·d)); their sum over the stretch, rounded up, is the number of stitches, and
 * each stitch takes an equal share of it.
 */
import { FLATTEN_TOLERANCE_MM, SAME_POINT_MM } from "../constants.ts";
import { distance, nearestOnSegment, squaredDistance } from "../geometry/point.ts";
import { arcLengths, pointAlong } from "../geometry/polyline.ts";
import type { Point, Polyline } from "../geometry/types.ts";

/** A vertex that turns by more than this is a corner. Below it a flattened curve of 1.5 mm radius is still one. */
const CORNER_RAD = Math.PI / 6;

/** A stitch strays this far from a curve at most: a quarter of the thread's width, which nobody sees. */
const STRAY_MM = 0.1;

/** And this far from the polyline that stands for the curve, whose facets lie inside it by the tolerance. */
const STRAY_FROM_FACETS_MM = STRAY_MM + FLATTEN_TOLERANCE_MM;

/** The trade calls a stitch below this short: it is avoided where nothing is lost. Common practice, no source. */
const SHORT_MM = 1;

/** What counts as short among stitches of this length; never less than the least worth sewing. */
export const shortFor = (lengthMm: number, minStitchMm: number): number =>
  Math.max(minStitchMm, Math.min(SHORT_MM, lengthMm / 2));

/** Finite points only, none the same as the one before it. The first and the last are kept as they are. */
export function cleanLine(line: Polyline): Point[] {
  const clean: Point[] = [];
  let last: Point | undefined;
  for (const p of line) {
    if (!Number.isFinite(p[0]) || !Number.isFinite(p[1])) continue;
    const kept = clean[clean.length - 1];
    if (kept === undefined || distance(kept, p) > SAME_POINT_MM) clean.push(p);
    last = p;
  }
  if (clean.length > 1 && last !== undefined) clean[clean.length - 1] = last;
  return clean;
}

/** The turn at b on the way from a to c, in radians: 0 straight on, positive clockwise as seen. */
export function turnAt(a: Point, b: Point, c: Point): number {
  const ux = b[0] - a[0];
  const uy = b[1] - a[1];
  const vx = c[0] - b[0];
  const vy = c[1] - b[1];
  return Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
}

/**
 * Needle points along a line, from its first point to its last, both kept exactly.
 *
 * Stitches are at most `lengthMm` long, even between corners, within 0.1 mm of the curve on bends (0.15 mm of its facets), and never
 * shorter than `minStitchMm`: a needle point that would make a shorter one is left out, though the line then
 * strays further or, at a fold, a stitch becomes longer than `lengthMm` by less than `minStitchMm`. Only a line
 * whose two ends are nearer than that to each other, and that goes nowhere in between, gives a short stitch.
 *
 * `shifted` sets the needle points half a stitch off, for a second pass that shares only the corners' holes
 * with the first; a stretch of a single stitch keeps it.
 */
export function stitchAlong(line: Polyline, lengthMm: number, minStitchMm: number, shifted = false): Point[] {
  const path = cleanLine(line);
  if (path.length < 2) return path;
  const lengths = arcLengths(path);
  const knots = cornersOf(path, lengths, minStitchMm);
  const needle: Point[] = [path[0]];
  for (let k = 1; k < knots.length; k++)
    sewStretch(path, lengths, knots[k - 1], knots[k], lengthMm, minStitchMm, shifted, needle);
  return withoutShort(needle, minStitchMm);
}

/** Indices of the ends and of the corners between them, leaving out a corner that is too near to the last one. */
function cornersOf(path: Polyline, lengths: Float64Array, minMm: number): number[] {
  const end = path.length - 1;
  const knots = [0];
  for (let i = 1; i < end; i++) {
    if (Math.abs(turnAt(path[i - 1], path[i], path[i + 1])) <= CORNER_RAD) continue;
    const tooNear =
      lengths[i] - lengths[knots[knots.length - 1]] < minMm || lengths[end] - lengths[i] < minMm;
    if (!tooNear) knots.push(i);
  }
  knots.push(end);
  return knots;
}

/** Appends the needle points of the stretch from vertex `from` to vertex `to`, without its first point. */
function sewStretch(
  path: Polyline,
  lengths: Float64Array,
  from: number,
  to: number,
  lengthMm: number,
  minMm: number,
  shifted: boolean,
  needle: Point[],
): void {
  const shares = stitchShares(path, lengths, from, to, lengthMm, minMm);
  const total = shares[to - from];
  const count = Math.max(1, Math.ceil(total - 1e-9));
  const phase = shifted && count > 1 && (lengths[to] - lengths[from]) / count >= 2 * minMm ? 0.5 : 1;
  let segment = 0;
  let arc = lengths[from];
  for (let k = phase; k < count; k++) {
    const share = (k * total) / count;
    while (shares[segment + 1] < share) segment++;
    const t = (share - shares[segment]) / (shares[segment + 1] - shares[segment]);
    const i = from + segment;
    const next = lengths[i] + (lengths[i + 1] - lengths[i]) * t;
    keepToLine(path, lengths, arc, next, minMm, needle);
    needle.push(pointAlong(path, lengths, next));
    arc = next;
  }
  keepToLine(path, lengths, arc, lengths[to], minMm, needle);
  needle.push(path[to]);
}

/** How many stitches the stretch asks for, summed from its start to each of its vertices. */
function stitchShares(
  path: Polyline,
  lengths: Float64Array,
  from: number,
  to: number,
  lengthMm: number,
  minMm: number,
): Float64Array {
  const shares = new Float64Array(to - from + 1);
  let before = 0;
  for (let i = from; i < to; i++) {
    const after = i + 1 < to ? bendAt(path, lengths, i + 1) : 0;
    const bend = Math.max(before, after);
    const longest = bend === 0 ? lengthMm : Math.sqrt((8 * STRAY_MM) / bend);
    const stitchMm = Math.max(Math.min(lengthMm, longest), Math.min(minMm, lengthMm));
    shares[i - from + 1] = shares[i - from] + (lengths[i + 1] - lengths[i]) / stitchMm;
    before = after;
  }
  return shares;
}

/** Curvature at a vertex, 1/mm: its turn over half the length of the two segments that meet there. */
const bendAt = (path: Polyline, lengths: Float64Array, i: number): number =>
  (2 * Math.abs(turnAt(path[i - 1], path[i], path[i + 1]))) / (lengths[i + 1] - lengths[i - 1]);

/** Where the chord between two arc lengths strays from the line all the same, adds the vertex that is furthest off. */
function keepToLine(
  path: Polyline,
  lengths: Float64Array,
  from: number,
  to: number,
  minMm: number,
  needle: Point[],
): void {
  const a = pointAlong(path, lengths, from);
  const b = pointAlong(path, lengths, to);
  let furthest = STRAY_FROM_FACETS_MM;
  let vertex = -1;
  for (let i = firstAfter(lengths, from); i < path.length && lengths[i] < to; i++) {
    const stray = distance(path[i], nearestOnSegment(path[i], a, b));
    const fits = distance(a, path[i]) >= minMm && distance(path[i], b) >= minMm;
    if (stray > furthest && fits) {
      furthest = stray;
      vertex = i;
    }
  }
  if (vertex === -1) return;
  keepToLine(path, lengths, from, lengths[vertex], minMm, needle);
  needle.push(path[vertex]);
  keepToLine(path, lengths, lengths[vertex], to, minMm, needle);
}

/** Index of the first of the ascending `lengths` that is greater than `s`. */
function firstAfter(lengths: Float64Array, s: number): number {
  let low = 0;
  let high = lengths.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (lengths[middle] <= s) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Leaves out points that make a stitch shorter than `minMm`; the ends stay. */
export function withoutShort(needle: Polyline, minMm: number): Point[] {
  const least = (minMm - 1e-9) ** 2;
  const kept: Point[] = [needle[0]];
  const last = needle[needle.length - 1];
  for (let i = 1; i < needle.length - 1; i++)
    if (squaredDistance(kept[kept.length - 1], needle[i]) >= least) kept.push(needle[i]);
  while (kept.length > 1 && squaredDistance(kept[kept.length - 1], last) < least) kept.pop();
  kept.push(last);
  return kept;
}
