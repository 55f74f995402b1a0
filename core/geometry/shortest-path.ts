/**
 * Exact shortest paths in a region with holes. The region is closed: a path may run along its edge and through
 * its vertices, but not through a point where only corners touch.
 *
 * Method: a shortest path is a taut string, straight but for bends round the region's vertices. A* goes from
 * bend to bend; the way to a bend that has come out shortest is settled, and the bends in sight of it are found
 * by letting its field of view spread through the triangle mesh. The field is a wedge between two rays; each
 * triangle it enters narrows it or parts it in two. From a bend only those directions are looked at that the
 * string could take: from straight on, turning towards what it bends round, up to the region's edge. These are
 * the search nodes of Polyanya (Cui, Harabor, Grastien, «Compromise-free pathfinding on a navigation mesh»,
 * IJCAI 2017); the spreading of the view is triangular expansion (Bungiu et al., «Efficient computation of
 * visibility polygons», 2014). Rays are kept as pairs of vertices, never as crossing points, so that each
 * decision is one exact predicate and corners in line with one another, touching rings and slivers make no
 * special cases. With A*'s lower bound, the distance as the crow flies, the first settled place that sees the
 * goal ends the search and the path is proven shortest.
 */
import TinyQueue from "tinyqueue";
import { type Bends, findBends, turnLeft } from "./bends.ts";
import { buildLocator, type Place } from "./locate.ts";
import { nextEdge, previousEdge, sideOf, triangleOf } from "./mesh.ts";
import { distance, norm } from "./point.ts";
import { polylineLength } from "./polyline.ts";
import { buildSightLineFinder } from "./sight-lines.ts";
import { OUTSIDE, type RegionMesh, triangulate } from "./triangulate.ts";
import type { Point, Polyline, Region } from "./types.ts";

/**
 * A point this far outside still counts as on the region's edge: polygon sums round to 1e-4 mm, by up to 0.7 of
 * that across the grid, on either side. Farther out there is no path.
 */
export const SNAP_MM = 2e-4;

export interface ShortestPath {
  /** From the start to the goal exactly as given; all points between are vertices of the region. */
  readonly points: Polyline;
  /** mm */
  readonly length: number;
}

export interface PathFinder {
  /** Null where the points lie in different components of the region, or farther outside than `SNAP_MM`. */
  shortestPath(from: Point, to: Point): ShortestPath | null;
  /** Number of the component that holds p, -1 if none does. */
  componentOf(p: Point): number;
}

/** Prepares a region for many path queries. Never throws: what can't be meshed is searched by sight lines. */
export function buildPathFinder(region: Region): PathFinder {
  const mesh = triangulate(region);
  return mesh === null ? buildSightLineFinder(region, SNAP_MM) : meshFinder(mesh);
}

function meshFinder(mesh: RegionMesh): PathFinder {
  const locate = buildLocator(mesh, SNAP_MM);
  const search = buildSearch(mesh, findBends(mesh));
  const componentsAt = (place: Place): number[] => place.triangles.map((t) => mesh.components[t]);
  return {
    componentOf(p) {
      const place = locate(p);
      return place === null ? OUTSIDE : mesh.components[place.triangles[0]];
    },
    shortestPath(from, to) {
      const start = locate(from);
      const goal = locate(to);
      if (start === null || goal === null) return null;
      const reachable = componentsAt(goal);
      if (!componentsAt(start).some((c) => reachable.includes(c))) return null;
      const bends = search(start, goal);
      if (bends === null) return null;
      const points = tidy([from, ...ifMoved(from, start), ...bends, ...ifMoved(to, goal), to]);
      return { points, length: polylineLength(points) };
    },
  };
}

/** The place that stands for a point, where it is too far from it to be left out: only ever in thin slivers. */
const ifMoved = (p: Point, place: Place): Point[] =>
  distance(p, place.point) > 2 * SNAP_MM ? [place.point] : [];

/** Leaves out inner points that repeat the one before or the last one. */
function tidy(points: readonly Point[]): Point[] {
  const last = points.length - 1;
  const same = (a: Point, b: Point): boolean => a[0] === b[0] && a[1] === b[1];
  return points.filter((p, i) => i === 0 || i === last || !(same(p, points[i - 1]) || same(p, points[last])));
}

/** The side that the string's obstacle is on, which it therefore turns to. */
const LEFT = 0;
const RIGHT = 1;

const NONE = -1;

/** A search for the bends of the shortest path between two places; null if no path joins them. */
function buildSearch(mesh: RegionMesh, bends: Bends): (start: Place, goal: Place) => Point[] | null {
  const { corners, twins, components } = mesh;
  const vertexCount = mesh.coords.length / 2;
  // Start and goal are two more points behind the mesh's own vertices.
  const start = vertexCount;
  const goal = vertexCount + 1;
  const coords = new Float64Array(2 * vertexCount + 4);
  coords.set(mesh.coords);

  // A state is a bend and a side: 2 · bend + side.
  const lengths = new Float64Array(2 * bends.vertex.length);
  const parents = new Int32Array(2 * bends.vertex.length);
  const goalStamps = new Uint32Array(components.length);
  let stamp = 0;

  const vertexOf = (state: number): number => (state === NONE ? start : bends.vertex[state >> 1]);
  const between = (v: number, w: number): number =>
    norm(coords[2 * v] - coords[2 * w], coords[2 * v + 1] - coords[2 * w + 1]);

  return (from, to) => {
    coords.set(from.point, 2 * start);
    coords.set(to.point, 2 * goal);
    lengths.fill(Number.POSITIVE_INFINITY);
    stamp++;
    for (const t of to.triangles) goalStamps[t] = stamp;
    // Fields of view still to be followed: half-edge, vertex on the right ray, vertex on the left ray.
    const views: number[] = [];
    const queue = new TinyQueue<{ state: number; g: number; f: number }>([], (a, b) => a.f - b.f);

    /** Takes note that `root`, at the end of a path of length g, sees the start of half-edge e. */
    const see = (e: number, root: number, state: number, g: number): void => {
      const bend = bends.at[e];
      if (bend < 0) return;
      const v = corners[e];
      const before = sideOf(coords, root, v, corners[previousEdge(bends.last[bend])]);
      const after = sideOf(coords, root, v, corners[nextEdge(bends.first[bend])]);
      // The string bends only if all that it could catch on lies on one side of it.
      if (before === 0 && after === 0) return;
      let side: number;
      if (before >= 0 && after >= 0) side = LEFT;
      else if (before <= 0 && after <= 0) side = RIGHT;
      else return;
      const next = 2 * bend + side;
      const length = g + between(root, v);
      if (length >= lengths[next]) return;
      lengths[next] = length;
      parents[next] = state;
      queue.push({ state: next, g: length, f: length + between(v, goal) });
    };

    /**
     * Follows the views from `root`, the last put in first, until none is left (false) or the goal is seen
     * (true). Where a view has no ray on one side, the line from `limitFrom` to `root` bounds it.
     */
    const spread = (root: number, limitFrom: number, state: number, g: number): boolean => {
      const sideOfRay = (ray: number, v: number): number =>
        ray === NONE ? sideOf(coords, limitFrom, root, v) : sideOf(coords, root, ray, v);
      while (views.length > 0) {
        const left = views.pop() as number;
        const right = views.pop() as number;
        const twin = twins[views.pop() as number];
        const t = triangleOf(twin);
        if (components[t] === OUTSIDE) continue;
        if (goalStamps[t] === stamp && sideOfRay(right, goal) >= 0 && sideOfRay(left, goal) <= 0) return true;
        const rightPart = nextEdge(twin);
        const leftPart = previousEdge(twin);
        const apex = corners[leftPart];
        const beyondRight = sideOfRay(right, apex);
        const beyondLeft = sideOfRay(left, apex);
        if (beyondRight >= 0 && beyondLeft <= 0) see(leftPart, root, state, g);
        if (beyondRight <= 0) {
          if (beyondLeft < 0) views.push(leftPart, right, left);
        } else if (beyondLeft >= 0) {
          views.push(rightPart, right, left);
        } else if (sideOf(coords, root, apex, goal) > 0) {
          views.push(rightPart, right, apex, leftPart, apex, left);
        } else {
          views.push(leftPart, apex, left, rightPart, right, apex);
        }
      }
      return false;
    };

    /** Looks all round from the start, last (so that it is followed first) towards the goal. */
    const spreadFromStart = (): boolean => {
      let towardsGoal = NONE;
      for (const t of from.triangles) {
        if (goalStamps[t] === stamp) return true;
        for (let e = 3 * t; e < 3 * t + 3; e++) {
          if (between(start, corners[e]) > 0) see(e, start, NONE, 0);
          const right = corners[e];
          const left = corners[nextEdge(e)];
          if (sideOf(coords, right, left, start) <= 0) continue;
          if (sideOf(coords, start, right, goal) >= 0 && sideOf(coords, start, left, goal) <= 0)
            towardsGoal = e;
          else views.push(e, right, left);
        }
      }
      if (towardsGoal !== NONE) views.push(towardsGoal, corners[towardsGoal], corners[nextEdge(towardsGoal)]);
      return spread(start, start, NONE, 0);
    };

    /** Looks from a bend to where the string can go on: from the region's edge back to straight on. */
    const spreadFromBend = (state: number): boolean => {
      const bend = state >> 1;
      const g = lengths[state];
      const root = bends.vertex[bend];
      const parent = vertexOf(parents[state]);
      const onLeft = (state & 1) === LEFT;
      let e = onLeft ? bends.last[bend] : bends.first[bend];
      while (components[triangleOf(e)] !== OUTSIDE) {
        const opposite = nextEdge(e);
        const right = corners[opposite];
        const left = corners[previousEdge(e)];
        const seesRight = !onLeft || sideOf(coords, parent, root, right) >= 0;
        const seesLeft = onLeft || sideOf(coords, parent, root, left) <= 0;
        const holdsLimit = onLeft
          ? sideOf(coords, parent, root, right) <= 0
          : sideOf(coords, parent, root, left) >= 0;
        if (goalStamps[triangleOf(e)] === stamp) {
          const side = holdsLimit ? sideOf(coords, parent, root, goal) : 0;
          if (onLeft ? side >= 0 : side <= 0) return true;
        }
        if (seesRight) see(opposite, root, state, g);
        if (seesLeft) see(previousEdge(e), root, state, g);
        views.push(opposite, onLeft && holdsLimit ? NONE : right, !onLeft && holdsLimit ? NONE : left);
        if (holdsLimit) break;
        e = onLeft ? nextEdge(twins[e]) : turnLeft(mesh, e);
      }
      return spread(root, parent, state, g);
    };

    const bendsUpTo = (last: number): Point[] => {
      const points: Point[] = [];
      for (let state = last; state !== NONE; state = parents[state]) {
        const v = vertexOf(state);
        points.push([coords[2 * v], coords[2 * v + 1]]);
      }
      return points.reverse();
    };

    if (spreadFromStart()) return [];
    for (let next = queue.pop(); next !== undefined; next = queue.pop()) {
      const isOutdated = next.g > lengths[next.state];
      if (!isOutdated && spreadFromBend(next.state)) return bendsUpTo(next.state);
    }
    return null;
  };
}
