/**
 * Least distance between shapes. It lies between two edges, unless one shape holds the other or they overlap,
 * when it is 0. Edges are compared only where their boxes come nearer than the best found so far; above
 * `INDEX_FROM` edges an index finds those.
 */
import { orient2d } from "robust-predicates";
import { buildBoxIndex } from "./box-index.ts";
import {
  boxesMeet,
  boxOf,
  distance,
  EMPTY_BOX,
  growBox,
  joinBoxes,
  lerp,
  nearestOnSegment,
  squaredDistance,
} from "./point.ts";
import { regionContains, ringsOf } from "./region.ts";
import type { Box, Point, Polyline, Region } from "./types.ts";

/** Below this many edges, comparing them all is quicker than building an index of them. */
const INDEX_FROM = 64;

export interface Gap {
  /** mm */
  readonly distance: number;
  /** Where the first shape comes nearest to the second. */
  readonly from: Point;
  /** Where the second shape comes nearest to the first. */
  readonly to: Point;
}

/**
 * The least distance between two regions: 0 with a common point where they overlap, touch, or one holds the
 * other; null where they are farther apart than `limitMm`, or one is empty.
 */
export function regionDistance(a: Region, b: Region, limitMm: number): Gap | null {
  const common =
    outerPoints(a).find((p) => regionContains(b, p)) ?? outerPoints(b).find((p) => regionContains(a, p));
  if (common !== undefined) return { distance: 0, from: common, to: common };
  return edgeGap(regionEdges(a), regionEdges(b), limitMm);
}

/** The same between an open polyline (of one point or more) and a region. */
export function polylineRegionDistance(line: Polyline, region: Region, limitMm: number): Gap | null {
  if (line.length > 0 && regionContains(region, line[0])) return { distance: 0, from: line[0], to: line[0] };
  return edgeGap(lineEdges(line), regionEdges(region), limitMm);
}

/** One point of each polygon: where no edges meet, it speaks for the whole polygon. */
const outerPoints = (region: Region): Point[] => region.flatMap(({ outer }) => outer.slice(0, 1));

interface Edge {
  readonly start: Point;
  readonly end: Point;
  readonly box: Box;
}

interface Edges {
  readonly list: readonly Edge[];
  readonly box: Box;
  /** The edges whose boxes may lie within `reach` of a box. */
  readonly near: (box: Box, reach: number) => readonly Edge[];
}

const edgeOf = (start: Point, end: Point): Edge => ({
  start,
  end,
  box: boxOf([start, end]),
});

/** Regions never change, and most are asked about many times: their edges are gathered once. */
const edgesOf = new WeakMap<Region, Edges>();

function regionEdges(region: Region): Edges {
  let edges = edgesOf.get(region);
  if (!edges) {
    edges = gather(
      ringsOf(region).flatMap((ring) => ring.map((p, i) => edgeOf(p, ring[(i + 1) % ring.length]))),
    );
    edgesOf.set(region, edges);
  }
  return edges;
}

const lineEdges = (line: Polyline): Edges =>
  gather(line.length === 1 ? [edgeOf(line[0], line[0])] : line.slice(1).map((p, i) => edgeOf(line[i], p)));

function gather(list: readonly Edge[]): Edges {
  const box = list.map((edge) => edge.box).reduce(joinBoxes, EMPTY_BOX);
  if (list.length < INDEX_FROM) return { list, box, near: () => list };
  const index = buildBoxIndex(list.map((edge) => edge.box));
  return { list, box, near: (around, reach) => index.search(growBox(around, reach)).map((i) => list[i]) };
}

function edgeGap(from: Edges, to: Edges, limitMm: number): Gap | null {
  if (from.list.length === 0 || to.list.length === 0) return null;
  if (!boxesMeet(growBox(from.box, limitMm), to.box)) return null;
  let best: Gap | null = null;
  let reach = Math.min(limitMm, roughGap(from.list, to.list));
  for (const edge of from.list) {
    if (!boxesMeet(growBox(edge.box, reach), to.box)) continue;
    for (const other of to.near(edge.box, reach)) {
      const around = growBox(edge.box, reach);
      if (!boxesMeet(around, other.box)) continue;
      const gap = segmentGap(edge, other, reach);
      if (!gap || (best !== null && gap.distance === reach)) continue;
      best = gap;
      reach = gap.distance;
      if (reach === 0) return best;
    }
  }
  return best;
}

/** A distance between two corners that is seldom far from the least: from one side to the other and back. */
function roughGap(from: readonly Edge[], to: readonly Edge[]): number {
  let p = from[0].start;
  let q = to[0].start;
  for (let turn = 0; turn < 2; turn++) {
    q = nearestCorner(to, p);
    p = nearestCorner(from, q);
  }
  return distance(p, q) * (1 + 1e-12);
}

function nearestCorner(edges: readonly Edge[], p: Point): Point {
  let best = edges[0].start;
  for (const { start } of edges) if (squaredDistance(start, p) < squaredDistance(best, p)) best = start;
  return best;
}

/** The least distance between two segments, or `null` where it is greater than `reach`. */
function segmentGap(a: Edge, b: Edge, reach: number): Gap | null {
  const common = commonPoint(a, b);
  if (common !== null) return { distance: 0, from: common, to: common };
  let best: Gap | null = null;
  let least = reach;
  const offer = (from: Point, to: Point): void => {
    const length = distance(from, to);
    if (length > least) return;
    least = length;
    best = { distance: length, from, to };
  };
  offer(a.start, nearestOnSegment(a.start, b.start, b.end));
  offer(a.end, nearestOnSegment(a.end, b.start, b.end));
  offer(nearestOnSegment(b.start, a.start, a.end), b.start);
  offer(nearestOnSegment(b.end, a.start, a.end), b.end);
  return best;
}

/** A point that two segments share, null if they don't meet. Whether they do is decided exactly. */
function commonPoint(a: Edge, b: Edge): Point | null {
  if (!boxesMeet(a.box, b.box)) return null;
  const startA = side(b, a.start);
  const endA = side(b, a.end);
  const startB = side(a, b.start);
  const endB = side(a, b.end);
  if (startA === 0 && isInBox(a.start, b.box)) return a.start;
  if (endA === 0 && isInBox(a.end, b.box)) return a.end;
  if (startB === 0 && isInBox(b.start, a.box)) return b.start;
  if (endB === 0 && isInBox(b.end, a.box)) return b.end;
  const crosses = startA > 0 !== endA > 0 && startB > 0 !== endB > 0;
  const onLine = startA === 0 || endA === 0 || startB === 0 || endB === 0;
  return crosses && !onLine ? lerp(a.start, a.end, startA / (startA - endA)) : null;
}

const side = ({ start, end }: Edge, p: Point): number =>
  orient2d(start[0], start[1], end[0], end[1], p[0], p[1]);

const isInBox = ([x, y]: Point, box: Box): boolean =>
  x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY;
