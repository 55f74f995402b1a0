/**
 * Least distance between shapes. It lies between two edges, unless one shape holds the other or they overlap,
 * when it is 0. Edges are compared only where their boxes come nearer than the best found so far; above
 * `INDEX_FROM` edges an index finds those.
 */
import { orient2d } from "robust-predicates";
import { buildBoxIndex } from "./box-index.ts";
import { boxesMeet, boxOf, distance, growBox, joinBoxes, lerp, nearestOnSegment } from "./point.ts";
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

const edgeOf = (start: Point, end: Point): Edge => ({
  start,
  end,
  box: boxOf([start, end]),
});

const regionEdges = (region: Region): Edge[] =>
  ringsOf(region).flatMap((ring) => ring.map((p, i) => edgeOf(p, ring[(i + 1) % ring.length])));

const lineEdges = (line: Polyline): Edge[] =>
  line.length === 1 ? [edgeOf(line[0], line[0])] : line.slice(1).map((p, i) => edgeOf(line[i], p));

function edgeGap(from: readonly Edge[], to: readonly Edge[], limitMm: number): Gap | null {
  if (from.length === 0 || to.length === 0) return null;
  const fromBox = from.map(({ box }) => box).reduce(joinBoxes);
  const toBox = to.map(({ box }) => box).reduce(joinBoxes);
  if (!boxesMeet(growBox(fromBox, limitMm), toBox)) return null;

  const near = nearEdges(to);
  let best: Gap | null = null;
  let reach = limitMm;
  for (const edge of from) {
    if (!boxesMeet(growBox(edge.box, reach), toBox)) continue;
    for (const other of near(edge.box, reach)) {
      if (!boxesMeet(growBox(edge.box, reach), other.box)) continue;
      const gap = segmentGap(edge, other);
      if (gap.distance > reach || (best !== null && gap.distance === reach)) continue;
      best = gap;
      reach = gap.distance;
      if (reach === 0) return best;
    }
  }
  return best;
}

/** A search for the edges whose boxes may lie within `reach` of a box. */
function nearEdges(edges: readonly Edge[]): (box: Box, reach: number) => readonly Edge[] {
  if (edges.length < INDEX_FROM) return () => edges;
  const index = buildBoxIndex(edges.map(({ box }) => box));
  return (box, reach) => index.search(growBox(box, reach)).map((i) => edges[i]);
}

function segmentGap(a: Edge, b: Edge): Gap {
  const common = commonPoint(a, b);
  if (common !== null) return { distance: 0, from: common, to: common };
  const ends: [Point, Point][] = [
    [a.start, nearestOnSegment(a.start, b.start, b.end)],
    [a.end, nearestOnSegment(a.end, b.start, b.end)],
    [nearestOnSegment(b.start, a.start, a.end), b.start],
    [nearestOnSegment(b.end, a.start, a.end), b.end],
  ];
  return ends
    .map(([from, to]) => ({ distance: distance(from, to), from, to }))
    .reduce((best, gap) => (gap.distance < best.distance ? gap : best));
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
