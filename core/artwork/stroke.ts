/** A shape's stroke, line by line: each subpath, or each dash of it, with its centre line, width and outline. */
import { norm } from "../geometry/point.ts";
import { polylineLength } from "../geometry/polyline.ts";
import type { Matrix, Point, Polyline, Ring } from "../geometry/types.ts";
import { cutDashes, type Dash } from "./dashes.ts";
import type { Drawing } from "./drawing.ts";
import { type FlatSubpath, flattenSubpath } from "./flatten.ts";
import { numberList, PX_PER_MM } from "./lengths.ts";
import { MAX_DASHES } from "./limits.ts";
import { apply, determinant, greatestStretch, invert, isSimilarity, multiply, scaling } from "./matrix.ts";
import type { Subpath } from "./outline.ts";
import { leastMitredCosine, type Pen, strokeRings } from "./stroke-outline.ts";
import { CURVE_TOLERANCE_MM } from "./tolerance.ts";
import type { Shape } from "./walk.ts";

export interface StrokeLine {
  /** Centre line in millimetres; a closed one repeats its first point. A single point where it has no length. */
  readonly line: Polyline;
  /** The outline with caps and joins, in millimetres, to be united by the nonzero rule. */
  readonly rings: readonly Ring[];
}

export interface Stroke {
  readonly lines: readonly StrokeLine[];
  /** As seen; of a stroke stretched more one way than the other, the mean. */
  readonly widthMm: number;
  readonly pen: Pen;
}

/**
 * Of the tolerance, the centre line takes one half, and the offset from it the other.
 */
const HALF_TOLERANCE_MM = CURVE_TOLERANCE_MM / 2;

/** How often a curve is cut finer until its offset keeps the tolerance; one that still turns sharply has a cusp. */
const MOST_REFINEMENTS = 5;

/**
 * The stroke of a shape whose stroke width is above zero.
 *
 * The pen is round in the space that the stroke is made in: user space or, for a stroke of fixed width, that of
 * the sewn design. Where the transform stretches both ways alike, user space is replaced by millimetres.
 *
 * @param pxToMm from pixels of the outermost viewport, for strokes of fixed width
 */
export function strokeOf(shape: Shape, pxToMm: number, drawing: Drawing): Stroke {
  const { style, toMm, fixedStroke } = shape;
  const scale = fixedStroke ? pxToMm : Math.sqrt(Math.abs(determinant(toMm)));
  // From the space in which the pen is round, scaled so that its unit is about a millimetre.
  const penToMm: Matrix =
    fixedStroke || isSimilarity(toMm) ? [1, 0, 0, 1, 0, 0] : multiply(toMm, scaling(1 / scale));
  const userToPen = multiply(invert(penToMm), toMm);
  const widthMm = style.strokeWidth * scale;
  const pen: Pen = {
    halfWidth: widthMm / 2,
    cap: style.lineCap,
    join: style.lineJoin,
    miterLimit: style.miterLimit,
    tolerance: HALF_TOLERANCE_MM / greatestStretch(penToMm),
  };
  const toLine = ({ line, direction }: Dash): StrokeLine => {
    const centre = line.closed && line.points.length > 1 ? [...line.points, line.points[0]] : line.points;
    return {
      line: mapped(centre, penToMm),
      rings: strokeRings(line, pen, direction).map((ring) => mapped(ring, penToMm)),
    };
  };
  const lines: StrokeLine[] = [];
  for (const subpath of shape.outline) {
    // A lone moveto paints nothing, not even a cap.
    if (subpath.segments.length === 0 && !subpath.closed) continue;
    const flat = flattenForPen(subpath, userToPen, pen);
    drawing.countPoints(flat.points.length);
    for (const dash of dashesOf(flat, shape, scale, drawing)) lines.push(toLine(dash));
  }
  return { lines, widthMm, pen };
}

const mapped = (points: readonly Point[], matrix: Matrix): Point[] =>
  points.map((point) => apply(matrix, point));

/** One subpath, each curve of it cut finely enough that what the pen draws along it keeps the tolerance too. */
function flattenForPen(subpath: Subpath, toPen: Matrix, pen: Pen): FlatSubpath {
  const { start, segments } = subpath;
  const tolerances = segments.map((segment, k) =>
    segment.kind === "line"
      ? pen.tolerance
      : fineTolerance(
          { start: k === 0 ? start : segments[k - 1].to, segments: [segment], closed: false },
          toPen,
          pen,
        ),
  );
  return flattenSubpath(subpath, toPen, (k) => tolerances[k]);
}

/**
 * The coarsest tolerance at which a curve turns little enough from chord to chord. At a cusp no tolerance does, and
 * the usual one is kept: the pen rounds the cusp, and so stays as near the curve's stroke as the chords the curve.
 */
function fineTolerance(curve: Subpath, toPen: Matrix, pen: Pen): number {
  const least = leastMitredCosine(pen);
  for (let tries = 0; tries <= MOST_REFINEMENTS; tries++) {
    const tolerance = pen.tolerance / 4 ** tries;
    if (leastSmoothCosine(flattenSubpath(curve, toPen, () => tolerance)) >= least) return tolerance;
  }
  return pen.tolerance;
}

/** Cosine of the sharpest turn of a line within its curves. */
function leastSmoothCosine({ points, corners }: FlatSubpath): number {
  let least = 1;
  for (let i = 1; i + 1 < points.length; i++) {
    if (corners[i]) continue;
    const ax = points[i][0] - points[i - 1][0];
    const ay = points[i][1] - points[i - 1][1];
    const bx = points[i + 1][0] - points[i][0];
    const by = points[i + 1][1] - points[i][1];
    least = Math.min(least, (ax * bx + ay * by) / (norm(ax, ay) * norm(bx, by)));
  }
  return least;
}

function dashesOf(
  flat: FlatSubpath,
  { element, name, style }: Shape,
  scale: number,
  drawing: Drawing,
): Dash[] {
  const solid: Dash[] = [{ line: flat, direction: [1, 0] }];
  if (style.dashes.length === 0 || flat.points.length === 1) return solid;
  const length = polylineLength(flat.closed ? [...flat.points, flat.points[0]] : flat.points);
  const named = Number(numberList(element.attributes.pathLength ?? "").numbers[0]);
  const unit = named > 0 ? length / named : scale;
  const pattern = style.dashes.map((dash) => dash * unit);
  const sum = pattern.reduce((total, dash) => total + dash, 0);
  if ((length / sum) * (pattern.length / 2) > MAX_DASHES) {
    drawing.notes.add(
      "too-many-dashes",
      "warning",
      name,
      `The stroke of “${name}” has more than ${MAX_DASHES} dashes; it is sewn as a solid line.`,
      "Make the dashes longer.",
    );
    return solid;
  }
  return cutDashes(flat, pattern, style.dashOffset * unit);
}

/** Pixels of the outermost viewport are 1/96 inch before the drawing is scaled to its sewn size. */
export const MM_PER_PX = 1 / PX_PER_MM;
