/**
 * Running stitch: one line of even stitches, sewn from anywhere on it to anywhere on it.
 *
 * All of the line must be sewn, with as little thread as it takes. Line work goes out and back:
 *
 * - On an open line, from the entry to the end that lies on the far side from the exit, along the whole line to
 *   the other end, and back to the exit. What lies between entry and exit is sewn once, the rest twice. No walk
 *   is shorter: whatever lies beyond entry or exit is a dead end, and has to be walked both ways.
 * - On a closed line, once round from the entry, and on to the exit by the shorter way.
 *
 * (This is the route inspection problem on a path and on a ring, where parity gives the answer at once.)
 *
 * A second pass over the same stretch sets its needle points half a stitch off, so that it shares only the
 * corners' holes with the first and the line looks evenly dense.
 */
import { SAME_POINT_MM } from "../constants.ts";
import { distance, lerp, nearestFraction } from "../geometry/point.ts";
import { arcLengths, nearestOnPolyline, slicePolyline } from "../geometry/polyline.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import { cleanLine, stitchAlong } from "./even-stitches.ts";
import type { Stitcher } from "./types.ts";

export interface RunOptions {
  readonly lengthMm: number;
  readonly minStitchMm: number;
}

/** Arc lengths of two places on the line, and the thread beyond its length that it takes to begin and end there. */
interface Ends {
  readonly from: number;
  readonly to: number;
  readonly surplusMm: number;
}

/**
 * Lays a running stitch along `line`; a line that repeats its first point at its end is closed.
 *
 * All stitches are cover: they lie on the visible line. `travelMm` is the thread beyond the line's own length.
 * Entry and exit that are not on the line are joined to it straight. A line shorter than a stitch becomes one
 * stitch of `minStitchMm`, so that something holds. Throws a RangeError if no point of `line` is finite.
 */
export function layRun(line: Polyline, options: RunOptions): Stitcher {
  const path = cleanLine(line);
  if (path.length === 0) throw new RangeError("a running stitch needs a line with a finite point");
  const lengths = arcLengths(path);
  const total = lengths[lengths.length - 1];
  const closed = isClosed(path);
  const endsFor = (entry: Point, exit: Point): Ends =>
    cheapestEnds(arcsAt(path, entry), arcsAt(path, exit), total, closed);

  return {
    snap: (p) => nearestOnPolyline(p, path).point,
    travelMm: (entry, exit) => endsFor(entry, exit).surplusMm,
    stitch(entry, exit) {
      const needle =
        total < options.minStitchMm
          ? singleStitch(path, entry, exit, options.minStitchMm)
          : walk(path, lengths, closed, endsFor(entry, exit), options);
      return [
        {
          role: "cover",
          points: between(entry, needle, exit, options.minStitchMm),
        },
      ];
    },
  };
}

/** Whether a cleaned line ends where it began. */
export const isClosed = (path: Polyline): boolean =>
  path.length > 3 && distance(path[0], path[path.length - 1]) <= SAME_POINT_MM;

/** Every arc length at which the line passes the point that is nearest to `p`: more than one where it crosses itself. */
function arcsAt(path: Polyline, p: Point): number[] {
  const nearest = nearestOnPolyline(p, path).distance;
  const arcs: number[] = [];
  let walked = 0;
  for (let i = 1; i < path.length; i++) {
    const t = nearestFraction(p, path[i - 1], path[i]);
    const length = distance(path[i - 1], path[i]);
    const here = walked + length * t;
    const isNearest = distance(p, lerp(path[i - 1], path[i], t)) <= nearest + SAME_POINT_MM;
    const isNew = arcs.length === 0 || here - arcs[arcs.length - 1] > SAME_POINT_MM;
    if (isNearest && isNew) arcs.push(here);
    walked += length;
  }
  return arcs.length > 0 ? arcs : [0];
}

/** Of the places where a line may be entered and left, the pair that needs the least thread. */
function cheapestEnds(
  entries: readonly number[],
  exits: readonly number[],
  total: number,
  closed: boolean,
): Ends {
  let best: Ends = {
    from: entries[0],
    to: exits[0],
    surplusMm: Number.POSITIVE_INFINITY,
  };
  for (const from of entries) {
    for (const to of exits) {
      const apart = Math.abs(to - from);
      const surplusMm = closed ? Math.min(apart, total - apart) : total - apart;
      if (surplusMm < best.surplusMm) best = { from, to, surplusMm };
    }
  }
  return best;
}

function walk(
  path: Polyline,
  lengths: Float64Array,
  closed: boolean,
  ends: Ends,
  options: RunOptions,
): Point[] {
  const total = lengths[lengths.length - 1];
  const sew = (line: Polyline, shifted: boolean): Point[] =>
    stitchAlong(line, options.lengthMm, options.minStitchMm, shifted);
  const slice = (from: number, to: number): Point[] => slicePolyline(path, lengths, from, to);
  const { from, to } = ends;

  if (closed) {
    const ahead = to >= from ? to - from : to - from + total;
    const forward = ahead <= total - ahead;
    const round = forward
      ? [...slice(from, total), ...slice(0, from)]
      : [...slice(from, 0), ...slice(total, from)];
    const rest = Math.min(ahead, total - ahead);
    const onwards = slicePolyline(cleanLine(round), arcLengths(cleanLine(round)), 0, rest);
    return [...sew(round, false), ...sew(onwards, true)];
  }

  const [first, second] = from <= to ? [0, total] : [total, 0];
  return [
    ...sew(slice(from, first), false),
    ...sew(slice(first, from), true),
    ...sew(slice(from, to), false),
    ...sew(slice(to, second), false),
    ...sew(slice(second, to), true),
  ];
}

/** There and back over a line that is too short for a stitch. */
function singleStitch(path: Polyline, entry: Point, exit: Point, minMm: number): Point[] {
  const from = path[0];
  const to = path[path.length - 1];
  const long = distance(from, to);
  const [ux, uy] = long > SAME_POINT_MM ? [(to[0] - from[0]) / long, (to[1] - from[1]) / long] : [1, 0];
  return [entry, [entry[0] + ux * minMm, entry[1] + uy * minMm], exit];
}

/** The needle points with exactly this entry and exit, without repeats and without short stitches where they join. */
function between(entry: Point, needle: Polyline, exit: Point, minMm: number): Point[] {
  const kept: Point[] = [entry];
  for (const p of needle) if (distance(kept[kept.length - 1], p) >= minMm - 1e-9) kept.push(p);
  if (kept.length === 1) kept.push(furthestFrom(entry, needle));
  while (kept.length > 2 && distance(kept[kept.length - 1], exit) < minMm - 1e-9) kept.pop();
  kept.push(exit);
  return kept;
}

const furthestFrom = (p: Point, points: Polyline): Point =>
  points.reduce((best, q) => (distance(p, q) > distance(p, best) ? q : best));
