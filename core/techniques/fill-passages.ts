/**
 * What a passage of a tour leads over: the rows of a stack, from door to door, or a line; where it begins at the
 * entry or ends at the exit, it goes through that very point.
 */
import { arcLengths, slicePolyline } from "../geometry/polyline.ts";
import type { Point } from "../geometry/types.ts";
import { shortFor } from "./even-stitches.ts";
import type { LineEdge, StackEdge } from "./fill-graph.ts";
import type { Span } from "./fill-rows.ts";
import { type Anchor, type Passage, positionEnd } from "./fill-tour.ts";

/** The entry or the exit: the point itself, and where it lies on the graph. */
export interface Stop {
  readonly at: Point;
  readonly anchor: Anchor;
}

/** What the stitches of a fill are cut by. */
export interface SewOptions {
  readonly lengthMm: number;
  readonly minStitchMm: number;
  readonly maxStitchMm: number;
  /** From where the lattice of penetrations is counted, along the rows. */
  readonly originX: number;
}

/** Points on a straight path that are left out because they lie this near to it. */
export const STRAIGHT_MM = 0.01;

/** A line is left for an entry or exit beside it this far from there. */
export const STOP_REACH_MM = 0.5;

/** The shortest stitch that is worth sewing where a longer one is possible. */
export const shortOf = ({ lengthMm, minStitchMm }: SewOptions): number => shortFor(lengthMm, minStitchMm);

/** Where a stack is entered at one of its ends, along the rows; `null` at any other position. */
export function doorOf(edge: StackEdge, position: number): number | null {
  return position === 0 ? edge.aX : position === positionEnd(edge) ? edge.bX : null;
}

/** The spans that a passage leads over, in its direction. */
export function spansOn(edge: StackEdge, { from, to }: Passage): Span[] {
  return from < to ? edge.spans.slice(from, to) : edge.spans.slice(to, from).reverse();
}

/** The line of a passage; where it begins or ends at the entry or the exit, it goes through that very point. */
export function lineOf(edge: LineEdge, passage: Passage, stops: readonly Stop[]): Point[] {
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
export interface End {
  readonly left: number;
  readonly right: number;
  readonly point: Point | null;
}

export const onPoint = (point: Point): End => ({ left: point[0], right: point[0], point });

const ANY_END: End = { left: Number.NEGATIVE_INFINITY, right: Number.POSITIVE_INFINITY, point: null };

/** At a door; or, where the stack goes on, over its next row; or anywhere. */
export function endOf(edge: StackEdge, { from, to }: Passage): End {
  const door = doorOf(edge, to);
  if (door !== null) return { left: door, right: door, point: null };
  const next = from < to ? edge.spans[to] : edge.spans[to - 1];
  return next ? { left: next.sewnLeft, right: next.sewnRight, point: null } : ANY_END;
}

/** The nearest x to one between two others. */
export const within = (x: number, { left, right }: { left: number; right: number }): number =>
  Math.max(left, Math.min(x, right));
