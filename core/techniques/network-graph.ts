/**
 * Lines that touch, as a graph. A *node* is where a line ends, where lines cross, and where the end or a corner of
 * one lies on another (a T-junction); an *edge* is the stretch between two nodes.
 *
 * Lines touch where they come within `TOUCH_MM` of each other: a draughtsman's junctions are seldom exact. A
 * stretch that two lines share, so that both run within that distance, becomes one edge: it is seen once and
 * sewn once. Where just two edges meet, they become one.
 */
import { FLATTEN_TOLERANCE_MM, SAME_POINT_MM } from "../constants.ts";
import { buildBoxIndex } from "../geometry/box-index.ts";
import { boxOf, distance, growBox, lerp, nearestFraction } from "../geometry/point.ts";
import { arcLengths, nearestOnPolyline, polylineLength, slicePolyline } from "../geometry/polyline.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import { cleanLine } from "./even-stitches.ts";

/** A quarter of the thread's width: nearer than this, two lines look as if they met. */
export const TOUCH_MM = 0.1;

/** Two drawings of one curve keep within this of each other, though each was flattened by itself. */
const SHARED_MM = TOUCH_MM + FLATTEN_TOLERANCE_MM;

/** More meeting points than this make a scribble, not line work; its lines are sewn one by one. */
const MOST_CUTS = 20_000;

export interface GraphEdge {
  /** Numbers of the nodes at which the line begins and ends, each within `TOUCH_MM` or so of its point; the same for a loop. */
  readonly a: number;
  readonly b: number;
  readonly line: Polyline;
  readonly lengthMm: number;
}

export interface LineGraph {
  readonly nodes: readonly Point[];
  readonly edges: readonly GraphEdge[];
}

/** Where a line is cut: its arc length there, and the node. */
interface Cut {
  readonly arc: number;
  readonly node: number;
}

interface CutLines {
  readonly paths: readonly Polyline[];
  readonly lengths: readonly Float64Array[];
  readonly nodes: readonly Point[];
  /** Of each line, in no order; its two ends are among them. */
  readonly cuts: readonly (readonly Cut[])[];
}

/**
 * The graph of lines in millimetres; its parts need not hang together. Lines without length add nothing, and of
 * a scribble that meets itself tens of thousands of times there is no graph: `null`.
 */
export function lineGraph(lines: readonly Polyline[]): LineGraph | null {
  const cut = cutLines(lines);
  if (cut === null) return null;
  const edges = cut.paths.flatMap((path, k) => stretches(path, cut.lengths[k], cut.cuts[k]));
  return joinedThrough({ nodes: cut.nodes, edges: sharedOnce(edges) });
}

/**
 * Which lines hang together: groups of their numbers, each ascending, in the order of their first. A line that
 * touches no other is a group of its own, and so is every line of a scribble.
 */
export function touchingGroups(lines: readonly Polyline[]): number[][] {
  const cut = cutLines(lines);
  if (cut === null) return lines.map((_, k) => [k]);
  const parent = cut.nodes.map((_, node) => node);
  const rootOf = (node: number): number => {
    let root = node;
    while (parent[root] !== root) root = parent[root];
    parent[node] = root;
    return root;
  };
  for (const cuts of cut.cuts)
    for (const { node } of cuts.slice(1)) parent[rootOf(node)] = rootOf(cuts[0].node);
  const groups = new Map<number, number[]>();
  for (const [k, cuts] of cut.cuts.entries()) {
    const root = cuts.length === 0 ? -1 - k : rootOf(cuts[0].node);
    groups.set(root, [...(groups.get(root) ?? []), k]);
  }
  return [...groups.values()];
}

interface Segment {
  readonly line: number;
  readonly at: number;
}

function cutLines(lines: readonly Polyline[]): CutLines | null {
  const paths = lines.map(cleanLine);
  const lengths = paths.map(arcLengths);
  const registry = nodeRegistry();
  const cuts: Cut[][] = paths.map((path, k) =>
    path.length < 2
      ? []
      : [
          { arc: 0, node: registry.nodeAt(path[0]) },
          { arc: lengths[k][path.length - 1], node: registry.nodeAt(path[path.length - 1]) },
        ],
  );
  const segments: Segment[] = paths.flatMap((path, line) =>
    path.slice(1).map((_, at): Segment => ({ line, at })),
  );
  const ends = ({ line, at }: Segment): [Point, Point] => [paths[line][at], paths[line][at + 1]];
  const boxes = segments.map((segment) => boxOf(ends(segment)));
  const index = buildBoxIndex(boxes);
  let count = 0;
  const cutBoth = (s: Segment, sFraction: number, t: Segment, tFraction: number): void => {
    const node = registry.nodeAt(lerp(...ends(s), sFraction));
    for (const [{ line, at }, fraction] of [
      [s, sFraction],
      [t, tFraction],
    ] as const)
      cuts[line].push({
        arc: lengths[line][at] + (lengths[line][at + 1] - lengths[line][at]) * fraction,
        node,
      });
    count++;
  };
  for (const [k, s] of segments.entries()) {
    for (const other of index.search(growBox(boxes[k], TOUCH_MM))) {
      if (other <= k) continue;
      const t = segments[other];
      for (const [sFraction, tFraction] of meetings(s, t, ends(s), ends(t), paths))
        cutBoth(s, sFraction, t, tFraction);
      if (count > MOST_CUTS) return null;
    }
  }
  return { paths, lengths, nodes: registry.nodes, cuts };
}

/**
 * Where two segments meet, as fractions of both: at a crossing, and where an end of the one lies on the other. Of
 * one line only its own two ends count, else every curve would touch itself from one point to the next.
 */
function meetings(
  s: Segment,
  t: Segment,
  [a, b]: readonly [Point, Point],
  [c, d]: readonly [Point, Point],
  paths: readonly Polyline[],
): [number, number][] {
  const sameLine = s.line === t.line;
  if (sameLine && t.at === s.at + 1) return [];
  const found: [number, number][] = [];
  const crossing = crossingFractions(a, b, c, d);
  if (crossing) found.push(crossing);
  const counts = ({ line, at }: Segment, end: 0 | 1): boolean =>
    !sameLine || at + end === 0 || at + end === paths[line].length - 1;
  const onOther = (p: Point, from: Point, to: Point): number | null => {
    const fraction = nearestFraction(p, from, to);
    return distance(p, lerp(from, to, fraction)) <= TOUCH_MM ? fraction : null;
  };
  for (const end of [0, 1] as const) {
    const onT = counts(s, end) ? onOther(end === 0 ? a : b, c, d) : null;
    if (onT !== null) found.push([end, onT]);
    const onS = counts(t, end) ? onOther(end === 0 ? c : d, a, b) : null;
    if (onS !== null) found.push([onS, end]);
  }
  return found;
}

function crossingFractions(a: Point, b: Point, c: Point, d: Point): [number, number] | null {
  const denominator = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]);
  if (denominator === 0) return null;
  const t = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / denominator;
  const u = ((c[0] - a[0]) * (b[1] - a[1]) - (c[1] - a[1]) * (b[0] - a[0])) / denominator;
  if (!(t >= 0 && t <= 1 && u >= 0 && u <= 1)) return null;
  // Of two segments on one line, but for rounding, the two fractions may say two places.
  return distance(lerp(a, b, t), lerp(c, d, u)) <= TOUCH_MM ? [t, u] : null;
}

/**
 * Gives points that lie within `TOUCH_MM` of a node that node, others a new one. A node stays where its first
 * point was, so that a row of near points can't draw a whole stretch together into one.
 */
function nodeRegistry(): { nodes: Point[]; nodeAt: (p: Point) => number } {
  const nodes: Point[] = [];
  const cells = new Map<string, number[]>();
  const cellOf = (value: number): number => Math.floor(value / TOUCH_MM);
  const nodeAt = (p: Point): number => {
    const [cx, cy] = [cellOf(p[0]), cellOf(p[1])];
    let nearest = -1;
    for (let x = cx - 1; x <= cx + 1; x++)
      for (let y = cy - 1; y <= cy + 1; y++)
        for (const node of cells.get(`${x} ${y}`) ?? []) {
          const apart = distance(nodes[node], p);
          if (apart <= TOUCH_MM && (nearest < 0 || apart < distance(nodes[nearest], p))) nearest = node;
        }
    if (nearest >= 0) return nearest;
    const key = `${cx} ${cy}`;
    cells.set(key, [...(cells.get(key) ?? []), nodes.length]);
    return nodes.push(p) - 1;
  };
  return { nodes, nodeAt };
}

/** The edges along one line, from cut to cut, without those that go nowhere. */
function stretches(path: Polyline, lengths: Float64Array, cuts: readonly Cut[]): GraphEdge[] {
  const edges: GraphEdge[] = [];
  const sorted = [...cuts].sort((a, b) => a.arc - b.arc);
  for (let k = 1; k < sorted.length; k++) {
    const [from, to] = [sorted[k - 1], sorted[k]];
    if (from.node === to.node && to.arc - from.arc <= 2 * TOUCH_MM) continue;
    edges.push(edgeAlong(from.node, to.node, slicePolyline(path, lengths, from.arc, to.arc)));
  }
  return edges;
}

const edgeAlong = (a: number, b: number, line: Polyline): GraphEdge => ({
  a,
  b,
  line,
  lengthMm: polylineLength(line),
});

/** Of edges between the same nodes that run along each other, the first. */
function sharedOnce(edges: readonly GraphEdge[]): GraphEdge[] {
  const between = new Map<string, GraphEdge[]>();
  return edges.filter((edge) => {
    const key = edge.a < edge.b ? `${edge.a} ${edge.b}` : `${edge.b} ${edge.a}`;
    const earlier = between.get(key) ?? [];
    if (earlier.some((other) => isAlong(edge.line, other.line) && isAlong(other.line, edge.line)))
      return false;
    between.set(key, [...earlier, edge]);
    return true;
  });
}

const isAlong = (line: Polyline, other: Polyline): boolean =>
  line.every((p) => nearestOnPolyline(p, other).distance <= SHARED_MM);

/** Edges that meet two by two, with no third, made one; nodes that nothing uses are left out. */
function joinedThrough({ nodes, edges }: LineGraph): LineGraph {
  const alive: (GraphEdge | null)[] = [...edges];
  const atNode: number[][] = nodes.map(() => []);
  for (const [e, { a, b }] of edges.entries()) {
    atNode[a].push(e);
    atNode[b].push(e);
  }
  for (const [node, incident] of atNode.entries()) {
    if (incident.length !== 2 || incident[0] === incident[1]) continue;
    const [into, onwards] = [turnedTo(alive[incident[0]]!, node), turnedFrom(alive[incident[1]]!, node)];
    const kept = incident[0];
    alive[kept] = edgeAlong(into.a, onwards.b, [...into.line, ...onwards.line.slice(1)]);
    alive[incident[1]] = null;
    atNode[onwards.b] = atNode[onwards.b].map((e) => (e === incident[1] ? kept : e));
    atNode[node] = [];
  }
  return renumbered(
    nodes,
    alive.filter((edge) => edge !== null),
  );
}

const reversed = ({ a, b, line, lengthMm }: GraphEdge): GraphEdge => ({
  a: b,
  b: a,
  line: [...line].reverse(),
  lengthMm,
});

const turnedTo = (edge: GraphEdge, node: number): GraphEdge => (edge.b === node ? edge : reversed(edge));
const turnedFrom = (edge: GraphEdge, node: number): GraphEdge => (edge.a === node ? edge : reversed(edge));

function renumbered(nodes: readonly Point[], edges: readonly GraphEdge[]): LineGraph {
  const used = [...new Set(edges.flatMap(({ a, b }) => [a, b]))].sort((p, q) => p - q);
  const numberOf = new Map(used.map((node, k) => [node, k]));
  return {
    nodes: used.map((node) => nodes[node]),
    edges: edges.map((edge) => ({ ...edge, a: numberOf.get(edge.a)!, b: numberOf.get(edge.b)! })),
  };
}

/** A place on a graph: an arc length along one of its edges. */
export interface Place {
  readonly edge: number;
  readonly arc: number;
  readonly point: Point;
}

/** The place on the graph nearest to `p`; the first of several. */
export function placeOn({ edges }: LineGraph, p: Point): Place {
  let best: Place = { edge: 0, arc: 0, point: edges[0].line[0] };
  let least = Number.POSITIVE_INFINITY;
  for (const [edge, { line }] of edges.entries()) {
    const near = nearestOnPolyline(p, line);
    if (near.distance >= least - SAME_POINT_MM) continue;
    least = near.distance;
    best = { edge, arc: near.along, point: near.point };
  }
  return best;
}

/** The graph with a node at a place of it, and that node's number: one that is there already, or a new one. */
export function withNodeAt(
  graph: LineGraph,
  { edge, arc, point }: Place,
): { graph: LineGraph; node: number } {
  const { a, b, line, lengthMm } = graph.edges[edge];
  if (arc <= SAME_POINT_MM) return { graph, node: a };
  if (arc >= lengthMm - SAME_POINT_MM) return { graph, node: b };
  const lengths = arcLengths(line);
  const node = graph.nodes.length;
  const halves = [
    edgeAlong(a, node, [...slicePolyline(line, lengths, 0, arc).slice(0, -1), point]),
    edgeAlong(node, b, [point, ...slicePolyline(line, lengths, arc, lengthMm).slice(1)]),
  ];
  const edges = [...graph.edges.slice(0, edge), ...halves, ...graph.edges.slice(edge + 1)];
  return { graph: { nodes: [...graph.nodes, point], edges }, node };
}
