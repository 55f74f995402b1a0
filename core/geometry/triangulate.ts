/**
 * Triangulates a region: every ring edge becomes a chain of mesh edges, every triangle lies wholly inside or
 * wholly outside, and the triangles inside know which component of the region they are part of.
 *
 * Method: Delaunay triangulation of the rings' vertices and of a box far around them (so that no ring vertex
 * lies on the rim); the ring edges are forced in; from the rim inwards, each ring edge leads from outside to inside
 * or back (the even-odd rule, as in `regionContains`: it stays right where a sum of touching polygons names an
 * outer ring a hole). Rings need not be simple: they may touch, share edges, or cross by a rounding error. A
 * crossing becomes a vertex and the mesh is built again.
 */

import Delaunator from "delaunator";
import { type ConstrainedMesh, constrainable, insertEdge } from "./constrained-mesh.ts";
import { type Mesh, nextEdge, sideOf, triangleOf } from "./mesh.ts";
import { norm } from "./point.ts";
import { ringsOf } from "./region.ts";
import type { Point, Region } from "./types.ts";

export const OUTSIDE = -1;

export interface RegionMesh extends Mesh {
  /** For each triangle the component of the region that it is part of, or `OUTSIDE`. */
  readonly components: Int32Array;
}

/** An edge of a ring. */
interface Edge {
  readonly from: number;
  readonly to: number;
}

/**
 * Crossings of one edge are found one a round, and a region has none but those that rounding made: a few rounds
 * settle them. At this limit the region is given up, and the caller takes a method without a mesh.
 */
const MAX_ROUNDS = 24;

/** The mesh of a region; null if it has no area, or its rings cross so often that no mesh comes of it. */
export function triangulate(region: Region): RegionMesh | null {
  if (!hasFiniteCoords(region)) return null;
  const vertices = vertexTable();
  let edges = ringEdges(region, vertices);
  if (edges.length < 3) return null;
  for (let round = 0; round < MAX_ROUNDS; round++) {
    const mesh = constrainable(delaunay(vertices.points));
    if (!isSound(mesh)) return null;
    const crossings = insertAll(mesh, edges, vertices);
    if (crossings === null) return null;
    if (crossings.size === 0) return isSound(mesh) ? { ...mesh, components: components(mesh) } : null;
    edges = splitEdges(edges, crossings, vertices.points);
  }
  return null;
}

const hasFiniteCoords = (region: Region): boolean =>
  region.every(({ outer, holes }) =>
    [outer, ...holes].every((ring) => ring.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y))),
  );

interface VertexTable {
  readonly points: Point[];
  /** The number of the vertex at p, which is added if it is new. */
  numberOf(p: Point): number;
}

function vertexTable(): VertexTable {
  const points: Point[] = [];
  const numbers = new Map<number, number>();
  return {
    points,
    numberOf(p) {
      // An arbitrary slope that grid points seldom share; where two do, the next free key is taken.
      let key = p[0] + p[1] * 0.7548776662466927;
      let found = numbers.get(key);
      while (found !== undefined && (points[found][0] !== p[0] || points[found][1] !== p[1])) {
        key = key * 1.0000000001 + 1;
        found = numbers.get(key);
      }
      if (found !== undefined) return found;
      numbers.set(key, points.length);
      return points.push(p) - 1;
    },
  };
}

function ringEdges(region: Region, vertices: VertexTable): Edge[] {
  return ringsOf(region).flatMap((ring) => {
    const numbers = ring.map((p) => vertices.numberOf(p));
    return numbers
      .map((from, i): Edge => ({ from, to: numbers[(i + 1) % numbers.length] }))
      .filter(({ from, to }) => from !== to);
  });
}

/** Delaunay triangulation of the points and of the corners of a box around them. */
function delaunay(points: readonly Point[]): Mesh {
  const coords = new Float64Array(2 * points.length + 8);
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < points.length; i++) {
    const [x, y] = points[i];
    coords[2 * i] = x;
    coords[2 * i + 1] = y;
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  const margin = Math.max(maxX - minX, maxY - minY) || 1;
  coords.set(
    [
      [minX - margin, minY - margin],
      [maxX + margin, minY - margin],
      [maxX + margin, maxY + margin],
      [minX - margin, maxY + margin],
    ].flat(),
    2 * points.length,
  );
  const { triangles, halfedges } = new Delaunator(coords);
  return {
    coords,
    corners: triangles as Uint32Array,
    twins: halfedges as Int32Array,
  };
}

/** Forces the edges in. For each edge that crosses others: the vertices to split it at. Null if it can't be done. */
function insertAll(
  mesh: ConstrainedMesh,
  edges: readonly Edge[],
  vertices: VertexTable,
): Map<number, number[]> | null {
  const crossings = new Map<number, number[]>();
  const split = (edge: number, vertex: number): void => {
    const { from, to } = edges[edge];
    if (vertex === from || vertex === to) return;
    const list = crossings.get(edge);
    if (list === undefined) crossings.set(edge, [vertex]);
    else if (!list.includes(vertex)) list.push(vertex);
  };
  // Splitting adds points; the coordinates of this round stay as they are.
  for (let i = 0; i < edges.length; i++) {
    const { from, to } = edges[i];
    const insertion = insertEdge(mesh, from, to, i);
    if (insertion.outcome === "broken") return null;
    if (insertion.outcome === "inserted") continue;
    const e = insertion.halfEdge;
    const at = vertices.numberOf(
      crossingOf(
        vertices.points[from],
        vertices.points[to],
        vertices.points[mesh.corners[e]],
        vertices.points[mesh.corners[nextEdge(e)]],
      ),
    );
    split(i, at);
    split(mesh.owners[e], at);
    if (crossings.size === 0) return null;
  }
  return crossings;
}

/**
 * Crossing points are rounded to this many parts of a millimetre, so that lines which cross in one place make one
 * vertex there. It is a thousandth of the grid that regions come on, and moves an edge by less than 0.1 nm.
 */
const CROSSING_UNITS_PER_MM = 1e7;

/** Where the line ab meets segment cd, which it is known to cross. */
function crossingOf(a: Point, b: Point, c: Point, d: Point): Point {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const sideC = dx * (c[1] - a[1]) - dy * (c[0] - a[0]);
  const sideD = dx * (d[1] - a[1]) - dy * (d[0] - a[0]);
  const t = sideC === sideD ? 0.5 : sideC / (sideC - sideD);
  const round = (value: number): number => Math.round(value * CROSSING_UNITS_PER_MM) / CROSSING_UNITS_PER_MM;
  return [round(c[0] + (d[0] - c[0]) * t), round(c[1] + (d[1] - c[1]) * t)];
}

function splitEdges(
  edges: readonly Edge[],
  crossings: ReadonlyMap<number, number[]>,
  points: readonly Point[],
): Edge[] {
  return edges.flatMap((edge, i) => {
    const [x, y] = points[edge.from];
    const along = (v: number): number => norm(points[v][0] - x, points[v][1] - y);
    const stops = (crossings.get(i) ?? []).sort((v, w) => along(v) - along(w));
    const chain = [edge.from, ...stops, edge.to];
    return chain.slice(1).map((to, k) => ({ from: chain[k], to }));
  });
}

/** Whether every triangle turns left: with the closed rim of the box, that makes the mesh a triangulation. */
function isSound({ coords, corners }: Mesh): boolean {
  for (let e = 0; e < corners.length; e += 3)
    if (sideOf(coords, corners[e], corners[e + 1], corners[e + 2]) <= 0) return false;
  return true;
}

/** Numbers the components of the inside, in the order of their first triangles. */
function components(mesh: ConstrainedMesh): Int32Array {
  const { twins } = mesh;
  const isInside = insideTriangles(mesh);
  const component = new Int32Array(isInside.length).fill(OUTSIDE);
  const open: number[] = [];
  let count = 0;
  for (let first = 0; first < isInside.length; first++) {
    if (isInside[first] === 0 || component[first] !== OUTSIDE) continue;
    component[first] = count;
    open.push(first);
    for (let t = open.pop(); t !== undefined; t = open.pop()) {
      for (let e = 3 * t; e < 3 * t + 3; e++) {
        const beyond = triangleOf(twins[e]);
        if (isInside[beyond] === 0 || component[beyond] !== OUTSIDE) continue;
        component[beyond] = count;
        open.push(beyond);
      }
    }
    count++;
  }
  return component;
}

/** For each triangle 1 inside, 0 outside. */
function insideTriangles({ twins, parities }: ConstrainedMesh): Uint8Array {
  const isInside = new Uint8Array(twins.length / 3);
  const seen = new Uint8Array(isInside.length);
  const start = triangleOf(twins.indexOf(-1));
  const open = [start];
  seen[start] = 1;
  for (let t = open.pop(); t !== undefined; t = open.pop()) {
    for (let e = 3 * t; e < 3 * t + 3; e++) {
      const twin = twins[e];
      if (twin < 0) continue;
      const beyond = triangleOf(twin);
      if (seen[beyond] === 1) continue;
      seen[beyond] = 1;
      isInside[beyond] = isInside[t] ^ parities[e];
      open.push(beyond);
    }
  }
  return isInside;
}
