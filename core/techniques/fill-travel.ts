/**
 * Travel inside a fill: pulled taut through the openings from row to row that it will lie under, inside their ends,
 * so that it shows nowhere. The first stitch leads from what was sewn straight to there.
 */
import { distance, nearestOnSegment } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import type { FillEdge, FillGraph } from "./fill-graph.ts";
import type { Needle } from "./fill-needle.ts";
import {
  doorOf,
  lineOf,
  type SewOptions,
  STRAIGHT_MM,
  type Stop,
  shortOf,
  spansOn,
  within,
} from "./fill-passages.ts";
import { corners, evenSteps, type Gate, tautBends } from "./fill-path.ts";
import { reachable } from "./fill-row-stitches.ts";
import type { Span } from "./fill-rows.ts";
import type { Passage } from "./fill-tour.ts";
import { STEP_MM } from "./fill-turns.ts";

/** Travel keeps this far from the ends of the rows above it, so that it does not show at the edge. */
const TRAVEL_INSET_MM = 0.6;

/** Travel is cut no longer than this, to follow its path. */
export const TRAVEL_STITCH_MM = 3;

/** Sews travel along some passages to a goal, the last points before something is sewn. */
export function travel(
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

/** A point in a row, no nearer to its ends than travel may come. */
const inRow = (x: number, span: Span): Point => [within(x, gateOf(span, span)), span.y];

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
