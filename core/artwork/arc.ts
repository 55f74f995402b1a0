/**
 * Elliptical arcs from endpoint form, as path data give them, to centre form: SVG 2, appendix B.2 (SVG 1.1,
 * F.6.5 and F.6.6), with radii too small for their chord scaled up.
 */
import type { Point } from "../geometry/types.ts";
import type { ArcSegment } from "./outline.ts";

export interface CentreArc {
  readonly centre: Point;
  readonly rx: number;
  readonly ry: number;
  readonly rotationRad: number;
  /** Of the ellipse's parameter, not of the drawn angle. */
  readonly startRad: number;
  /** Positive from the x axis towards the y axis. */
  readonly sweepRad: number;
}

/** Centre form, or `null` where SVG draws no arc: a zero radius makes a straight line, equal ends make nothing. */
export function centreOfArc(from: Point, arc: ArcSegment): CentreArc | null {
  const [x1, y1] = from;
  const [x2, y2] = arc.to;
  if (arc.rx === 0 || arc.ry === 0 || (x1 === x2 && y1 === y2)) return null;
  const rotationRad = (arc.rotationDeg * Math.PI) / 180;
  const cos = Math.cos(rotationRad);
  const sin = Math.sin(rotationRad);
  const halfX = (x1 - x2) / 2;
  const halfY = (y1 - y2) / 2;
  const ux = cos * halfX + sin * halfY;
  const uy = -sin * halfX + cos * halfY;

  const shortfall = (ux / arc.rx) ** 2 + (uy / arc.ry) ** 2;
  const enlarge = shortfall > 1 ? Math.sqrt(shortfall) : 1;
  const rx = arc.rx * enlarge;
  const ry = arc.ry * enlarge;

  const across = (rx * uy) ** 2 + (ry * ux) ** 2;
  const size = Math.sqrt(Math.max(0, ((rx * ry) ** 2 - across) / across));
  const signed = arc.largeArc === arc.sweep ? -size : size;
  const cx = (signed * rx * uy) / ry;
  const cy = (-signed * ry * ux) / rx;

  const startRad = Math.atan2((uy - cy) / ry, (ux - cx) / rx);
  let sweepRad = Math.atan2((-uy - cy) / ry, (-ux - cx) / rx) - startRad;
  if (arc.sweep && sweepRad < 0) sweepRad += 2 * Math.PI;
  if (!arc.sweep && sweepRad > 0) sweepRad -= 2 * Math.PI;
  return {
    centre: [cos * cx - sin * cy + (x1 + x2) / 2, sin * cx + cos * cy + (y1 + y2) / 2],
    rx,
    ry,
    rotationRad,
    startRad,
    sweepRad,
  };
}
