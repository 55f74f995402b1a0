/**
 * A plan as the machine is told it: moves from place to place, each a whole number of units of 0.1 mm.
 *
 * Every place is rounded by itself and moves are differences of rounded places, so that rounding never adds up:
 * along either axis the needle stays within half a unit (0.05 mm) of the plan.
 *
 * - A stitch that comes to less than a unit is left out: the needle would go twice into one hole.
 * - A stitch longer than a record reaches is made of jumps and one stitch, even in length.
 * - A trim is a run of jumps: the way to the next strand in so many even steps, more where it is far. The new
 *   strand begins with a stitch on the spot, its first needle point.
 * - A colour change comes at the end of that way, so that the machine waits where it goes on.
 *
 * That a run of jumps trims, and that the count is set at the machine, is common practice, no source.
 */
import type { Point } from "../geometry/types.ts";
import { isSewn } from "../plan/steps.ts";
import type { Plan } from "../plan/types.ts";
import { type Move, RECORD_REACH } from "./machine-record.ts";

export const UNITS_PER_MM = 10;

/** Every move of a plan, the closing one left out. */
export function machineMoves(plan: Plan): Move[] {
  const { trimJumps } = plan.settings;
  const place = unitsFrom(machineOrigin(plan));
  const moves: Move[] = [];
  let at: Point = [0, 0];
  let ready = false;
  let jumps = 0;
  let change = false;

  for (const step of plan.sewing) {
    if (step.role === "trim") [ready, jumps] = [false, trimJumps];
    else if (step.role === "colour-change") [ready, change] = [false, true];
    if (!isSewn(step)) continue;
    for (let k = 0; k < step.points.length; k += 2) {
      const to = place(step.points[k], step.points[k + 1]);
      if (!ready) {
        moves.push(...jumpsBetween(at, to, jumps));
        if (change) moves.push({ kind: "change", dx: 0, dy: 0 });
        moves.push({ kind: "stitch", dx: 0, dy: 0 });
        [ready, jumps, change] = [true, 0, false];
      } else moves.push(...stitchBetween(at, to));
      at = to;
    }
  }
  return [...moves, ...jumpsBetween(at, at, jumps)];
}

/**
 * Where the machine stands when it starts, in the plan's millimetres: the middle of all needle points, or the
 * first of them, as set. The drawing's corner where nothing is sewn.
 */
export function machineOrigin({ sewing, settings }: Pick<Plan, "sewing" | "settings">): Point {
  const box = needleBox(sewing);
  if (box === undefined) return [0, 0];
  if (settings.origin === "centre") return [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  const first = sewing.find((step) => isSewn(step) && step.points.length > 1);
  return first !== undefined && isSewn(first) ? [first.points[0], first.points[1]] : [0, 0];
}

export interface NeedleBox {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** What all needle points lie in, in millimetres; undefined where there are none. */
export function needleBox(sewing: Plan["sewing"]): NeedleBox | undefined {
  let [minX, minY] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  let [maxX, maxY] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const step of sewing) {
    if (!isSewn(step)) continue;
    for (let k = 0; k < step.points.length; k += 2) {
      minX = Math.min(minX, step.points[k]);
      maxX = Math.max(maxX, step.points[k]);
      minY = Math.min(minY, step.points[k + 1]);
      maxY = Math.max(maxY, step.points[k + 1]);
    }
  }
  return minX > maxX ? undefined : { minX, minY, maxX, maxY };
}

/** Millimetres of the plan to units of the machine, whose y points up. Zero never has a sign. */
const unitsFrom =
  ([originX, originY]: Point) =>
  (x: number, y: number): Point => [
    Math.round((x - originX) * UNITS_PER_MM) + 0,
    Math.round((originY - y) * UNITS_PER_MM) + 0,
  ];

/** A way without thread, in `least` even jumps or as many as it needs. */
const jumpsBetween = (from: Point, to: Point, least: number): Move[] =>
  steps(from, to, Math.max(least, recordsNeeded(from, to))).map(
    ([dx, dy]): Move => ({ kind: "jump", dx, dy }),
  );

function stitchBetween(from: Point, to: Point): Move[] {
  const way = steps(from, to, recordsNeeded(from, to));
  return way.map(([dx, dy], k): Move => ({ kind: k + 1 < way.length ? "jump" : "stitch", dx, dy }));
}

/** None where nothing moves. */
const recordsNeeded = (from: Point, to: Point): number =>
  Math.ceil(Math.max(Math.abs(to[0] - from[0]), Math.abs(to[1] - from[1])) / RECORD_REACH);

/** The way in `count` steps whose ends lie on it evenly, each end rounded by itself. */
function steps(from: Point, to: Point, count: number): Point[] {
  const on = (axis: 0 | 1, k: number) => Math.round(from[axis] + ((to[axis] - from[axis]) * k) / count);
  return Array.from({ length: count }, (_, k) => [on(0, k + 1) - on(0, k) + 0, on(1, k + 1) - on(1, k) + 0]);
}
