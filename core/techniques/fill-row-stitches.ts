/**
 * The stitches of rows. A stack is sewn back and forth, each row from the side that costs the least way; a line is
 * sewn along. A row's ledges are sewn with it: where the next row starts at a ledge's other end, the ledge is the
 * step to it; else the ledge is sewn first, and the way back lies under the row.
 */
import { distance } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import type { StackEdge } from "./fill-graph.ts";
import { ledgeBetween, ledgesBeside } from "./fill-ledges.ts";
import type { Needle } from "./fill-needle.ts";
import {
  type End,
  type SewOptions,
  STOP_REACH_MM,
  STRAIGHT_MM,
  shortOf,
  spansOn,
  within,
} from "./fill-passages.ts";
import { brickPoints, evenSteps } from "./fill-path.ts";
import type { Ledge, Span } from "./fill-rows.ts";
import type { Passage } from "./fill-tour.ts";
import { type SewnRow, SLIM_MM, STEP_MM, turnRows, withHalfRows } from "./fill-turns.ts";

/** Lines are cut no longer than this, to follow their path. */
const LINE_STITCH_MM = 2.5;

/** A way from where a row ends back to where the next starts, over what it is about to sew: dearer than a step. */
const RETURN_COST = 1.5;

/**
 * Rows turn at one side and the other, and the outline shows which: so each row has its usual side, whichever way the
 * stack is passed, and the other one is so many millimetres of thread dearer.
 */
const UNUSUAL_COST = 5;

/**
 * From which side each row is sewn: the cheapest way from `startX` in the first row (`null`: either end of it)
 * to `end` in the last, found row by row for both sides.
 */
export function rowsOf(
  edge: StackEdge,
  passage: Passage,
  startX: number | null,
  end: End,
  travelled: boolean,
  options: SewOptions,
): SewnRow[] {
  const spans = withHalfRows(spansOn(edge, passage), shortOf(options));
  const startAt = (span: Span, side: number): number => (side === 0 ? span.sewnLeft : span.sewnRight);
  const endAt = (span: Span, side: number): number => (side === 0 ? span.sewnRight : span.sewnLeft);
  const first = spans[0];
  // Having travelled, either end is reached under the rows at nearly the same cost.
  const weight = travelled ? 0.5 : 1;
  const usual = (first.row % 2 === 0) === passage.from < passage.to ? 0 : 1;
  let cost = [0, 1].map(
    (side) =>
      (side === usual ? 0 : UNUSUAL_COST) +
      (startX === null ? 0 : weight * Math.abs(startAt(first, side) - startX)),
  );
  const cameFrom: number[][] = [[0, 0]];
  for (let i = 1; i < spans.length; i++) {
    const came: number[] = [];
    cost = [0, 1].map((side) => {
      const ways = [0, 1].map((before) => {
        const shift = Math.abs(endAt(spans[i - 1], before) - startAt(spans[i], side));
        return cost[before] + (before === side ? RETURN_COST : 1) * shift;
      });
      came[side] = ways[1] < ways[0] ? 1 : 0;
      return ways[came[side]];
    });
    cameFrom.push(came);
  }
  const last = spans[spans.length - 1];
  for (const side of [0, 1]) {
    const x = endAt(last, side);
    cost[side] += 2 * Math.abs(within(x, end) - x);
  }
  let side = cost[1] < cost[0] ? 1 : 0;
  const rows: SewnRow[] = [];
  for (let i = spans.length - 1; i >= 0; i--) {
    rows.push({ span: spans[i], startX: startAt(spans[i], side), endX: endAt(spans[i], side) });
    side = cameFrom[i][side];
  }
  return rows.reverse();
}

/**
 * Sews rows one after the other. Where the last one is to end within the row, it is sewn up to there, its rest is
 * gone under, and sewn on the way back.
 */
export function sewRows(needle: Needle, rows: readonly SewnRow[], end: End, options: SewOptions): void {
  const steps = rows.slice(1).map((next, i) => ledgeBetween(rows[i], next));
  const last = rows.length - 1;
  const endTurn = turnIn(rows[last], end, options);
  const turned = turnRows(rows, shortOf(options), (i) => steps[i] !== null, endTurn !== null);
  turned.forEach((row, i) => {
    const { span, startX, endX, skipsStart, skipsEnd, hook } = row;
    const before = turned[i - 1];
    const stepped = steps[i - 1]?.ledge;
    const isMet = stepped !== undefined || before?.hook || before?.skipsEnd;
    if (isMet) stepTo(needle, [startX, span.y], "cover", options);
    else if (!skipsStart) approach(needle, row, i === 0, options);
    const done = [stepped, steps[i]?.ledge];
    if (i === last && endTurn !== null) {
      // Too near the start for a stitch: the whole row is gone under, then sewn back.
      if (distance(needle.at, endTurn) >= options.minStitchMm) sewRow(needle, span, endTurn, done, options);
      sewAlongRow(needle, span, [endX, span.y], "travel", options);
      // A point beside the row is reached by the very last stitch, and by no other.
      sewRow(needle, span, end.point ?? endTurn, done, options);
      return;
    }
    if (skipsEnd) return;
    // Without its start a slim row is one stitch from where the needle is; a long one would slant all the way.
    if (skipsStart && Math.abs(endX - startX) <= SLIM_MM) stepTo(needle, [endX, span.y], "cover", options);
    else sewRow(needle, span, [endX, span.y], done, options);
    if (hook) needle.to(hook, "cover", true);
    const step = steps[i];
    if (step) sewAlong(needle, step.line, options);
  });
}

/** Where the last row is to turn; `null` where it may as well run to its end. */
function turnIn({ span, endX }: SewnRow, end: End, options: SewOptions): Point | null {
  const x = within(endX, end);
  // From the end of the row one stitch leads back to a point that is no further off than this.
  if (Math.abs(x - endX) < (end.point ? STEP_MM : 1.5 * options.minStitchMm)) return null;
  return [within(x, span), span.y];
}

/** From the end of the row before, or from wherever the needle is, to the start of a row. */
function approach(needle: Needle, row: SewnRow, isFirst: boolean, options: SewOptions): void {
  const { span, startX, endX } = row;
  const [x, y] = needle.at;
  const inward = Math.sign(endX - startX);
  const rise = Math.abs(span.y - y);
  // Travel ends where the row starts.
  if (rise < STRAIGHT_MM && Math.abs(startX - x) < options.minStitchMm) return;
  // Rows closer together than the shortest stitch: start further in, so that the step is long enough.
  const recess = Math.sqrt(Math.max(0, (options.minStitchMm + 1e-9) ** 2 - rise * rise));
  const near = (startX - x) * inward < recess;
  const start: Point = [near && Math.abs(startX - x) < recess ? x + inward * recess : startX, span.y];
  const shift = Math.abs(startX - x);
  const back = !isFirst && (startX - x) * inward < -STEP_MM;
  if (shift <= STEP_MM || (!isFirst && !back)) {
    stepTo(needle, start, "cover", options);
    return;
  }
  // Straight down into this row, then along it to its start: all of it under the row itself.
  const into = within(x - inward * recess, { left: span.sewnLeft, right: span.sewnRight });
  stepTo(needle, [into, span.y], isFirst ? needle.role : "cover", options);
  sewAlongRow(needle, span, [startX, span.y], "travel", options);
}

/**
 * Sews a row from where the needle is to `to`, and its ledges there, each before the part of the row beside it.
 */
function sewRow(
  needle: Needle,
  span: Span,
  to: Point,
  done: readonly (Ledge | undefined)[],
  options: SewOptions,
): void {
  const heading = Math.sign(to[0] - needle.at[0]);
  for (const line of ledgesBeside(span, needle.at[0], to[0], done)) {
    const [first, last] = [line[0], line[line.length - 1]];
    const ahead = (first[0] - needle.at[0]) * heading;
    if (ahead > 2 * options.minStitchMm)
      sewAlongRow(needle, span, [first[0] - heading * options.minStitchMm, span.y], "cover", options);
    const back = needle.at[0];
    sewAlong(needle, line, options);
    // Under the row before the ledge's end, so that the way back shows nowhere.
    const turn = last[0] - heading * options.minStitchMm;
    if ((turn - back) * heading <= options.minStitchMm) continue;
    needle.to([turn, span.y], "cover", true);
    sewAlongRow(needle, span, [back, span.y], "travel", options);
  }
  sewAlongRow(needle, span, to, "cover", options);
}

function sewAlongRow(
  needle: Needle,
  span: Span,
  to: Point,
  role: "travel" | "cover",
  options: SewOptions,
): void {
  const length = Math.min(options.lengthMm, options.maxStitchMm);
  const from = needle.at;
  const along = to[0] - from[0];
  // A point beside the row, as an exit may be, is left and reached by a short stitch, not by a slanting row.
  const isBeside = (p: Point): boolean => Math.abs(p[1] - span.y) > STRAIGHT_MM;
  const slants = Number(isBeside(from)) + Number(isBeside(to));
  const hasRoom = Math.abs(along) > slants * STOP_REACH_MM + options.minStitchMm;
  const reach = hasRoom ? Math.sign(along) * STOP_REACH_MM : 0;
  const first = isBeside(from) ? from[0] + reach : from[0];
  const last = isBeside(to) ? to[0] - reach : to[0];
  if (first !== from[0]) needle.to([first, span.y], role, true);
  for (const x of brickPoints(first, last, span.row, options.originX, length))
    needle.to([x, span.y], role, false);
  if (last !== to[0]) needle.to([last, span.y], role, true);
  needle.to(to, role, true);
}

/** Sews along a line; where it lies on one of the rows, as that row is sewn. */
export function sewLine(
  needle: Needle,
  line: readonly Point[],
  spans: readonly (Span | null)[],
  options: SewOptions,
): void {
  if (line.length > 1) stepTo(needle, reachable(needle, line[0], line[1], options), "cover", options);
  const length = Math.min(options.lengthMm, options.maxStitchMm);
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    const middle = (a[0] + b[0]) / 2;
    const isOn = (span: Span | null): boolean =>
      span !== null &&
      span.y === a[1] &&
      span.y === b[1] &&
      middle > span.sewnLeft &&
      middle < span.sewnRight;
    const span = spans.find(isOn);
    if (span) sewRow(needle, span, b, [], options);
    else
      for (const point of evenSteps(a, b, Math.min(LINE_STITCH_MM, length)))
        needle.to(point, "cover", point === b);
  }
}

function sewAlong(needle: Needle, line: readonly Point[], options: SewOptions): void {
  const longest = Math.min(options.lengthMm, options.maxStitchMm);
  const first = line.length > 1 ? reachable(needle, line[0], line[1], options) : line[0];
  for (const point of [first, ...line.slice(1)])
    for (const step of evenSteps(needle.at, point, longest)) needle.to(step, "cover", step === point);
}

function stepTo(needle: Needle, at: Point, role: "travel" | "cover", options: SewOptions): void {
  if (distance(needle.at, at) === 0) return;
  const points = evenSteps(needle.at, at, Math.min(options.lengthMm, options.maxStitchMm));
  for (const point of points) needle.to(point, role, point === at);
}

/** `at`, or so much further towards `next` that a stitch to it is long enough. */
export function reachable(needle: Needle, at: Point, next: Point, { minStitchMm }: SewOptions): Point {
  const length = distance(at, next);
  if (distance(needle.at, at) >= minStitchMm || length < 2 * minStitchMm) return at;
  const [ux, uy] = [(next[0] - at[0]) / length, (next[1] - at[1]) / length];
  const [dx, dy] = [at[0] - needle.at[0], at[1] - needle.at[1]];
  const along = dx * ux + dy * uy;
  const least = minStitchMm + 1e-9;
  const far = Math.sqrt(along * along - dx * dx - dy * dy + least * least) - along;
  return [at[0] + ux * far, at[1] + uy * far];
}
