/**
 * Finds the triangles of a region's mesh that hold a point. Method: a walk through the mesh, each step over an
 * edge that has the point on its far side (Devillers, Pion, Teillaud, «Walking in a triangulation», 2002), from
 * where the last one ended. In a mesh that is not Delaunay a walk can go in circles; then all triangles are
 * looked at.
 */
import { orient2d } from "robust-predicates";
import { nextEdge, previousEdge, triangleOf } from "./mesh.ts";
import { lerp, nearestOnSegment, squaredDistance } from "./point.ts";
import { OUTSIDE, type RegionMesh } from "./triangulate.ts";
import type { Point } from "./types.ts";

export interface Place {
  /** The point itself, or if that is outside the region the place near its edge that stands for it. */
  readonly point: Point;
  /** The triangles inside the region that hold `point`: one, or those round the edge or vertex it lies on. */
  readonly triangles: readonly number[];
}

/** Where a point lies; null where it is farther than `snapMm` from the region. */
export type Locator = (p: Point) => Place | null;

export function buildLocator(mesh: RegionMesh, snapMm: number): Locator {
  let last = 0;
  return (p) => {
    const found = walkTo(mesh, p, last) ?? search(mesh, p);
    if (found !== null) {
      last = found;
      const triangles = sharing(mesh, p, found).filter((t) => mesh.components[t] !== OUTSIDE);
      if (triangles.length > 0) return { point: p, triangles };
    }
    return snap(mesh, p, snapMm);
  };
}

/** The side of half-edge e that p is on: above 0 left, where e's triangle is. */
function sideOfPoint({ coords, corners }: RegionMesh, e: number, p: Point): number {
  const a = corners[e];
  const b = corners[nextEdge(e)];
  return orient2d(coords[2 * a], coords[2 * a + 1], coords[2 * b], coords[2 * b + 1], p[0], p[1]);
}

const holds = (mesh: RegionMesh, t: number, p: Point): boolean =>
  sideOfPoint(mesh, 3 * t, p) >= 0 &&
  sideOfPoint(mesh, 3 * t + 1, p) >= 0 &&
  sideOfPoint(mesh, 3 * t + 2, p) >= 0;

function walkTo(mesh: RegionMesh, p: Point, start: number): number | null {
  let t = start;
  let entry = -1;
  for (let steps = mesh.components.length; steps > 0; steps--) {
    let exit = -1;
    for (let e = 3 * t; e < 3 * t + 3 && exit < 0; e++)
      if (e !== entry && sideOfPoint(mesh, e, p) < 0) exit = e;
    if (exit < 0) return t;
    entry = mesh.twins[exit];
    if (entry < 0) return null;
    t = triangleOf(entry);
  }
  return null;
}

function search(mesh: RegionMesh, p: Point): number | null {
  for (let t = 0; t < mesh.components.length; t++) if (holds(mesh, t, p)) return t;
  return null;
}

/** The triangles that hold p, given one of them. */
function sharing(mesh: RegionMesh, p: Point, t: number): number[] {
  const { corners, twins } = mesh;
  const on = [3 * t, 3 * t + 1, 3 * t + 2].filter((e) => sideOfPoint(mesh, e, p) === 0);
  if (on.length === 0) return [t];
  if (on.length === 1) return twins[on[0]] < 0 ? [t] : [t, triangleOf(twins[on[0]])];
  // Two of its edges pass through p: p is the vertex between them. Round it goes.
  const first = on[0] === 3 * t && on[1] === 3 * t + 2 ? on[0] : on[1];
  const found: number[] = [];
  let e = first;
  do {
    found.push(triangleOf(e));
    e = twins[previousEdge(e)];
  } while (e >= 0 && e !== first && found.length <= corners.length);
  return found;
}

/**
 * Shares of the way from the edge to its triangle's centre that a snapped point is moved inwards, so that it lies
 * in the triangle beyond rounding. The least one that does is taken: in all but slivers the first.
 */
const INWARD_SHARES = [1e-9, 1e-7, 1e-5, 1e-3, 0.1, 1];

function snap(mesh: RegionMesh, p: Point, snapMm: number): Place | null {
  const { coords, corners, components } = mesh;
  const vertex = (e: number): Point => [coords[2 * corners[e]], coords[2 * corners[e] + 1]];
  let nearest = snapMm ** 2;
  let edge = -1;
  let onEdge = p;
  for (let e = 0; e < corners.length; e++) {
    if (components[triangleOf(e)] === OUTSIDE) continue;
    const twin = mesh.twins[e];
    if (components[triangleOf(twin)] !== OUTSIDE) continue;
    const a = vertex(e);
    const b = vertex(nextEdge(e));
    if (!isNearBox(p, a, b, snapMm)) continue;
    const q = nearestOnSegment(p, a, b);
    const d = squaredDistance(p, q);
    if (d < nearest || (d === nearest && edge < 0)) {
      nearest = d;
      edge = e;
      onEdge = q;
    }
  }
  if (edge < 0) return null;
  const [a, b, c] = [vertex(edge), vertex(nextEdge(edge)), vertex(previousEdge(edge))];
  const centre: Point = [(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3];
  const t = triangleOf(edge);
  for (const share of INWARD_SHARES) {
    const point = lerp(onEdge, centre, share);
    if (holds(mesh, t, point)) return { point, triangles: [t] };
  }
  // Thinner than rounding: a vertex of it is surely in it.
  return { point: a, triangles: [t] };
}

const isNearBox = (p: Point, a: Point, b: Point, by: number): boolean =>
  p[0] >= Math.min(a[0], b[0]) - by &&
  p[0] <= Math.max(a[0], b[0]) + by &&
  p[1] >= Math.min(a[1], b[1]) - by &&
  p[1] <= Math.max(a[1], b[1]) + by;
