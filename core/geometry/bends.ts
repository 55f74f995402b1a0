/**
 * The places where a taut string can bend. A string pulled tight inside a region bends only round a vertex where
 * the region's inside takes up more than half a turn: a `Bend`. A vertex that rings touch has several sectors of
 * inside round it, parted by outside; at most one of them is more than half a turn, and a string in another
 * sector passes by.
 */
import { type Mesh, nextEdge, previousEdge, sideOf, triangleOf } from "./mesh.ts";
import { OUTSIDE, type RegionMesh } from "./triangulate.ts";

export interface Bends {
  /** For each half-edge the bend at its start, in its triangle's sector; -1 for none. */
  readonly at: Int32Array;
  /** For each bend its vertex. */
  readonly vertex: readonly number[];
  /** For each bend the half-edge of the region's edge that starts there; the sector lies on its left. */
  readonly first: readonly number[];
  /** For each bend the half-edge, starting there, of the last triangle of its sector, going anticlockwise. */
  readonly last: readonly number[];
}

/** The half-edge from the same vertex next to e, anticlockwise; -1 beyond the mesh. */
export const turnLeft = ({ twins }: Mesh, e: number): number => twins[previousEdge(e)];

export function findBends(mesh: RegionMesh): Bends {
  const { corners, coords, components, twins } = mesh;
  const at = new Int32Array(corners.length).fill(-1);
  const vertex: number[] = [];
  const first: number[] = [];
  const last: number[] = [];
  const isInside = (e: number): boolean => e >= 0 && components[triangleOf(e)] !== OUTSIDE;
  for (let e = 0; e < corners.length; e++) {
    if (!isInside(e) || isInside(twins[e])) continue;
    let end = e;
    while (isInside(turnLeft(mesh, end))) end = turnLeft(mesh, end);
    const v = corners[e];
    const before = corners[previousEdge(end)];
    const after = corners[nextEdge(e)];
    if (sideOf(coords, before, v, after) >= 0) continue;
    for (let f = e; ; f = turnLeft(mesh, f)) {
      at[f] = vertex.length;
      if (f === end) break;
    }
    vertex.push(v);
    first.push(e);
    last.push(end);
  }
  return { at, vertex, first, last };
}
