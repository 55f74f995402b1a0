/**
 * Running stitch: one line of even stitches, sewn from anywhere on it to anywhere on it.
 *
 * All of the line is sewn, everywhere at least `passes` times, with as little thread as that takes:
 *
 * - On an open line an even number of passes lies beyond the entry and beyond the exit, for there every way out is
 *   also a way back, and an odd number between them.
 * - On a closed line, `passes` times round from the entry, and on to the exit by the shorter way.
 *
 * (This is the route inspection problem on a path and on a ring, where parity gives the answer at once.) With two
 * passes, the line goes out and back, and looks the same all along where it ends where it began.
 *
 * Every second pass over the same stretch sets its needle points half a stitch off, so that it shares only the
 * corners' holes with the one before and the line looks evenly dense.
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
  /** How often every stretch is sewn at least: a whole number from 1, the default. */
  readonly passes?: number;
}

/** Arc lengths of two places on the line, and the thread beyond all its passes that it takes to begin and end there. */
interface Ends {
  readonly from: number;
  readonly to: number;
  readonly surplusMm: number;
}

/**
 * Lays a running stitch along `line`; a line that repeats its first point at its end is closed.
 *
 * All stitches are cover: they lie on the visible line. `travelMm` is the thread beyond `passes` times the line's
 * own length.
 * Entry and exit that are not on the line are joined to it straight. A line shorter than a stitch becomes one
 * stitch of `minStitchMm`, so that something holds. Throws a RangeError if no point of `line` is finite.
 */
export function layRun(line: Polyline, options: RunOptions): Stitcher {
  const path = cleanLine(line);
  if (path.length === 0) throw new RangeError("a running stitch needs a line with a finite point");
  const lengths = arcLengths(path);
  const total = lengths[lengths.length - 1];
  const closed = isClosed(path);
  const passes = options.passes ?? 1;
  const surplus = (apart: number): number => {
    if (closed) return Math.min(apart, total - apart);
    return passes % 2 === 0 ? apart : total - apart;
  };
  const endsFor = (entry: Point, exit: Point): Ends =>
    cheapestEnds(arcsAt(path, entry), arcsAt(path, exit), surplus);

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
          points: withEnds(entry, needle, exit, options.minStitchMm),
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
  surplus: (apart: number) => number,
): Ends {
  let best: Ends = {
    from: entries[0],
    to: exits[0],
    surplusMm: Number.POSITIVE_INFINITY,
  };
  for (const from of entries) {
    for (const to of exits) {
      const surplusMm = surplus(Math.abs(to - from));
      if (surplusMm < best.surplusMm) best = { from, to, surplusMm };
    }
  }
  return best;
}

function walk(
  path: Polyline,
  lengths: Float64Array,
  closed: boolean,
  { from, to }: Ends,
  options: RunOptions,
): Point[] {
  const slice = (start: number, end: number): Point[] => slicePolyline(path, lengths, start, end);
  const legs = closed
    ? roundAndOn(slice, from, to, lengths[lengths.length - 1], options.passes ?? 1)
    : outAndBack(slice, from, to, lengths[lengths.length - 1], options.passes ?? 1);
  return legs.flatMap(({ line, pass }) =>
    stitchAlong(line, options.lengthMm, options.minStitchMm, pass % 2 === 1),
  );
}

/** A stretch that is sewn in one go: how often it was sewn before is its pass. */
interface Leg {
  readonly line: Polyline;
  readonly pass: number;
}

type Slice = (start: number, end: number) => Point[];

/** On a closed line: `passes` times round, the way that begins as the shorter way to the exit does, and on to it. */
function roundAndOn(slice: Slice, from: number, to: number, total: number, passes: number): Leg[] {
  const ahead = to >= from ? to - from : to - from + total;
  const forward = ahead <= total - ahead;
  const round = cleanLine(
    forward ? [...slice(from, total), ...slice(0, from)] : [...slice(from, 0), ...slice(total, from)],
  );
  const onwards = slicePolyline(round, arcLengths(round), 0, Math.min(ahead, total - ahead));
  return [
    ...Array.from({ length: passes }, (_, pass): Leg => ({ line: round, pass })),
    { line: onwards, pass: passes },
  ];
}

/**
 * On an open line: as many times as two passes go into `passes`, from the entry to its end of the line, over the
 * whole line, and back. Then to the exit, where the passes are even; else once more over all of it, on the way.
 */
function outAndBack(slice: Slice, from: number, to: number, total: number, passes: number): Leg[] {
  const [near, far] = from <= to ? [0, total] : [total, 0];
  const tours = Array.from({ length: Math.floor(passes / 2) }, (_, tour): Leg[] => [
    { line: slice(from, near), pass: 2 * tour },
    { line: slice(near, from), pass: 2 * tour + 1 },
    { line: slice(from, far), pass: 2 * tour },
    { line: slice(far, from), pass: 2 * tour + 1 },
  ]).flat();
  if (passes % 2 === 0) return [...tours, { line: slice(from, to), pass: passes }];
  return [
    ...tours,
    { line: slice(from, near), pass: passes - 1 },
    { line: slice(near, from), pass: passes },
    { line: slice(from, to), pass: passes - 1 },
    { line: slice(to, far), pass: passes - 1 },
    { line: slice(far, to), pass: passes },
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

/** Needle points with exactly this entry and exit, without repeats and without short stitches where they join. */
export function withEnds(entry: Point, needle: Polyline, exit: Point, minMm: number): Point[] {
  const kept: Point[] = [entry];
  for (const p of needle) if (distance(kept[kept.length - 1], p) >= minMm - 1e-9) kept.push(p);
  if (kept.length === 1) kept.push(furthestFrom(entry, needle));
  while (kept.length > 2 && distance(kept[kept.length - 1], exit) < minMm - 1e-9) kept.pop();
  kept.push(exit);
  return kept;
}

const furthestFrom = (p: Point, points: Polyline): Point =>
  points.reduce((best, q) => (distance(p, q) > distance(p, best) ? q : best));
