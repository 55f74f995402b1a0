/**
 * Postman walks against the known optimum. By Edmonds and Johnson 1973 the least addition to a graph is the least
 * total of shortest ways that join its odd nodes in pairs; here every pairing is tried, and the ways are those of
 * `graphology-shortest-path`, a general-purpose graph library.
 */
import { MultiUndirectedGraph } from "graphology";
import { dijkstra } from "graphology-shortest-path";
import { describe, expect, test } from "vitest";
import { distance } from "../../core/geometry/point.ts";
import type { Point } from "../../core/geometry/types.ts";
import type { LineGraph } from "../../core/techniques/network-graph.ts";
import { cheapestPairs, EXACT_UP_TO } from "../../core/techniques/network-matching.ts";
import { postmanPasses, type WalkedEdge } from "../../core/techniques/network-postman.ts";
import { straightTrail } from "../../core/techniques/network-trail.ts";

/** A small generator with a fixed seed (mulberry32, public domain; from memory). */
function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** A connected graph of straight lines: a random tree and some more edges, parallels and loops among them. */
function randomGraph(seed: number): { graph: LineGraph; pick: () => number } {
  const next = random(seed);
  const count = 2 + Math.floor(next() * 8);
  const nodes = Array.from({ length: count }, (): Point => [50 * next(), 50 * next()]);
  const edges: LineGraph["edges"][number][] = [];
  const add = (a: number, b: number) => {
    const line: Point[] =
      a === b ? [nodes[a], [nodes[a][0] + 3, nodes[a][1]], nodes[a]] : [nodes[a], nodes[b]];
    edges.push({ a, b, line, lengthMm: a === b ? 6 : distance(nodes[a], nodes[b]) });
  };
  for (let k = 1; k < count; k++) add(Math.floor(next() * k), k);
  const pick = () => Math.floor(next() * count);
  for (let more = Math.floor(next() * 7); more > 0; more--) add(pick(), pick());
  return { graph: { nodes, edges }, pick };
}

const lengthOf = (edges: readonly WalkedEdge[], counts: ArrayLike<number>): number =>
  edges.reduce((sum, { lengthMm }, e) => sum + lengthMm * counts[e], 0);

/** The least length beyond `passes` times every edge, over all pairings of the nodes that lack a pass. */
function leastAddition({ nodes, edges }: LineGraph, passes: number, start: number, end: number): number {
  const graph = new MultiUndirectedGraph();
  for (const node of nodes.keys()) graph.addNode(node);
  for (const { a, b, lengthMm } of edges) graph.addEdge(a, b, { weight: lengthMm });
  const lacking = [...nodes.keys()].filter((node) => {
    const isEnd = start !== end && (node === start || node === end);
    return (passes * graph.degree(node) + (isEnd ? 1 : 0)) % 2 === 1;
  });
  const apart = (a: number, b: number): number => {
    const path = dijkstra.bidirectional(graph, a, b, "weight").map(Number);
    return path.slice(1).reduce((sum, node, i) => sum + shortestEdge(edges, path[i], node), 0);
  };
  return leastPairing(lacking, apart);
}

const shortestEdge = (edges: readonly WalkedEdge[], a: number, b: number): number =>
  Math.min(
    ...edges.filter((e) => (e.a === a && e.b === b) || (e.a === b && e.b === a)).map((e) => e.lengthMm),
  );

function leastPairing(rest: readonly number[], apart: (a: number, b: number) => number): number {
  if (rest.length === 0) return 0;
  const [first, ...others] = rest;
  return Math.min(
    ...others.map(
      (other) =>
        apart(first, other) +
        leastPairing(
          others.filter((o) => o !== other),
          apart,
        ),
    ),
  );
}

const SEEDS = Array.from({ length: 200 }, (_, seed) => seed);

describe("200 random networks", () => {
  test("are walked in the least length there is, for one, two and three passes, whatever entry and exit", () => {
    for (const seed of SEEDS) {
      const { graph, pick } = randomGraph(seed);
      const walked = { nodeCount: graph.nodes.length, edges: graph.edges };
      const [start, end] = [pick(), pick()];
      for (const passes of [1, 2, 3]) {
        const counts = postmanPasses(walked, passes, start, end);
        const least =
          passes *
            lengthOf(
              graph.edges,
              counts.map(() => 1),
            ) +
          leastAddition(graph, passes, start, end);
        expect(lengthOf(graph.edges, counts)).toBeCloseTo(least, 6);
        expect(Math.min(...counts)).toBeGreaterThanOrEqual(passes);
      }
    }
  });

  test("are walked equally often everywhere, out and back, where the walk ends where it began", () => {
    for (const seed of SEEDS) {
      const { graph, pick } = randomGraph(seed);
      const start = pick();
      const counts = postmanPasses({ nodeCount: graph.nodes.length, edges: graph.edges }, 2, start, start);
      expect(new Set(counts)).toEqual(new Set([2]));
    }
  });

  test("are walked in one go: each pass begins where the one before ended, and each edge has all its passes", () => {
    for (const seed of SEEDS) {
      const { graph, pick } = randomGraph(seed);
      const [start, end, passes] = [pick(), pick(), 1 + (seed % 3)];
      const counts = postmanPasses({ nodeCount: graph.nodes.length, edges: graph.edges }, passes, start, end);
      const walked = new Int32Array(graph.edges.length);
      let node = start;
      for (const { edge, forward } of straightTrail(graph, counts, start)) {
        const { a, b } = graph.edges[edge];
        expect(node).toBe(forward ? a : b);
        node = forward ? b : a;
        walked[edge]++;
      }
      expect(node).toBe(end);
      expect(walked).toEqual(counts);
    }
  });
});

describe("pairs", () => {
  const apartIn = (points: readonly Point[]) => (i: number, j: number) => distance(points[i], points[j]);
  const pointsFor = (seed: number, count: number): Point[] => {
    const next = random(seed);
    return Array.from({ length: count }, (): Point => [next(), next()]);
  };
  const total = (pairs: readonly [number, number][], cost: (i: number, j: number) => number): number =>
    pairs.reduce((sum, [i, j]) => sum + cost(i, j), 0);

  test("of up to ten points are the best of all pairings", () => {
    for (let seed = 0; seed < 60; seed++) {
      const count = 2 * (seed % 6);
      const apart = apartIn(pointsFor(seed, count));
      expect(total(cheapestPairs(count, apart), apart)).toBeCloseTo(
        leastPairing([...Array(count).keys()], apart),
        9,
      );
    }
  });

  test("of more than the exact method takes hold each point once, and no two pairs gain by exchanging partners", () => {
    for (let seed = 0; seed < 20; seed++) {
      const count = EXACT_UP_TO + 2 + 4 * (seed % 5);
      const apart = apartIn(pointsFor(seed, count));
      const pairs = cheapestPairs(count, apart);
      expect(pairs.flat().sort((a, b) => a - b)).toEqual([...Array(count).keys()]);
      for (const [p, [a, b]] of pairs.entries())
        for (const [c, d] of pairs.slice(p + 1)) {
          const now = apart(a, b) + apart(c, d);
          expect(now).toBeLessThanOrEqual(
            Math.min(apart(a, c) + apart(b, d), apart(a, d) + apart(b, c)) + 1e-8,
          );
        }
    }
  });

  test("need an even number", () => {
    expect(() => cheapestPairs(3, () => 1)).toThrow(RangeError);
  });
});
