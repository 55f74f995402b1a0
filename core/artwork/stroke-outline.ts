/**
 * The area that a stroke paints, as rings to be united by the nonzero rule.
 *
 * Each side of the line is walked once: forth on one side, a cap, back on the other, a cap; a closed line gives
 * a ring for each side. At every vertex the side that turns outwards gets the join, and the side that turns
 * inwards goes to the meeting point of both offset edges or, where that lies too far along them, through the
 * vertex itself. So the walk is the boundary of a sum of quadrilaterals (each edge with its offset) and of join
 * wedges, all of one orientation: no two of them cancel, and where the sum is not zero is exactly the stroke.
 */
import { norm } from "../geometry/point.ts";
import type { LineCap, LineJoin } from "../geometry/region.ts";
import type { Point, Ring } from "../geometry/types.ts";
import type { FlatSubpath } from "./flatten.ts";

export interface Pen {
  readonly halfWidth: number;
  readonly cap: LineCap;
  readonly join: LineJoin;
  readonly miterLimit: number;
  /** How far the chords of round joins and caps may stray from the arc. */
  readonly tolerance: number;
}

/** Where a curve turns by more than this from chord to chord it is a cusp, which even a thin pen rounds. */
const MOST_SMOOTH_COSINE = 0.5;

/**
 * Cosine of the most that a curve may turn from chord to chord if the offset chords are to meet in a point: the
 * point then strays from the curve's offset by the tolerance. Where it turns more, the pen rounds.
 */
export const leastMitredCosine = ({ halfWidth, tolerance }: Pen): number =>
  Math.cos(2 * Math.acos(Math.max(0, 1 - tolerance / halfWidth)));

/** Arcs are cut no finer, however wide the pen: ten metres from the centre, chords then stray by a thousandth of a mm. */
const LEAST_STEP_RAD = 1e-3;

/** Below this turn (as a sine) two edges count as one straight line. */
const STRAIGHT = 1e-9;

/** @param direction of a line without length, for its square caps (unit vector) */
export function strokeRings(line: FlatSubpath, pen: Pen, direction: Point = [1, 0]): Ring[] {
  const { points, corners, closed } = line;
  if (points.length === 1) return dot(points[0], direction, pen);
  const back = { points: [...points].reverse(), corners: [...corners].reverse(), closed };
  if (closed && points.length > 2) return [side(line, pen), side(back, pen)];
  // A closed line of two points goes there and back: its joins look like caps.
  const ends: Pen = closed ? { ...pen, cap: pen.join === "round" ? "round" : "butt" } : pen;
  const there = { ...line, closed: false };
  const again = { ...back, closed: false };
  return [[...side(there, pen), ...cap(there, ends), ...side(again, pen), ...cap(again, ends)]];
}

function dot(at: Point, [dx, dy]: Point, { halfWidth: h, cap: kind, tolerance }: Pen): Ring[] {
  if (kind === "butt") return [];
  if (kind === "square") {
    const turned: Point[] = [
      [dx - dy, dy + dx],
      [-dx - dy, -dy + dx],
      [-dx + dy, -dy - dx],
      [dx + dy, dy - dx],
    ];
    return [turned.map(([x, y]): Point => [at[0] + h * x, at[1] + h * y])];
  }
  const ring: Point[] = [];
  arc(at, [h, 0], 2 * Math.PI, tolerance, ring);
  ring.pop();
  return [ring];
}

/** The offset of a line on the side to which a quarter turn from x to y leads. */
function side({ points, corners, closed }: FlatSubpath, pen: Pen): Point[] {
  const h = pen.halfWidth;
  const leastCosine = Math.max(MOST_SMOOTH_COSINE, leastMitredCosine(pen));
  const count = points.length;
  const edges = closed ? count : count - 1;
  const directions: Point[] = [];
  const lengths: number[] = [];
  for (let i = 0; i < edges; i++) {
    const from = points[i];
    const to = points[(i + 1) % count];
    const length = norm(to[0] - from[0], to[1] - from[1]);
    directions.push([(to[0] - from[0]) / length, (to[1] - from[1]) / length]);
    lengths.push(length);
  }

  const ring: Point[] = [];
  const offset = (p: Point, [dx, dy]: Point): Point => [p[0] - h * dy, p[1] + h * dx];
  if (!closed) ring.push(offset(points[0], directions[0]));
  for (let i = closed ? 0 : 1; i < edges; i++) {
    const before = i === 0 ? edges - 1 : i - 1;
    const a = directions[before];
    const b = directions[i];
    const p = points[i];
    const cross = a[0] * b[1] - a[1] * b[0];
    const dotted = a[0] * b[0] + a[1] * b[1];
    if (dotted > 0 && Math.abs(cross) < STRAIGHT) {
      ring.push(offset(p, b));
      continue;
    }
    const meet: Point = [
      p[0] - (h * (a[1] + b[1])) / (1 + dotted),
      p[1] + (h * (a[0] + b[0])) / (1 + dotted),
    ];
    if (cross > 0) {
      const reach = (h * cross) / (1 + dotted);
      if (reach <= Math.min(lengths[before], lengths[i]) / 2) ring.push(meet);
      else ring.push(offset(p, a), p, offset(p, b));
      continue;
    }
    const smooth = !corners[i];
    const join = smooth ? (dotted >= leastCosine ? "miter" : "round") : pen.join;
    if (join === "miter" && (smooth || 2 <= pen.miterLimit ** 2 * (1 + dotted))) ring.push(meet);
    else if (join === "round")
      arc(p, [-h * a[1], h * a[0]], -Math.abs(Math.atan2(cross, dotted)), pen.tolerance, ring);
    else ring.push(offset(p, a), offset(p, b));
  }
  if (!closed) ring.push(offset(points[count - 1], directions[edges - 1]));
  return ring;
}

/** The corners of the cap at the end of a line; its sides' own ends are not repeated. */
function cap({ points }: FlatSubpath, { halfWidth: h, cap: kind, tolerance }: Pen): Point[] {
  if (kind === "butt") return [];
  const end = points[points.length - 1];
  const before = points[points.length - 2];
  const length = norm(end[0] - before[0], end[1] - before[1]);
  const dx = (h * (end[0] - before[0])) / length;
  const dy = (h * (end[1] - before[1])) / length;
  if (kind === "square")
    return [
      [end[0] - dy + dx, end[1] + dx + dy],
      [end[0] + dy + dx, end[1] - dx + dy],
    ];
  const round: Point[] = [];
  arc(end, [-dy, dx], -Math.PI, tolerance, round);
  return round.slice(1, -1);
}

/** Points of an arc about `centre`, both ends among them, from `centre + radius` through `sweepRad`. */
function arc(centre: Point, radius: Point, sweepRad: number, tolerance: number, ring: Point[]): void {
  const r = norm(radius[0], radius[1]);
  const step = Math.max(LEAST_STEP_RAD, 2 * Math.acos(Math.max(0, 1 - tolerance / r)));
  const count = Math.max(1, Math.ceil(Math.abs(sweepRad) / step));
  for (let i = 0; i <= count; i++) {
    const angle = (sweepRad * i) / count;
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    ring.push([centre[0] + radius[0] * cos - radius[1] * sin, centre[1] + radius[0] * sin + radius[1] * cos]);
  }
}
