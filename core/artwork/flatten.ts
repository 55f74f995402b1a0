/**
 * Curves to polylines that stay within a tolerance of the curve, after the full transform.
 *
 * Each curve is cut at equal steps of its parameter. The number of steps comes from a bound that is proven to
 * suffice, so nothing is subdivided by trial:
 *  - Béziers of degree n: steps ≥ √(n(n−1)/8 · M / tolerance), M the greatest second difference of the control
 *    points (G. Wang, 1984; the bound on linear interpolation by the second derivative, h²/8 · max|f″|).
 *  - Arcs: the affine image of a unit circle strays from its chord by at most the larger stretch of the map times
 *    the sagitta 1 − cos(step/2).
 */
import { norm } from "../geometry/point.ts";
import type { Matrix, Point } from "../geometry/types.ts";
import { centreOfArc } from "./arc.ts";
import { requirePoints } from "./limits.ts";
import { apply, applyVector, greatestStretch } from "./matrix.ts";
import type { ArcSegment, Outline, Subpath } from "./outline.ts";

export interface FlatSubpath {
  /** Without consecutive duplicates; of a closed subpath, the first point is not repeated at the end. */
  readonly points: readonly Point[];
  /** For each point, whether two segments meet there. Elsewhere the curve runs on smoothly. */
  readonly corners: readonly boolean[];
  readonly closed: boolean;
}

/** The most steps of one curve: reached only by curves metres long. */
const MAX_STEPS = 4096;

/**
 * The outline as polylines.
 *
 * @param toTarget from the outline's units to those of the result
 * @param tolerance in units of the result, above zero
 * @throws ArtworkError where a subpath has more points than the limit
 */
export const flatten = (outline: Outline, toTarget: Matrix, tolerance: number): FlatSubpath[] =>
  outline.map((subpath) => flattenSubpath(subpath, toTarget, () => tolerance));

/** One subpath, each segment within a tolerance of its own, which is asked by the segment's place. */
export function flattenSubpath(
  subpath: Subpath,
  toTarget: Matrix,
  toleranceOf: (segment: number) => number,
): FlatSubpath {
  const points: Point[] = [apply(toTarget, subpath.start)];
  const corners: boolean[] = [true];
  const add = (point: Point, corner: boolean): void => {
    const last = points[points.length - 1];
    if (last[0] === point[0] && last[1] === point[1]) {
      if (corner) corners[corners.length - 1] = true;
      return;
    }
    points.push(point);
    corners.push(corner);
    requirePoints(points.length);
  };

  let from = subpath.start;
  for (const [k, segment] of subpath.segments.entries()) {
    const start = points[points.length - 1];
    const tolerance = toleranceOf(k);
    const end = apply(toTarget, segment.to);
    switch (segment.kind) {
      case "quadratic":
        quadraticPoints(start, apply(toTarget, segment.control), end, tolerance, add);
        break;
      case "cubic":
        cubicPoints(
          start,
          apply(toTarget, segment.control1),
          apply(toTarget, segment.control2),
          end,
          tolerance,
          add,
        );
        break;
      case "arc":
        arcPoints(from, segment, toTarget, tolerance, add);
        break;
    }
    add(end, true);
    from = segment.to;
  }

  if (subpath.closed && points.length > 1) {
    const [first, last] = [points[0], points[points.length - 1]];
    if (first[0] === last[0] && first[1] === last[1]) {
      points.pop();
      corners.pop();
    }
  }
  return { points, corners, closed: subpath.closed };
}

type Add = (point: Point, corner: boolean) => void;

const steps = (ratio: number): number => Math.min(MAX_STEPS, Math.max(1, Math.ceil(Math.sqrt(ratio))));

function quadraticPoints(p0: Point, p1: Point, p2: Point, tolerance: number, add: Add): void {
  const ax = p0[0] - 2 * p1[0] + p2[0];
  const ay = p0[1] - 2 * p1[1] + p2[1];
  const count = steps(norm(ax, ay) / (4 * tolerance));
  for (let i = 1; i < count; i++) {
    const t = i / count;
    const s = 1 - t;
    add(
      [s * s * p0[0] + 2 * s * t * p1[0] + t * t * p2[0], s * s * p0[1] + 2 * s * t * p1[1] + t * t * p2[1]],
      false,
    );
  }
}

function cubicPoints(p0: Point, p1: Point, p2: Point, p3: Point, tolerance: number, add: Add): void {
  const first = norm(p0[0] - 2 * p1[0] + p2[0], p0[1] - 2 * p1[1] + p2[1]);
  const second = norm(p1[0] - 2 * p2[0] + p3[0], p1[1] - 2 * p2[1] + p3[1]);
  const count = steps((0.75 * Math.max(first, second)) / tolerance);
  for (let i = 1; i < count; i++) {
    const t = i / count;
    const s = 1 - t;
    const b0 = s * s * s;
    const b1 = 3 * s * s * t;
    const b2 = 3 * s * t * t;
    const b3 = t * t * t;
    add(
      [b0 * p0[0] + b1 * p1[0] + b2 * p2[0] + b3 * p3[0], b0 * p0[1] + b1 * p1[1] + b2 * p2[1] + b3 * p3[1]],
      false,
    );
  }
}

function arcPoints(from: Point, segment: ArcSegment, toTarget: Matrix, tolerance: number, add: Add): void {
  const arc = centreOfArc(from, segment);
  if (arc === null) return;
  const cos = Math.cos(arc.rotationRad);
  const sin = Math.sin(arc.rotationRad);
  const centre = apply(toTarget, arc.centre);
  const u = applyVector(toTarget, [arc.rx * cos, arc.rx * sin]);
  const v = applyVector(toTarget, [-arc.ry * sin, arc.ry * cos]);
  const stretch = greatestStretch([u[0], u[1], v[0], v[1], 0, 0]);
  const widestStep = 2 * Math.acos(Math.max(0, 1 - tolerance / stretch));
  const count = Math.min(MAX_STEPS, Math.max(1, Math.ceil(Math.abs(arc.sweepRad) / widestStep)));
  for (let i = 1; i < count; i++) {
    const angle = arc.startRad + (arc.sweepRad * i) / count;
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    add([centre[0] + c * u[0] + s * v[0], centre[1] + c * u[1] + s * v[1]], false);
  }
}
