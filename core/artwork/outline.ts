/**
 * The outline of a graphics element in its own user units, before any transform: what every basic shape and
 * every path command comes down to.
 */
import type { Point } from "../geometry/types.ts";

export interface LineSegment {
  readonly kind: "line";
  readonly to: Point;
}
export interface QuadraticSegment {
  readonly kind: "quadratic";
  readonly control: Point;
  readonly to: Point;
}
export interface CubicSegment {
  readonly kind: "cubic";
  readonly control1: Point;
  readonly control2: Point;
  readonly to: Point;
}
/** An elliptical arc in endpoint form, as in path data. */
export interface ArcSegment {
  readonly kind: "arc";
  readonly rx: number;
  readonly ry: number;
  /** From the user x axis to the ellipse's, towards the y axis. */
  readonly rotationDeg: number;
  readonly largeArc: boolean;
  readonly sweep: boolean;
  readonly to: Point;
}
export type Segment = LineSegment | QuadraticSegment | CubicSegment | ArcSegment;

export interface Subpath {
  readonly start: Point;
  readonly segments: readonly Segment[];
  /** Ended by a closepath: the stroke joins there instead of being capped. */
  readonly closed: boolean;
}

export type Outline = readonly Subpath[];
