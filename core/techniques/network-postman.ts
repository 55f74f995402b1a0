/**
 * How often each edge of a network is walked, so that one walk from the start to the end covers every edge at
 * least as often as asked, with as little more as possible (the Chinese postman problem; Guan Mei-Ko, Graphic
 * programming using odd or even points, Chinese Mathematics 1, 1962).
 *
 * A walk over all of a connected graph exists where an even number of passes meets at every node, an odd number
 * at start and end if they differ (Euler 1736). The nodes where that fails are an even number; joining them in
 * pairs by shortest ways, each edge on a way walked once more, mends all of them, and the pairs of least total
 * length give the shortest walk (Edmonds and Johnson, Matching, Euler tours and the Chinese postman, Mathematical
 * Programming 5, 1973). Citations from memory.
 *
 * With an even number of passes and the end at the start nothing is added: every edge is walked equally often.
 */
import TinyQueue from "tinyqueue";
import { cheapestPairs } from "./network-matching.ts";

export interface WalkedEdge {
  readonly a: number;
  readonly b: number;
  readonly lengthMm: number;
}

/** Nodes are numbered from 0. Edges may be parallel, and may be loops. */
export interface WalkedGraph {
  readonly nodeCount: number;
  readonly edges: readonly WalkedEdge[];
}

/**
 * How often to walk each edge: `passes` times, and some once more. The sum is the least there is where at most
 * `EXACT_UP_TO` nodes are in need of more (network-matching.ts), and near it beyond.
 *
 * @throws RangeError where the graph does not hang together
 */
export function postmanPasses(graph: WalkedGraph, passes: number, start: number, end: number): Int32Array {
  const counts = new Int32Array(graph.edges.length).fill(passes);
  const lacking = nodesLackingAPass(graph, passes, start, end);
  if (lacking.length === 0) return counts;
  const trees = lacking.map((node) => shortestWays(graph, node));
  const pairs = cheapestPairs(lacking.length, (i, j) => trees[i].lengthMm[lacking[j]]);
  // Two ways that share an edge could both go without it: it is added for one, taken away by the other.
  for (const [i, j] of pairs)
    for (const edge of wayFrom(graph, trees[i], lacking[i], lacking[j]))
      counts[edge] += counts[edge] === passes ? 1 : -1;
  return counts;
}

function nodesLackingAPass(
  { nodeCount, edges }: WalkedGraph,
  passes: number,
  start: number,
  end: number,
): number[] {
  const parity = new Uint8Array(nodeCount);
  for (const { a, b } of edges) {
    parity[a] ^= passes & 1;
    parity[b] ^= passes & 1;
  }
  parity[start] ^= 1;
  parity[end] ^= 1;
  return [...parity.keys()].filter((node) => parity[node] === 1);
}

/** Shortest ways from one node to all others. */
export interface Ways {
  readonly lengthMm: Float64Array;
  /** The edge by which each node is reached; −1 at the start, and where there is no way. */
  readonly by: Int32Array;
}

/** By the method of Dijkstra 1959. */
export function shortestWays({ nodeCount, edges }: WalkedGraph, from: number): Ways {
  const atNode: number[][] = Array.from({ length: nodeCount }, () => []);
  for (const [e, { a, b }] of edges.entries()) {
    atNode[a].push(e);
    atNode[b].push(e);
  }
  const lengthMm = new Float64Array(nodeCount).fill(Number.POSITIVE_INFINITY);
  const by = new Int32Array(nodeCount).fill(-1);
  lengthMm[from] = 0;
  const queue = new TinyQueue([{ node: from, mm: 0 }], (p, q) => p.mm - q.mm);
  for (let next = queue.pop(); next; next = queue.pop()) {
    const { node, mm } = next;
    if (mm > lengthMm[node]) continue;
    for (const e of atNode[node]) {
      const other = otherEnd(edges[e], node);
      const reached = mm + edges[e].lengthMm;
      if (reached >= lengthMm[other]) continue;
      lengthMm[other] = reached;
      by[other] = e;
      queue.push({ node: other, mm: reached });
    }
  }
  return { lengthMm, by };
}

const otherEnd = ({ a, b }: WalkedEdge, node: number): number => (a === node ? b : a);

function wayFrom({ edges }: WalkedGraph, { by }: Ways, from: number, to: number): number[] {
  const way: number[] = [];
  for (let node = to; node !== from; node = otherEnd(edges[by[node]], node)) {
    if (by[node] < 0) throw new RangeError("the lines of a network must hang together");
    way.push(by[node]);
  }
  return way;
}
