/**
 * The words of plane geometry. Everything is in millimetres, x right, y down, unless a name says otherwise.
 *
 * - A `Ring` is closed implicitly: its last point is not its first.
 * - A `Polygon` is one outer ring and the holes in it. Seen in x right, y down, the outer ring has positive
 *   shoelace area and every hole negative.
 * - A `Region` is a set of polygons whose interiors do not overlap.
 */

/** A place. */
export type Point = readonly [x: number, y: number];

/** A line from point to point. */
export type Polyline = readonly Point[];

/** A closed line; its first point is not repeated. */
export type Ring = readonly Point[];

/** An area with one outline, and what is cut out of it. */
export interface Polygon {
  readonly outer: Ring;
  readonly holes: readonly Ring[];
}

/** Any number of areas that do not overlap; none is the empty region. */
export type Region = readonly Polygon[];

/** A rectangle along the axes that just holds something. */
export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** Affine map as in SVG: x' = a·x + c·y + e, y' = b·x + d·y + f. */
export type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number];
