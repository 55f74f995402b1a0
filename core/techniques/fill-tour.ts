/**
 * In which order, and in which direction, the edges of a fill's graph are passed: from the entry to the exit,
 * each edge sewn once. Where a way has to go along an edge twice, the first passage is travel, which the second
 * covers: so no travel is ever exposed, whatever the tour.
 *
 * That is the route of the Chinese postman between two points. A tour that passes each edge once exists when
 * every node but the two ends has an even number of edges; so edges are doubled until it does. Which ones is
 * read off a shortest spanning tree: of its edges, those are doubled that have an odd number of odd nodes
 * beyond them (a T-join; J. Edmonds and E. Johnson, «Matching, Euler tours and the Chinese postman», 1973; in a
 * tree there is exactly one). The tour itself is found as C. Hierholzer did (1873).
 */
import type { FillEdge, FillGraph } from "./fill-graph.ts";
import type { Span } from "./fill-rows.ts";

/**
 * A place on an edge. `position` counts the spans above it for a stack, millimetres from its start for a line;
 * `fromA` is in millimetres for both.
 */
export interface Anchor {
  readonly edge: number;
  readonly position: number;
  readonly fromA: number;
  /** On a stack: the span that it is nearest to. */
  readonly home: Span | null;
}

/** One passage along an edge or a part of it; `from` is greater than `to` when it leads from b to a. */
export interface Passage {
  readonly role: "travel" | "cover";
  readonly edge: number;
  readonly from: number;
  readonly to: number;
  /** The node it leads to; `null` where that is the entry or the exit, in the midst of an edge. */
  readonly toNode: number | null;
}

/** The number up to which positions on an edge run. */
export const positionEnd = (edge: FillEdge): number =>
  edge.kind === "stack" ? edge.spans.length : edge.lengthMm;

/** What all tours of one graph share: its shortest spanning tree, rooted, and which of its edges are doubled. */
export interface TourBase {
  readonly graph: FillGraph;
  readonly inTree: readonly boolean[];
  /** Of each node: the tree edge to its parent, -1 for the root. */
  readonly parentEdge: Int32Array;
  readonly parent: Int32Array;
  readonly depth: Int32Array;
  /** Of each edge: whether a tour that ends where it began passes it twice. */
  readonly doubled: readonly boolean[];
  readonly doubledMm: number;
}

export function tourBase(graph: FillGraph): TourBase {
  const { edges, nodeCount } = graph;
  const inTree = spanningTree(graph);
  const tree = rootTree(edges, inTree, nodeCount);
  const odd = new Uint8Array(nodeCount);
  for (const { a, b } of edges) {
    odd[a] ^= 1;
    odd[b] ^= 1;
  }
  const doubled = doubledEdges(edges.length, tree, odd);
  const doubledMm = edges.reduce((sum, edge, i) => (doubled[i] ? sum + edge.lengthMm : sum), 0);
  return { graph, inTree, ...tree, doubled, doubledMm };
}

/** J. Kruskal's, 1956. */
function spanningTree({ edges, nodeCount }: FillGraph): boolean[] {
  const root = Int32Array.from({ length: nodeCount }, (_, i) => i);
  const find = (i: number): number => {
    while (root[i] !== i) {
      root[i] = root[root[i]];
      i = root[i];
    }
    return i;
  };
  const inTree = new Array<boolean>(edges.length).fill(false);
  const order = edges.map((_, i) => i).sort((i, j) => edges[i].lengthMm - edges[j].lengthMm || i - j);
  for (const i of order) {
    const a = find(edges[i].a);
    const b = find(edges[i].b);
    if (a === b) continue;
    root[a] = b;
    inTree[i] = true;
  }
  return inTree;
}

interface RootedTree {
  readonly parent: Int32Array;
  readonly parentEdge: Int32Array;
  readonly depth: Int32Array;
  /** Nodes, each after its parent. */
  readonly order: readonly number[];
}

function rootTree(
  edges: readonly { readonly a: number; readonly b: number }[],
  inTree: readonly boolean[],
  nodeCount: number,
): RootedTree {
  const touching: number[][] = Array.from({ length: nodeCount }, () => []);
  edges.forEach(({ a, b }, i) => {
    if (!inTree[i]) return;
    touching[a].push(i);
    touching[b].push(i);
  });
  const parent = new Int32Array(nodeCount).fill(-1);
  const parentEdge = new Int32Array(nodeCount).fill(-1);
  const depth = new Int32Array(nodeCount);
  const order = nodeCount > 0 ? [0] : [];
  for (let k = 0; k < order.length; k++) {
    const node = order[k];
    for (const i of touching[node]) {
      if (i === parentEdge[node]) continue;
      const child = edges[i].a === node ? edges[i].b : edges[i].a;
      parent[child] = node;
      parentEdge[child] = i;
      depth[child] = depth[node] + 1;
      order.push(child);
    }
  }
  return { parent, parentEdge, depth, order };
}

/** The tree edges with an odd number of odd nodes beyond them. */
function doubledEdges(edgeCount: number, tree: RootedTree, odd: Uint8Array): boolean[] {
  const doubled = new Array<boolean>(edgeCount).fill(false);
  const beyond = odd.slice();
  for (let k = tree.order.length - 1; k > 0; k--) {
    const node = tree.order[k];
    if (beyond[node] === 0) continue;
    doubled[tree.parentEdge[node]] = true;
    beyond[tree.parent[node]] ^= 1;
  }
  return doubled;
}

/** The graph with its edges cut at the entry and the exit. */
interface CutGraph {
  readonly parts: readonly Part[];
  readonly inTree: readonly boolean[];
  readonly nodeCount: number;
  readonly entry: number;
  readonly exit: number;
}

interface Part {
  readonly edge: number;
  readonly a: number;
  readonly b: number;
  readonly from: number;
  readonly to: number;
}

export function planTour(base: TourBase, entry: Anchor, exit: Anchor): Passage[] {
  const cut = cutAt(base, entry, exit);
  const odd = new Uint8Array(cut.nodeCount);
  for (const { a, b } of cut.parts) {
    odd[a] ^= 1;
    odd[b] ^= 1;
  }
  odd[cut.entry] ^= 1;
  odd[cut.exit] ^= 1;
  const tree = rootTree(cut.parts, cut.inTree, cut.nodeCount);
  const doubled = doubledEdges(cut.parts.length, tree, odd);
  return passagesOf(cut, doubled, eulerTrail(cut, doubled), base.graph.nodeCount);
}

function cutAt({ graph, inTree }: TourBase, entry: Anchor, exit: Anchor): CutGraph {
  const parts: Part[] = [];
  const partInTree: boolean[] = [];
  let nodeCount = graph.nodeCount;
  const nodeOf = (anchor: Anchor): number | null => {
    const edge = graph.edges[anchor.edge];
    return anchor.position === 0 ? edge.a : anchor.position === positionEnd(edge) ? edge.b : null;
  };
  const entryNode = nodeOf(entry) ?? nodeCount++;
  const same = exit.edge === entry.edge && exit.position === entry.position;
  const exitNode = same ? entryNode : (nodeOf(exit) ?? nodeCount++);
  graph.edges.forEach((edge, i) => {
    const cuts: { anchor: Anchor; node: number }[] = [];
    if (entry.edge === i && nodeOf(entry) === null) cuts.push({ anchor: entry, node: entryNode });
    if (exit.edge === i && nodeOf(exit) === null && !same) cuts.push({ anchor: exit, node: exitNode });
    cuts.sort((p, q) => p.anchor.position - q.anchor.position);
    const stops = [
      { node: edge.a, position: 0, mm: 0 },
      ...cuts.map(({ anchor, node }) => ({ node, position: anchor.position, mm: anchor.fromA })),
      { node: edge.b, position: positionEnd(edge), mm: edge.lengthMm },
    ];
    // Of a cut edge outside the tree, all parts but the longest belong to it.
    let longest = 1;
    for (let k = 2; k < stops.length; k++)
      if (stops[k].mm - stops[k - 1].mm > stops[longest].mm - stops[longest - 1].mm) longest = k;
    for (let k = 1; k < stops.length; k++) {
      const [p, q] = [stops[k - 1], stops[k]];
      parts.push({ edge: i, a: p.node, b: q.node, from: p.position, to: q.position });
      partInTree.push(inTree[i] || k !== longest);
    }
  });
  return { parts, inTree: partInTree, nodeCount, entry: entryNode, exit: exitNode };
}

/** Part numbers in the order of a trail from the entry to the exit. */
function eulerTrail(cut: CutGraph, doubled: readonly boolean[]): number[] {
  const left = Uint8Array.from(cut.parts, (_, i) => (doubled[i] ? 2 : 1));
  const touching: number[][] = Array.from({ length: cut.nodeCount }, () => []);
  cut.parts.forEach(({ a, b }, i) => {
    touching[a].push(i);
    if (b !== a) touching[b].push(i);
  });
  const stack: { node: number; via: number }[] = [{ node: cut.entry, via: -1 }];
  const trail: number[] = [];
  while (stack.length > 0) {
    const { node, via } = stack[stack.length - 1];
    const open = touching[node];
    while (open.length > 0 && left[open[open.length - 1]] === 0) open.pop();
    if (open.length === 0) {
      if (via >= 0) trail.push(via);
      stack.pop();
    } else {
      const i = open[open.length - 1];
      left[i]--;
      const { a, b } = cut.parts[i];
      stack.push({ node: a === node ? b : a, via: i });
    }
  }
  return trail.reverse();
}

/** Gives each step of a trail its direction and role, and joins what is sewn on through a cut. */
function passagesOf(
  cut: CutGraph,
  doubled: readonly boolean[],
  trail: readonly number[],
  nodeCount: number,
): Passage[] {
  const passages: Passage[] = [];
  const passed = new Uint8Array(cut.parts.length);
  let node = cut.entry;
  for (const i of trail) {
    const part = cut.parts[i];
    const forth = part.a === node;
    const role = doubled[i] && passed[i] === 0 ? "travel" : "cover";
    passed[i] = 1;
    node = forth ? part.b : part.a;
    const [from, to] = forth ? [part.from, part.to] : [part.to, part.from];
    const toNode = node < nodeCount ? node : null;
    const last = passages[passages.length - 1];
    if (last && last.role === role && last.edge === part.edge && last.toNode === null && last.to === from)
      passages[passages.length - 1] = { ...last, to, toNode };
    else passages.push({ role, edge: part.edge, from, to, toNode });
  }
  return passages;
}

/**
 * How much a tour between two anchors travels, without planning it: going from a closed tour to this one flips
 * which edges are doubled along the tree path between the anchors, and nothing else.
 */
export function tourTravelMm(base: TourBase, entry: Anchor, exit: Anchor): number {
  const { graph, inTree, doubled, parent, parentEdge, depth } = base;
  if (entry.edge === exit.edge) {
    const between = Math.abs(entry.fromA - exit.fromA);
    if (inTree[entry.edge]) return base.doubledMm + (doubled[entry.edge] ? -between : between);
    const first = Math.min(entry.fromA, exit.fromA);
    const last = graph.edges[entry.edge].lengthMm - Math.max(entry.fromA, exit.fromA);
    if (between <= Math.max(first, last)) return base.doubledMm + between;
  }
  let mm = base.doubledMm;
  const flip = (edge: number, length: number): void => {
    mm += doubled[edge] ? -length : length;
  };
  const climb = (node: number): number => {
    flip(parentEdge[node], graph.edges[parentEdge[node]].lengthMm);
    return parent[node];
  };
  // Step from each anchor to a node: towards the root in the tree, to the nearer end outside it.
  const step = ({ edge, fromA }: Anchor): number => {
    const { a, b, lengthMm } = graph.edges[edge];
    const toA = inTree[edge] ? parentEdge[b] === edge : fromA <= lengthMm - fromA;
    flip(edge, toA ? fromA : lengthMm - fromA);
    return toA ? a : b;
  };
  let p = step(entry);
  let q = step(exit);
  // An anchor's own edge may lie on the other's way up; then only the part below the anchor stays flipped.
  const own = (anchor: Anchor): { child: number; beyond: number } | null => {
    const { edge, fromA } = anchor;
    if (!inTree[edge]) return null;
    const { a, b, lengthMm } = graph.edges[edge];
    return parentEdge[b] === edge ? { child: b, beyond: fromA } : { child: a, beyond: lengthMm - fromA };
  };
  const ownEntry = own(entry);
  const ownExit = own(exit);
  const passesUp = (node: number, target: { child: number; beyond: number }, edge: number): number | null => {
    while (depth[node] > depth[target.child]) node = climb(node);
    if (node !== target.child) return null;
    const { lengthMm } = graph.edges[edge];
    // The other anchor flipped from itself to the upper end: take that back, and flip from here up to it.
    flip(edge, lengthMm - 2 * target.beyond);
    return node;
  };
  if (ownEntry && depth[q] >= depth[ownEntry.child]) {
    const before = mm;
    if (passesUp(q, ownEntry, entry.edge) !== null) return mm;
    mm = before;
  }
  if (ownExit && depth[p] >= depth[ownExit.child]) {
    const before = mm;
    if (passesUp(p, ownExit, exit.edge) !== null) return mm;
    mm = before;
  }
  while (p !== q) {
    if (depth[p] >= depth[q]) p = climb(p);
    else q = climb(q);
  }
  return mm;
}
