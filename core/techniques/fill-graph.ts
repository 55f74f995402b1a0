/**
 * The graph that a fill is sewn along: each edge is something to sew, each node a place where one may pass from
 * one edge to another without leaving what is being sewn.
 *
 * - A `stack` is a run of spans of consecutive rows, one below the other, sewn back and forth.
 * - A `line` is sewn along: a neck or tip between rows, a stretch of rows too narrow to be worth sewing back and
 *   forth (along their middles), or a piece of a *crossing*.
 * - A crossing is a span at which more meets than one span above and one below: where the region forks. It is cut
 *   at its *doors*, the places where other edges reach it, into lines along the row. So all ways through a fork
 *   lie along stitches that are still to be sewn.
 *
 * At the resolution of rows this is the region's Reeb graph for the height across the rows.
 */
import { distance, norm } from "../geometry/point.ts";
import { polylineLength } from "../geometry/polyline.ts";
import type { Point } from "../geometry/types.ts";
import { corners } from "./fill-path.ts";
import type { Rows, Span } from "./fill-rows.ts";

export interface StackEdge {
  readonly kind: "stack";
  /** Nodes at the upper and at the lower end. */
  readonly a: number;
  readonly b: number;
  /** From top to bottom. */
  readonly spans: readonly Span[];
  /** Where along the end row the way to the node begins; `null` where nothing else meets. */
  readonly aX: number | null;
  readonly bX: number | null;
  readonly lengthMm: number;
}

export interface LineEdge {
  readonly kind: "line";
  readonly a: number;
  readonly b: number;
  readonly line: readonly Point[];
  /** Of a piece of a crossing: the whole of it. */
  readonly span: Span | null;
  readonly lengthMm: number;
}

export type FillEdge = StackEdge | LineEdge;

export interface FillGraph {
  readonly edges: readonly FillEdge[];
  readonly nodeCount: number;
  /** Of the doors of crossings, where they lie. */
  readonly nodeAt: readonly (Door | null)[];
  /** Of each span, the edges that sew it: one for a stack or a line, several for a crossing. */
  readonly edgesOfSpan: readonly (readonly number[])[];
  /** The edges that sew slivers. */
  readonly sliverEdges: readonly number[];
}

/** Rows whose stitches would be shorter than this are sewn along instead. */
const NARROW_MM = 0.8;

/** Doors nearer than this to each other or to a crossing's end become one. */
const DOOR_SNAP_MM = 0.6;

/** Lines along the middles of narrow rows are straightened by no more than this. */
const LINE_TOLERANCE_MM = 0.05;

/** A place on a crossing where other edges reach it. */
export interface Door {
  readonly x: number;
  readonly span: Span;
}

/** A door asked for on a crossing: the node that is to lie there. */
interface AskedDoor {
  readonly x: number;
  readonly node: number;
}

/** Plain spans one below the other, and the spans of crossings that bound them. */
interface Chain {
  readonly spans: Span[];
  readonly above: number | null;
  readonly below: number | null;
}

export function buildFillGraph(rows: Rows): FillGraph {
  const { spans } = rows;
  const up = spans.map((): number[] => []);
  const down = spans.map((): number[] => []);
  for (const { above, below } of rows.links) {
    down[above].push(below);
    up[below].push(above);
  }
  const isCrossing = spans.map((_, i) => up[i].length > 1 || down[i].length > 1);
  for (const { from, to } of rows.slivers) {
    isCrossing[from.span] = true;
    if (to) isCrossing[to.span] = true;
  }
  const chains = chainsOf(rows, up, down, isCrossing);

  const nodes = new NodeSet();
  const doors = new Map<number, AskedDoor[]>();
  const ask = (span: number, x: number, node: number): void => {
    const asked = doors.get(span);
    if (asked) asked.push({ x, node });
    else doors.set(span, [{ x, node }]);
  };
  const edges: FillEdge[] = [];
  const edgesOfSpan = spans.map((): number[] => []);
  const add = (edge: FillEdge, sewn: readonly Span[]): void => {
    for (const span of sewn) edgesOfSpan[span.id].push(edges.length);
    edges.push(edge);
  };

  for (const chain of chains) addChain(chain, spans, nodes, ask, add);
  for (const { above, below } of rows.links) {
    if (!isCrossing[above] || !isCrossing[below]) continue;
    const node = nodes.add();
    const x = doorX(spans[above], spans[below]);
    ask(above, x, node);
    ask(below, x, node);
  }
  const sliverEdges: number[] = [];
  for (const { line, from, to } of rows.slivers) {
    const a = nodes.add();
    const b = nodes.add();
    ask(from.span, from.side === "left" ? spans[from.span].sewnLeft : spans[from.span].sewnRight, a);
    if (to) ask(to.span, to.side === "left" ? spans[to.span].sewnLeft : spans[to.span].sewnRight, b);
    sliverEdges.push(edges.length);
    add({ kind: "line", a, b, line, span: null, lengthMm: polylineLength(line) }, []);
  }
  spans.forEach((span, i) => {
    if (isCrossing[i]) addCrossing(span, doors.get(i) ?? [], nodes, add);
  });
  return joinLoose(nodes.number(edges), edgesOfSpan, sliverEdges);
}

/** Nodes that may turn out to be the same, by union and find. */
class NodeSet {
  private readonly parent: number[] = [];
  private readonly place: (Door | null)[] = [];

  add(at: Door | null = null): number {
    this.place.push(at);
    return this.parent.push(this.parent.length) - 1;
  }

  find(node: number): number {
    let root = node;
    while (this.parent[root] !== root) root = this.parent[root];
    this.parent[node] = root;
    return root;
  }

  unite(a: number, b: number): void {
    const kept = this.find(a);
    const gone = this.find(b);
    if (kept === gone) return;
    this.parent[gone] = kept;
    this.place[kept] ??= this.place[gone];
  }

  /** The edges with their nodes numbered from 0 without gaps, and where the nodes lie. */
  number(edges: readonly FillEdge[]): { edges: FillEdge[]; nodeAt: (Door | null)[] } {
    const numberOf = new Map<number, number>();
    const nodeAt: (Door | null)[] = [];
    const number = (node: number): number => {
      const root = this.find(node);
      let known = numberOf.get(root);
      if (known === undefined) {
        known = nodeAt.push(this.place[root]) - 1;
        numberOf.set(root, known);
      }
      return known;
    };
    return { edges: edges.map((edge) => ({ ...edge, a: number(edge.a), b: number(edge.b) })), nodeAt };
  }
}

function chainsOf(
  { spans }: Rows,
  up: readonly (readonly number[])[],
  down: readonly (readonly number[])[],
  isCrossing: boolean[],
): Chain[] {
  const chains: Chain[] = [];
  const seen = new Uint8Array(spans.length);
  for (const head of spans) {
    if (isCrossing[head.id] || seen[head.id]) continue;
    const chain: Span[] = [head];
    seen[head.id] = 1;
    let below = down[head.id][0] ?? null;
    while (below !== null && !isCrossing[below]) {
      seen[below] = 1;
      chain.push(spans[below]);
      below = down[below][0] ?? null;
    }
    const above = up[head.id][0] ?? null;
    // A single row between two crossings is one itself: only so can a way begin or end in the midst of it.
    if (chain.length === 1 && above !== null && below !== null) isCrossing[head.id] = true;
    else chains.push({ spans: chain, above, below });
  }
  return chains;
}

const sewnWidth = (span: Span): number => span.sewnRight - span.sewnLeft;
const middleX = (span: Span): number => (span.left + span.right) / 2;
const clamp = (x: number, low: number, high: number): number => Math.max(low, Math.min(x, high));

/** Where a way from one span to an overlapping one passes: at the end of the overlap that is nearer to both ends. */
function doorX(a: Span, b: Span): number {
  const left = Math.max(a.left, b.left);
  const right = Math.min(a.right, b.right);
  const slackLeft = Math.abs(a.left - b.left);
  const slackRight = Math.abs(a.right - b.right);
  return slackLeft <= slackRight ? left : right;
}

/** Edges for one chain: stacks where it is wide, lines along the middle where it is narrow. */
function addChain(
  chain: Chain,
  spans: readonly Span[],
  nodes: NodeSet,
  ask: (span: number, x: number, node: number) => void,
  add: (edge: FillEdge, sewn: readonly Span[]) => void,
): void {
  const stretches = stretchesOf(chain.spans);
  let node = nodes.add();
  let fromX: number | null = null;
  if (chain.above !== null) {
    fromX = doorX(chain.spans[0], spans[chain.above]);
    ask(chain.above, fromX, node);
  }
  stretches.forEach(({ narrow, spans: sewn }, i) => {
    const last = sewn[sewn.length - 1];
    const next = stretches[i + 1];
    const end = nodes.add();
    let toX: number | null = null;
    if (next) {
      const passing = narrow ? middleX(last) : middleX(next.spans[0]);
      toX = clamp(passing, last.left, last.right);
    } else if (chain.below !== null) {
      toX = exitX(sewn, fromX, spans[chain.below]);
      ask(chain.below, toX, end);
    }
    if (narrow) {
      const line = corners(
        sewn.map((span): Point => [middleX(span), span.y]),
        LINE_TOLERANCE_MM,
      );
      add({ kind: "line", a: node, b: end, line, span: null, lengthMm: polylineLength(line) }, sewn);
      fromX = next ? clamp(middleX(last), next.spans[0].left, next.spans[0].right) : null;
    } else {
      const lengthMm = middleLength(sewn);
      add({ kind: "stack", a: node, b: end, spans: sewn, aX: fromX, bX: toX, lengthMm }, sewn);
      fromX = null;
    }
    node = end;
  });
}

/** How far it is through a stack along its middle; a stack of one row is as long as a row is high. */
function middleLength(spans: readonly Span[]): number {
  let length = 0.4;
  for (let i = 1; i < spans.length; i++) {
    const low = Math.max(spans[i - 1].left, spans[i].left);
    const high = Math.min(spans[i - 1].right, spans[i].right);
    const drift = i === 1 ? 0 : clamp(middleX(spans[i - 1]), low, high) - middleX(spans[i - 1]);
    length += norm(spans[i].y - spans[i - 1].y, drift);
  }
  return length;
}

/** The door below a stack: on the side where its last row ends if sewn back and forth from `fromX`. */
function exitX(sewn: readonly Span[], fromX: number | null, below: Span): number {
  const last = sewn[sewn.length - 1];
  if (fromX === null) return doorX(last, below);
  const startsLeft = fromX - sewn[0].left <= sewn[0].right - fromX;
  const endsLeft = startsLeft === (sewn.length % 2 === 0);
  return endsLeft ? Math.max(last.left, below.left) : Math.min(last.right, below.right);
}

interface Stretch {
  narrow: boolean;
  readonly spans: Span[];
}

/** Cuts a chain where it turns narrow or wide. Single spans go with their neighbours. */
function stretchesOf(chain: readonly Span[]): Stretch[] {
  const runs: Stretch[] = [];
  for (const span of chain) {
    const narrow = chain.length > 1 && sewnWidth(span) < NARROW_MM;
    const run = runs[runs.length - 1];
    if (run && run.narrow === narrow) run.spans.push(span);
    else runs.push({ narrow, spans: [span] });
  }
  const joined: Stretch[] = [];
  for (const run of runs) {
    const before = joined[joined.length - 1];
    const single = run.spans.length === 1 && runs.length > 1;
    if (before && (single || before.narrow === run.narrow)) before.spans.push(...run.spans);
    else if (before && before.spans.length === 1) {
      before.spans.push(...run.spans);
      before.narrow = run.narrow;
    } else joined.push({ narrow: run.narrow, spans: [...run.spans] });
  }
  return joined;
}

/** A crossing, cut at its doors into lines along its row; what lies beyond the outermost doors are dead ends. */
function addCrossing(
  span: Span,
  asked: readonly AskedDoor[],
  nodes: NodeSet,
  add: (edge: FillEdge, sewn: readonly Span[]) => void,
): void {
  const { sewnLeft, sewnRight, y } = span;
  const snap = Math.min(DOOR_SNAP_MM, (sewnRight - sewnLeft) / 3);
  const doors = [...asked].sort((p, q) => p.x - q.x);
  const stops: { x: number; node: number }[] = [];
  for (const door of doors) {
    const x = door.x - sewnLeft < snap ? sewnLeft : sewnRight - door.x < snap ? sewnRight : door.x;
    const stop = stops[stops.length - 1];
    if (stop && x - stop.x < snap) nodes.unite(stop.node, door.node);
    else {
      const node = nodes.add({ x, span });
      nodes.unite(node, door.node);
      stops.push({ x, node });
    }
  }
  if (sewnRight - sewnLeft < NARROW_MM) {
    for (let i = 1; i < stops.length; i++) nodes.unite(stops[0].node, stops[i].node);
    return;
  }
  if (stops.length === 0 || stops[0].x > sewnLeft) stops.unshift({ x: sewnLeft, node: nodes.add() });
  if (stops[stops.length - 1].x < sewnRight) stops.push({ x: sewnRight, node: nodes.add() });
  for (let i = 1; i < stops.length; i++) {
    const from = stops[i - 1];
    const to = stops[i];
    const line: Point[] = [
      [from.x, y],
      [to.x, y],
    ];
    add({ kind: "line", a: from.node, b: to.node, line, span, lengthMm: to.x - from.x }, [span]);
  }
}

/** Where an edge ends, for measuring how far two loose parts lie apart. */
function endPoint(edge: FillEdge, atA: boolean): Point {
  if (edge.kind === "line") return atA ? edge.line[0] : edge.line[edge.line.length - 1];
  const span = atA ? edge.spans[0] : edge.spans[edge.spans.length - 1];
  return [(atA ? edge.aX : edge.bX) ?? middleX(span), span.y];
}

/**
 * Parts that nothing joins, as in a region of several polygons, are joined by straight lines, each to what is
 * nearest among those before it: a fill is one thread whatever it is given.
 */
function joinLoose(
  { edges, nodeAt }: { edges: FillEdge[]; nodeAt: (Door | null)[] },
  edgesOfSpan: readonly (readonly number[])[],
  sliverEdges: readonly number[],
): FillGraph {
  const at = nodeAt.map((door): Point | null => door && [door.x, door.span.y]);
  for (const edge of edges) {
    at[edge.a] ??= endPoint(edge, true);
    at[edge.b] ??= endPoint(edge, false);
  }
  for (;;) {
    const reached = reachable(edges, at.length);
    let best: { from: number; to: number; length: number } | null = null;
    for (let from = 0; from < at.length; from++)
      for (let to = 0; reached[from] && to < at.length; to++) {
        const p = at[from];
        const q = at[to];
        if (reached[to] || !p || !q) continue;
        const length = distance(p, q);
        if (!best || length < best.length) best = { from, to, length };
      }
    if (!best) return { edges, nodeCount: at.length, nodeAt, edgesOfSpan, sliverEdges };
    const line = [at[best.from] as Point, at[best.to] as Point];
    edges.push({ kind: "line", a: best.from, b: best.to, line, span: null, lengthMm: best.length });
  }
}

function reachable(edges: readonly FillEdge[], nodeCount: number): boolean[] {
  const reached = new Array<boolean>(nodeCount).fill(false);
  if (edges.length === 0) return reached;
  const touching: number[][] = Array.from({ length: nodeCount }, () => []);
  for (const { a, b } of edges) {
    touching[a].push(b);
    touching[b].push(a);
  }
  const open = [edges[0].a];
  reached[edges[0].a] = true;
  for (let node = open.pop(); node !== undefined; node = open.pop())
    for (const other of touching[node])
      if (!reached[other]) {
        reached[other] = true;
        open.push(other);
      }
  return reached;
}
