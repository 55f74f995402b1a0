/**
 * The words of plane geometry. Everything is in millimetres, x right, y down, unless a name says otherwise.
 *
 * - A `Ring` is closed implicitly: its last point is not its first.
 * - A `Polygon` is one outer ring and the holes in it. Seen in x right, y down, the outer ring has positive
 *   shoelace area and every hole negative.
 * - A `Region` is a set of polygons whose interiors do not overlap.
 */

export type Point = readonly [x: number, y: number];

export type Polyline = readonly Point[];

export type Ring = readonly Point[];

export interface Polygon {
  readonly outer: Ring;
  readonly holes: readonly Ring[];
}

export type Region = readonly Polygon[];

export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** Affine map as in SVG: x' = a·x + c·y + e, y' = b·x + d·y + f. */
export type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number];
