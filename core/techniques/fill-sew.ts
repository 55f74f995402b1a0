/**
 * From a tour to stitches. Travel is pulled taut through the rows it will lie under; a stack is sewn back and
 * forth, each row from the side that costs the least way; a line is sewn along. A row's ledges are sewn with it:
 * where the next row starts at a ledge's other end, the ledge is the step to it; else the ledge is sewn first, and
 * the way back lies under the row.
 */
import { distance, nearestOnSegment } from "../geometry/point.ts";
import { arcLengths, slicePolyline } from "../geometry/polyline.ts";
import type { Point } from "../geometry/types.ts";
import { shortFor } from "./even-stitches.ts";
import type { FillEdge, FillGraph, LineEdge, StackEdge } from "./fill-graph.ts";
import { Needle } from "./fill-needle.ts";
import { brickPoints, corners, evenSteps, type Gate, tautBends } from "./fill-path.ts";
import type { Ledge, Span } from "./fill-rows.ts";
import { type Anchor, type Passage, positionEnd } from "./fill-tour.ts";
import { type SewnRow, STEP_MM, turnRows, withHalfRows } from "./fill-turns.ts";

/** The entry or the exit: the point itself, and where it lies on the graph. */
export interface Stop {
  readonly at: Point;
  readonly anchor: Anchor;
}

export interface SewOptions {
  readonly lengthMm: number;
  readonly minStitchMm: number;
  readonly maxStitchMm: number;
  /** From where the lattice of penetrations is counted, along the rows. */
  readonly originX: number;
}

/** Travel keeps this far from the ends of the rows above it, so that it does not show at the edge. */
const TRAVEL_INSET_MM = 0.6;

/** Travel and lines are cut no longer than this, to follow their path; in rows the stitch length counts. */
const TRAVEL_STITCH_MM = 3;
const LINE_STITCH_MM = 2.5;

/** Points on a straight path that are left out because they lie this near to it. */
const STRAIGHT_MM = 0.01;

/** Travel reaches the start of a row along that row, for this long. */
const RUN_UP_MM = 1;

/** A line is left for an entry or exit beside it this far from there. */
const STOP_REACH_MM = 0.5;

const shortOf = ({ lengthMm, minStitchMm }: SewOptions): number => shortFor(lengthMm, minStitchMm);

/** A way from where a row ends back to where the next starts, over what it is about to sew: dearer than a step. */
const RETURN_COST = 1.5;

/** The needle after all passages of a tour, in the rows' frame; it still has to be finished at the exit. */
export function sewTour(
  graph: FillGraph,
  tour: readonly Passage[],
  entry: Stop,
  exit: Stop,
  options: SewOptions,
): Needle {
  const longest = Math.min(options.maxStitchMm, Math.max(options.lengthMm, TRAVEL_STITCH_MM));
  const needle = new Needle(entry.at, options.minStitchMm, longest);
  let pending: Passage[] = [];
  const stops = [entry, exit];
  let home = entry.anchor.home;
  for (let i = 0; i < tour.length; i++) {
    const passage = tour[i];
    const edge = graph.edges[passage.edge];
    if (passage.role === "travel") {
      pending.push(passage);
      continue;
    }
    if (edge.kind === "stack") {
      const startX =
        pending.length === 0 ? needle.at[0] : turnsBack(pending, passage) ? null : doorOf(edge, passage.from);
      const end = i + 1 === tour.length ? onPoint(exit.at) : endOf(edge, passage);
      const rows = rowsOf(edge, passage, startX, end, pending.length > 0, options);
      if (pending.length > 0) travel(needle, graph, pending, startOf(rows[0], startX), home, stops, options);
      sewRows(needle, rows, end, options);
    } else {
      const pieces = [lineOf(edge, passage, stops)];
      const spans = [edge.span];
      for (; i + 1 < tour.length; i++) {
        const next = tour[i + 1];
        const nextEdge = graph.edges[next.edge];
        if (next.role !== "cover" || nextEdge.kind !== "line") break;
        pieces.push(lineOf(nextEdge, next, stops));
        spans.push(nextEdge.span);
      }
      const line = corners(pieces.flat(), STRAIGHT_MM);
      if (pending.length > 0) travel(needle, graph, pending, [line[0]], home, stops, options);
      sewLine(needle, line, spans, options);
    }
    pending = [];
    home = null;
  }
  return needle;
}

/** Whether a passage leads back over the edge by which the needle has just come. */
const turnsBack = (pending: readonly Passage[], passage: Passage): boolean =>
  pending.length > 0 && pending[pending.length - 1].edge === passage.edge;

function doorOf(edge: StackEdge, position: number): number | null {
  return position === 0 ? edge.aX : position === positionEnd(edge) ? edge.bX : null;
}

/** The line of a passage; where it begins or ends at the entry or the exit, it goes through that very point. */
function lineOf(edge: LineEdge, passage: Passage, stops: readonly Stop[]): Point[] {
  const { from, to } = passage;
  const lengths = arcLengths(edge.line);
  const isStop = (position: number): Point | undefined =>
    position === 0 || position === edge.lengthMm
      ? undefined
      : stops.find(({ anchor }) => anchor.edge === passage.edge && anchor.position === position)?.at;
  const start = isStop(from);
  const end = isStop(to);
  // The line itself is kept to as near as a stitch allows.
  const room = Math.abs(to - from) > 3 * STOP_REACH_MM ? Math.sign(to - from) * STOP_REACH_MM : 0;
  const line = slicePolyline(edge.line, lengths, start ? from + room : from, end ? to - room : to);
  if (room === 0) {
    if (start) line[0] = start;
    if (end) line[line.length - 1] = end;
    return line;
  }
  return [...(start ? [start] : []), ...line, ...(end ? [end] : [])];
}

/** Where the last row of a passage has to end: between two x, and on a given point where the tour ends there. */
interface End {
  readonly left: number;
  readonly right: number;
  readonly point: Point | null;
}

const onPoint = (point: Point): End => ({ left: point[0], right: point[0], point });

const ANY_END: End = { left: Number.NEGATIVE_INFINITY, right: Number.POSITIVE_INFINITY, point: null };

/** At a door; or, where the stack goes on, over its next row; or anywhere. */
function endOf(edge: StackEdge, { from, to }: Passage): End {
  const door = doorOf(edge, to);
  if (door !== null) return { left: door, right: door, point: null };
  const next = from < to ? edge.spans[to] : edge.spans[to - 1];
  return next ? { left: next.sewnLeft, right: next.sewnRight, point: null } : ANY_END;
}

const within = (x: number, { left, right }: { left: number; right: number }): number =>
  Math.max(left, Math.min(x, right));

/** The last points of travel to the start of a row: along the row, from the door, so that all of it is covered. */
function startOf({ span, startX, endX }: SewnRow, doorX: number | null): Point[] {
  const start: Point = [startX, span.y];
  if (Math.abs(endX - startX) < 2 * RUN_UP_MM) return [start];
  const runUp = startX + Math.sign(endX - startX) * RUN_UP_MM;
  const from = doorX !== null && Math.abs(doorX - startX) > RUN_UP_MM ? doorX : runUp;
  return [[from, span.y], start];
}

/** The spans that a passage leads over, in its direction. */
function spansOn(edge: StackEdge, { from, to }: Passage): Span[] {
  return from < to ? edge.spans.slice(from, to) : edge.spans.slice(to, from).reverse();
}

/** Sews travel along some passages to a goal, the last points before something is sewn. */
function travel(
  needle: Needle,
  graph: FillGraph,
  passages: readonly Passage[],
  goal: readonly Point[],
  home: Span | null,
  stops: readonly Stop[],
  options: SewOptions,
): void {
  const under = leadIn(needle, graph, passages[0], home, stops, options);
  const path: Point[] = [needle.at];
  let gates: Gate[] = [];
  const fix = (point: Point): void => {
    const from = path[path.length - 1];
    path.push(...tautBends(from, point, gates), point);
    gates = [];
  };
  if (under) fix(under);
  passages.forEach((passage, i) => {
    const edge: FillEdge = graph.edges[passage.edge];
    if (edge.kind === "line") {
      const line = lineOf(edge, passage, stops);
      // From or into a stack there is no need to go to the very end of the row.
      const isStack = (other: Passage | undefined): boolean =>
        other !== undefined && graph.edges[other.edge].kind === "stack";
      if (edge.span && isStack(passages[i - 1])) line[0] = inRow(line[0][0], edge.span);
      if (edge.span && isStack(passages[i + 1])) line.push(inRow((line.pop() as Point)[0], edge.span));
      for (const point of line) fix(point);
      return;
    }
    const spans = spansOn(edge, passage);
    const from = doorOf(edge, passage.from);
    const to = doorOf(edge, passage.to);
    if (from !== null && i > 0) fix(inRow(from, spans[0]));
    gates.push(...gatesOn(spans));
    if (i + 1 === passages.length) return;
    if (to !== null) fix(inRow(to, spans[spans.length - 1]));
    const door = passage.toNode === null ? null : graph.nodeAt[passage.toNode];
    if (door) fix(inRow(door.x, door.span));
  });
  for (const point of goal) fix(point);
  const turns = fewerBends(corners(path, STRAIGHT_MM), goal[0], shortOf(options));
  for (let i = 1; i < turns.length; i++) {
    const steps = evenSteps(turns[i - 1], turns[i], Math.min(TRAVEL_STITCH_MM, options.maxStitchMm));
    for (const point of steps) needle.to(point, "travel", goal.includes(point));
  }
}

/** Travel may stray so far from its path where a bend would make a short stitch. */
const STRAY_MM = 0.05;

/** A path with bends left out that lie too near to each other for a stitch; `goal` and the ends stay. */
function fewerBends(path: readonly Point[], goal: Point, shortMm: number): Point[] {
  const kept: Point[] = [];
  path.forEach((p, i) => {
    const next = path[i + 1];
    while (kept.length > 1 && distance(kept[kept.length - 1], p) < shortMm) {
      const bend = kept[kept.length - 1];
      if (bend === goal || strayOf(bend, kept[kept.length - 2], p) > STRAY_MM) break;
      kept.pop();
    }
    const last = kept[kept.length - 1];
    const isNear = last !== undefined && next !== undefined && p !== goal && distance(last, p) < shortMm;
    if (isNear && strayOf(p, last, next) <= STRAY_MM) return;
    kept.push(p);
  });
  return kept;
}

const strayOf = (p: Point, a: Point, b: Point): number => distance(p, nearestOnSegment(p, a, b));

/** A point in a row, no nearer to its ends than travel may come. */
const inRow = (x: number, span: Span): Point => [within(x, gateOf(span, span)), span.y];

/** `at`, or so much further towards `next` that a stitch to it is long enough. */
function reachable(needle: Needle, at: Point, next: Point, { minStitchMm }: SewOptions): Point {
  const length = distance(at, next);
  if (distance(needle.at, at) >= minStitchMm || length < 2 * minStitchMm) return at;
  const [ux, uy] = [(next[0] - at[0]) / length, (next[1] - at[1]) / length];
  const [dx, dy] = [at[0] - needle.at[0], at[1] - needle.at[1]];
  const along = dx * ux + dy * uy;
  const least = minStitchMm + 1e-9;
  const far = Math.sqrt(along * along - dx * dx - dy * dy + least * least) - along;
  return [at[0] + ux * far, at[1] + uy * far];
}

/**
 * The first stitch of travel leads straight to what the travel will lie under. After something sewn it is a step
 * like that from row to row. Returns where the way leaves the row it has come to, if that is elsewhere.
 */
function leadIn(
  needle: Needle,
  graph: FillGraph,
  passage: Passage,
  home: Span | null,
  stops: readonly Stop[],
  options: SewOptions,
): Point | null {
  const edge = graph.edges[passage.edge];
  const [x, y] = needle.at;
  if (edge.kind === "line") {
    const [first, second] = lineOf(edge, passage, stops);
    if (distance(first, needle.at) <= STEP_MM)
      needle.to(reachable(needle, first, second, options), needle.role, true);
    return null;
  }
  const [first, second = first] = spansOn(edge, passage);
  const isBeside = home !== null && (x < first.left || x > first.right);
  const row = isBeside ? home : first;
  const room = isBeside ? gateOf(home, first) : gateOf(first, second);
  const aim = within(x, room);
  const rise = Math.abs(row.y - y);
  if (rise < STRAIGHT_MM) return aim === x ? null : [aim, row.y];
  const side = aim === x ? Math.sign((room.left + room.right) / 2 - x) || 1 : Math.sign(aim - x);
  const leastFor = (mm: number): number => Math.sqrt(Math.max(0, (mm + 1e-9) ** 2 - rise * rise));
  const end = side > 0 ? room.right - x : x - room.left;
  const long = leastFor(shortOf(options));
  const least = long <= end ? long : leastFor(options.minStitchMm);
  const far = Math.max(least, Math.min(Math.abs(aim - x), TRAVEL_INSET_MM + 0.2));
  needle.to([x + side * far, row.y], needle.role, true);
  return Math.abs(aim - x) > far ? [aim, row.y] : null;
}

/** The openings of rows: what each has in common with the next, less the inset where there is room for it. */
function gatesOn(spans: readonly Span[]): Gate[] {
  return spans.map((span, i) => gateOf(span, spans[i + 1] ?? span));
}

function gateOf(span: Span, next: Span): Gate {
  const left = Math.max(span.left, next.left);
  const right = Math.min(span.right, next.right);
  if (right - left > 2 * TRAVEL_INSET_MM)
    return { y: span.y, left: left + TRAVEL_INSET_MM, right: right - TRAVEL_INSET_MM };
  return { y: span.y, left: (left + right) / 2, right: (left + right) / 2 };
}

/** The end of a step may lie this far from the end of the ledge that it goes along. */
const LEDGE_REACH_MM = 1;

/** The ledge along which the step from the end of one row to the start of the next may go, in that direction. */
function ledgeBetween(row: SewnRow, next: SewnRow): { ledge: Ledge; line: readonly Point[] } | null {
  const goesDown = next.span.y > row.span.y;
  for (const [{ span }, side] of [
    [row, goesDown ? "below" : "above"],
    [next, goesDown ? "above" : "below"],
  ] as const)
    for (const ledge of span.ledges) {
      if (ledge.side !== side) continue;
      const left = ledge.line[0][0];
      const right = ledge.line[ledge.line.length - 1][0];
      const isNear = (a: number, b: number): boolean => Math.abs(a - b) < LEDGE_REACH_MM;
      if (isNear(left, row.endX) && isNear(right, next.startX)) return { ledge, line: ledge.line };
      if (isNear(right, row.endX) && isNear(left, next.startX))
        return { ledge, line: [...ledge.line].reverse() };
    }
  return null;
}

/** The ledges of a span, less those sewn otherwise, as far as they lie beside what is sewn from one x to another. */
function ledgesBeside(
  { ledges }: Span,
  from: number,
  to: number,
  done: readonly (Ledge | undefined)[],
): Point[][] {
  const low = Math.min(from, to);
  const high = Math.max(from, to);
  const lines: Point[][] = [];
  for (const ledge of ledges) {
    if (done.includes(ledge)) continue;
    const line = clipToX(ledge.line, low, high);
    if (line.length < 2 || line[line.length - 1][0] - line[0][0] < LEAST_LEDGE_MM) continue;
    lines.push(from <= to ? line : line.reverse());
  }
  return lines.sort((a, b) => (from <= to ? a[0][0] - b[0][0] : b[0][0] - a[0][0]));
}

/** What of a line that runs from left to right lies between two x. */
function clipToX(line: readonly Point[], low: number, high: number): Point[] {
  const clipped: Point[] = [];
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    if (b[0] <= low || a[0] >= high) continue;
    const at = (x: number): Point => [x, a[1] + ((b[1] - a[1]) * (x - a[0])) / (b[0] - a[0])];
    if (clipped.length === 0) clipped.push(a[0] < low ? at(low) : a);
    clipped.push(b[0] > high ? at(high) : b);
  }
  return clipped;
}

/** A shorter piece of a ledge is left out. */
const LEAST_LEDGE_MM = 0.6;

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

function sewAlong(needle: Needle, line: readonly Point[], options: SewOptions): void {
  const longest = Math.min(options.lengthMm, options.maxStitchMm);
  const first = line.length > 1 ? reachable(needle, line[0], line[1], options) : line[0];
  for (const point of [first, ...line.slice(1)])
    for (const step of evenSteps(needle.at, point, longest)) needle.to(step, "cover", step === point);
}

/**
 * From which side each row is sewn: the cheapest way from `startX` in the first row (`null`: either end of it)
 * to `end` in the last, found row by row for both sides.
 */
function rowsOf(
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
  let cost = [0, 1].map((side) => (startX === null ? 0 : weight * Math.abs(startAt(first, side) - startX)));
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
function sewRows(needle: Needle, rows: readonly SewnRow[], end: End, options: SewOptions): void {
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
    if (skipsStart) stepTo(needle, [endX, span.y], "cover", options);
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

function stepTo(needle: Needle, at: Point, role: "travel" | "cover", options: SewOptions): void {
  if (distance(needle.at, at) === 0) return;
  const points = evenSteps(needle.at, at, Math.min(options.lengthMm, options.maxStitchMm));
  for (const point of points) needle.to(point, role, point === at);
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

function sewLine(
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
