/**
 * A triangle mesh as flat arrays.
 *
 * - Triangle t has the vertices `corners[3t]`, `corners[3t + 1]`, `corners[3t + 2]`, anticlockwise as seen.
 * - Half-edge e runs from `corners[e]` to `corners[nextEdge(e)]`, with its triangle on the left.
 * - `twins[e]` is the half-edge that runs the other way in the neighbouring triangle, -1 at the mesh's rim.
 * - Left and right are as seen in x right, y down.
 */
import { orient2d } from "robust-predicates";

export interface Mesh {
  /** x and y of each vertex in turn, mm. */
  readonly coords: Float64Array;
  readonly corners: Uint32Array;
  readonly twins: Int32Array;
}

/** The half-edge after e in its triangle. */
export const nextEdge = (e: number): number => (e % 3 === 2 ? e - 2 : e + 1);

/** The half-edge before e in its triangle. */
export const previousEdge = (e: number): number => (e % 3 === 0 ? e + 2 : e - 1);

export const triangleOf = (e: number): number => (e / 3) | 0;

/**
 * On which side of the line from vertex a to vertex b vertex c lies: above 0 left, below 0 right, 0 on it.
 * The sign is exact (Shewchuk, «Adaptive precision floating-point arithmetic and fast robust geometric
 * predicates», 1997), so that all decisions taken from it agree with one another.
 */
export const sideOf = (coords: Float64Array, a: number, b: number, c: number): number =>
  orient2d(
    coords[2 * a],
    coords[2 * a + 1],
    coords[2 * b],
    coords[2 * b + 1],
    coords[2 * c],
    coords[2 * c + 1],
  );
