/**
 * Satin along a stroke: a zigzag (`satin-zigzag.ts`) across its ladder of rungs (`satin-rungs.ts`).
 *
 * It begins and ends anywhere in the stroke, and all travel lies on the centre line under stitches sewn later:
 *
 * - Open stroke: from the entry along the centre line to one end; satin from there to the exit; on along the
 *   centre line, under what is not yet sewn, to the other end; satin back to the exit. Of the two ways round,
 *   the one with less travel. An exit at an end leaves out the second half, an entry at one the first travel.
 * - Closed stroke: from the entry along the centre line to just before the exit, satin once round and over its
 *   own beginning, to the exit.
 */
import { SAME_POINT_MM } from "../constants.ts";
import { distance, nearestOnSegment, squaredDistance } from "../geometry/point.ts";
import { nearestOnPolyline, polylineLength, slicePolyline } from "../geometry/polyline.ts";
import { nearestOnEdge, regionContains } from "../geometry/region.ts";
import type { Point, Polyline, Region } from "../geometry/types.ts";
import type { UnderlayKind } from "../recipes/advice.ts";
import { shortFor, stitchAlong, withoutShort } from "./even-stitches.ts";
import { type Ladder, layRungs, type Rung } from "./satin-rungs.ts";
import { splitLong, zigzag } from "./satin-zigzag.ts";
import type { Stitcher, StitchPart } from "./types.ts";
import { satinUnderlay } from "./underlay-satin.ts";

export interface SatinOptions {
  /** Between neighbouring needle points on one rail. */
  readonly spacingMm: number;
  readonly pullMm: number;
  readonly minStitchMm: number;
  /** Of the travel along the centre line. */
  readonly runLengthMm: number;
  /** Longer stitches are split. */
  readonly maxStitchMm: number;
  readonly threadWidthMm: number;
  /** What to sew under it where it is wide enough; default nothing. */
  readonly underlay?: readonly UnderlayKind[];
}

/** A closed satin goes on over its own beginning for this long, so that no gap opens. Common practice, no source. */
const OVERLAP_MM = 1;

/** An exit within this many rungs of an end is reached from the other end: half a satin of two stitches is none. */
const FEW_RUNGS = 4;

/** Where two halves of a satin meet, the second goes on over the first by this many rungs, so that no seam shows. */
const SEAM_RUNGS = 3;

/** Travel this short is left out: the zigzag's first stitch leads as far, and is hidden by the next. */
const SHORT_TRAVEL_MM = 1;

/**
 * Lays satin along the stroke of width `widthMm` on `line` that paints `region`; a line that repeats its first
 * point is closed. Entry and exit may lie anywhere in the region. Travel has the role "travel", the zigzag
 * "cover". `travelMm` counts the centre line walked besides the satin. No stitch is shorter than `minStitchMm`,
 * except where the stroke itself is too narrow for it or entry and exit all but coincide in a dot. Throws a
 * RangeError if no point of `line` is finite.
 */
export function laySatin(line: Polyline, widthMm: number, region: Region, options: SatinOptions): Stitcher {
  return satinOn(layRungs(line, widthMm, region, options), region, options);
}

/** A ladder with its needle points. */
interface Laid extends Ladder {
  /** One a rung; `null` where it would make a stitch too short to be worth sewing. */
  readonly needle: readonly (Point | null)[];
}

/** Satin on rungs that are laid already. */
export function satinOn(ladder: Ladder, region: Region, options: SatinOptions): Stitcher {
  const laid: Laid = { ...ladder, needle: needleOn(ladder, options) };
  const total = ladder.lengths[ladder.lengths.length - 1];
  // Routing asks about the same few points in every pairing.
  const places = new WeakMap<Point, number>();
  const placeOf = (p: Point): number => {
    const known = places.get(p);
    if (known !== undefined) return known;
    const { along } = nearestOnPolyline(p, ladder.line);
    places.set(p, along);
    return along;
  };
  return {
    snap: (p) => snapInto(region, p),
    travelMm(entry, exit) {
      const from = placeOf(entry);
      const to = placeOf(exit);
      const apart = Math.abs(to - from);
      return ladder.closed ? Math.min(apart, total - apart) : total - apart;
    },
    stitch: (entry, exit) => (ladder.closed ? sewRing : sewOpen)(laid, entry, exit, options),
  };
}

/** Worked out for all rungs at once, so that it is the same wherever sewing begins. */
function needleOn({ rungs, closed }: Ladder, options: SatinOptions): (Point | null)[] {
  const needle = zigzag(closed ? rungs.slice(0, -1) : rungs, options);
  const kept = new Set(withoutShort(needle, options.minStitchMm));
  return needle.map((p) => (kept.has(p) ? p : null));
}

function snapInto(region: Region, p: Point): Point {
  if (regionContains(region, p)) return p;
  const edge = nearestOnEdge(region, p);
  return edge.distance <= SAME_POINT_MM ? p : edge.point;
}

function sewOpen(laid: Laid, entry: Point, exit: Point, options: SatinOptions): StitchPart[] {
  const { rungs, line, lengths } = laid;
  const end = rungs.length - 1;
  const nearest = nearestRung(rungs, exit);
  const target = nearest < FEW_RUNGS ? 0 : end - nearest < FEW_RUNGS ? end : nearest;
  const from = nearestOnPolyline(entry, line).along;
  const to = rungs[target].along;
  // The travel is L - from + to by way of the far end, L - to + from by way of the near one.
  const [first, second] = to < from ? [end, 0] : [0, end];

  const parts: StitchPart[] = [];
  const start = rungs[first].along;
  let at = entry;
  if (Math.abs(start - from) > SHORT_TRAVEL_MM)
    at = travel(parts, [entry, ...slicePolyline(line, lengths, from, start)], options);
  if (first !== target) {
    const isTravelled = Math.abs(start - from) >= Math.abs(start - to) - SHORT_TRAVEL_MM;
    at = underlay(parts, at, stretch(rungs, first, target), false, isTravelled, options);
    at = cover(parts, at, laid, numbers(first, target));
  }
  let final = rungs[target];
  if (second !== target) {
    const beyond = rungs[second].along;
    const lead = Math.min(Math.abs(beyond - to), distance(rungs[target].left, rungs[target].right) / 2);
    const under = slicePolyline(line, lengths, to + Math.sign(beyond - to) * lead, beyond);
    at = travel(parts, [at, ...under], options);
    const past = Math.min(end, Math.max(0, target + Math.sign(first - second) * SEAM_RUNGS));
    final = rungs[past];
    at = underlay(parts, at, stretch(rungs, second, target), false, true, options);
    cover(parts, at, laid, numbers(second, past));
  }
  return endAt(parts, final, exit, options);
}

function sewRing(laid: Laid, entry: Point, exit: Point, options: SatinOptions): StitchPart[] {
  const { rungs, line, lengths } = laid;
  const total = lengths[lengths.length - 1];
  const count = rungs.length - 1;
  const target = nearestRung(rungs, exit) % count;
  const overlap = Math.min(count - 1, Math.round((OVERLAP_MM / total) * count));
  const start = (target - overlap + count) % count;
  const once = Array.from({ length: count + overlap + 1 }, (_, k) => (start + k) % count);

  const parts: StitchPart[] = [];
  const from = nearestOnPolyline(entry, line).along;
  const way = alongRing(line, lengths, from, rungs[start].along);
  const there = travel(parts, [entry, ...way], options);
  const round = once.slice(0, count + 1).map((k) => rungs[k]);
  const at = underlay(parts, there, round, true, false, options);
  cover(parts, at, laid, once);
  return endAt(parts, rungs[target], exit, options);
}

/** The shorter way along a closed line from one arc length to another. */
function alongRing(line: Polyline, lengths: Float64Array, from: number, to: number): Point[] {
  const total = lengths[lengths.length - 1];
  if (Math.abs(to - from) <= total / 2) return slicePolyline(line, lengths, from, to);
  return to < from
    ? [...slicePolyline(line, lengths, from, total), ...slicePolyline(line, lengths, 0, to)]
    : [...slicePolyline(line, lengths, from, 0), ...slicePolyline(line, lengths, total, to)];
}

/** Index of the rung that comes nearest to `p`. */
function nearestRung(rungs: readonly Rung[], p: Point): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < rungs.length; i++) {
    const away = squaredDistance(p, nearestOnSegment(p, rungs[i].left, rungs[i].right));
    if (away < least) {
      best = i;
      least = away;
    }
  }
  return best;
}

/** The numbers `from` to `to`, both included, in that direction. */
const numbers = (from: number, to: number): number[] =>
  Array.from({ length: Math.abs(to - from) + 1 }, (_, k) => from + k * Math.sign(to - from));

/** Rungs `from` to `to`, both included, in that direction. */
const stretch = (rungs: readonly Rung[], from: number, to: number): readonly Rung[] =>
  numbers(from, to).map((k) => rungs[k]);

/** Appends running stitches along `way`, if that leads anywhere; returns where the needle is then. */
function travel(parts: StitchPart[], way: Polyline, options: SatinOptions): Point {
  if (polylineLength(way) <= SHORT_TRAVEL_MM) return way[0];
  const shortMm = shortFor(options.runLengthMm, options.minStitchMm);
  parts.push({ role: "travel", points: stitchAlong(way, options.runLengthMm, shortMm) });
  return way[way.length - 1];
}

/** Appends the underlay of a stretch of rungs, out and back; returns where the needle is then. */
function underlay(
  parts: StitchPart[],
  at: Point,
  rungs: readonly Rung[],
  isRound: boolean,
  isTravelled: boolean,
  options: SatinOptions,
): Point {
  const points = satinUnderlay(at, rungs, isRound, isTravelled, {
    ...options,
    kinds: options.underlay ?? [],
  });
  if (points.length < 2) return at;
  parts.push({ role: "underlay", points });
  return points[points.length - 1];
}

/**
 * Appends satin across the rungs of these numbers from where the needle is; returns where it is then. From beside the
 * first needle point it crosses to the other side first, or that corner would stay open.
 */
function cover(parts: StitchPart[], at: Point, { rungs, needle }: Laid, numbers: readonly number[]): Point {
  const points = [at];
  const { left, right } = rungs[numbers[0]];
  const [own, opposite] = numbers[0] % 2 === 0 ? [left, right] : [right, left];
  if (distance(at, own) < distance(at, opposite) / 2) points.push(opposite);
  for (const k of numbers) {
    const p = needle[k];
    if (p !== null) points.push(p);
  }
  parts.push({ role: "cover", points });
  return points[points.length - 1];
}

/**
 * Leads the last stitch to the exit, from the other side of the stroke: where the needle is on the exit's side
 * already, it crosses the last rung once more. Short stitches are dropped and long ones split now that all are known.
 */
function endAt(
  parts: readonly StitchPart[],
  { left, right }: Rung,
  exit: Point,
  options: SatinOptions,
): StitchPart[] {
  const { role, points: needle } = parts[parts.length - 1];
  const points = [...needle];
  const at = points[points.length - 1];
  const opposite = distance(at, left) > distance(at, right) ? left : right;
  const away = distance(at, exit);
  if (away < options.minStitchMm || away < distance(opposite, exit) / 2) points.push(opposite);
  points.push(exit);
  return [...parts.slice(0, -1), { role, points }].map((part) =>
    part.role === "cover" ? { role: part.role, points: sewable(part.points, options) } : part,
  );
}

const sewable = (needle: Polyline, options: SatinOptions): Point[] =>
  splitLong(withoutShort(needle, options.minStitchMm), options.maxStitchMm);
