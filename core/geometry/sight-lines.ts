/**
 * Shortest paths without a mesh: A* over the visibility graph of the region's vertices, its edges tried one by
 * one as they are needed. Slow (each settled vertex tries a line to every other), but it asks nothing of the
 * rings: whatever they are, it ends. It serves regions that `triangulate` gives up. In contrast to the mesh it
 * lets a path pass through a point where only corners of one polygon touch.
 */
import TinyQueue from "tinyqueue";
import { SAME_POINT_MM } from "../constants.ts";
import { buildBoxIndex } from "./box-index.ts";
import { boxOf, distance, growBox, lerp, nearestFraction } from "./point.ts";
import { polylineLength } from "./polyline.ts";
import { nearestOnEdge, regionContains, ringsOf } from "./region.ts";
import type { PathFinder, ShortestPath } from "./shortest-path.ts";
import type { Point, Polygon, Region } from "./types.ts";

/** A path finder that needs no mesh. Components are the region's polygons; see `PathFinder`. */
export function buildSightLineFinder(region: Region, snapMm: number): PathFinder {
  const polygons = region.filter(({ outer }) =>
    outer.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y)),
  );
  const searches = polygons.map((polygon) => lazily(() => searchIn(polygon, snapMm)));
  const componentOf = (p: Point): number => polygons.findIndex((polygon) => isWithin([polygon], p, snapMm));
  return {
    componentOf,
    shortestPath(from, to) {
      const component = componentOf(from);
      if (component < 0 || !isWithin([polygons[component]], to, snapMm)) return null;
      return searches[component]()(from, to);
    },
  };
}

function lazily<T>(make: () => T): () => T {
  let made: { value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

const isWithin = (region: Region, p: Point, by: number): boolean =>
  regionContains(region, p) || nearestOnEdge(region, p).distance <= by;

function searchIn(polygon: Polygon, snapMm: number): (from: Point, to: Point) => ShortestPath | null {
  const vertices = ringsOf([polygon]).flat();
  const isSightLine = sightLinesIn(polygon, snapMm);
  return (from, to) => {
    const points = [from, ...vertices, to];
    const goal = points.length - 1;
    const lengths = points.map(() => Number.POSITIVE_INFINITY);
    const parents = points.map(() => -1);
    const settled = points.map(() => false);
    const queue = new TinyQueue<{ at: number; f: number }>([{ at: 0, f: 0 }], (a, b) => a.f - b.f);
    lengths[0] = 0;
    for (let next = queue.pop(); next !== undefined; next = queue.pop()) {
      const at = next.at;
      if (settled[at]) continue;
      if (at === goal) break;
      settled[at] = true;
      for (let i = 1; i < points.length; i++) {
        const length = lengths[at] + distance(points[at], points[i]);
        if (length >= lengths[i] || !isSightLine(points[at], points[i])) continue;
        lengths[i] = length;
        parents[i] = at;
        queue.push({ at: i, f: length + distance(points[i], to) });
      }
    }
    if (parents[goal] < 0) return null;
    const path: Point[] = [];
    for (let i = goal; i >= 0; i = parents[i]) path.push(points[i]);
    path.reverse();
    return { points: path, length: polylineLength(path) };
  };
}

/** Whether the straight line between two points stays in the polygon, give or take `snapMm`. */
function sightLinesIn(polygon: Polygon, snapMm: number): (a: Point, b: Point) => boolean {
  const edges = ringsOf([polygon]).flatMap((ring) =>
    ring.map((p, i): [Point, Point] => [p, ring[(i + 1) % ring.length]]),
  );
  const index = buildBoxIndex(edges.map(boxOf));
  return (a, b) => {
    const length = distance(a, b);
    if (length <= SAME_POINT_MM) return true;
    const stops = [0, 1];
    for (const i of index.search(growBox(boxOf([a, b]), snapMm))) {
      const [c, d] = edges[i];
      for (const p of [c, d]) stops.push(nearestFraction(p, a, b));
      const crossing = crossingFraction(a, b, c, d);
      if (crossing !== null) stops.push(crossing);
    }
    stops.sort((s, t) => s - t);
    // Between two stops the line meets no edge, so the middle speaks for the whole stretch.
    return stops.every(
      (t, i) =>
        i === 0 ||
        (t - stops[i - 1]) * length <= SAME_POINT_MM ||
        isWithin([polygon], lerp(a, b, (t + stops[i - 1]) / 2), snapMm),
    );
  };
}

/** The fraction of ab at which it crosses cd, null if it does not. */
function crossingFraction(a: Point, b: Point, c: Point, d: Point): number | null {
  const side = (p: Point, q: Point, r: Point): number =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  const sideA = side(c, d, a);
  const sideB = side(c, d, b);
  if (sideA * sideB >= 0 || side(a, b, c) * side(a, b, d) >= 0) return null;
  return sideA / (sideA - sideB);
}
