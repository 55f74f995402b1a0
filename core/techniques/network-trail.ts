/**
 * One walk over all passes of a network: from the start along whichever unused pass turns least, until there is
 * none left to take; then, from the first node on the way where some are left, round them and back, and so on
 * (Hierholzer 1873; citation from memory). At crossings the thread goes straight on wherever it can.
 */

import { distance } from "../geometry/point.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import { turnAt } from "./even-stitches.ts";
import type { GraphEdge, LineGraph } from "./network-graph.ts";

/** One pass over an edge, from `a` to `b` where it goes forward. */
export interface Pass {
  readonly edge: number;
  readonly forward: boolean;
}

/**
 * The passes in the order in which they are walked, each from the node where the one before it ended.
 *
 * @param counts how often each edge is walked: an even number of passes at every node but the walk's two ends
 * @throws RangeError where the passes can't be walked in one go from `start`
 */
export function straightTrail(graph: LineGraph, counts: Int32Array, start: number): Pass[] {
  const left = Int32Array.from(counts);
  const atNode: Pass[][] = graph.nodes.map(() => []);
  for (const [edge, { a, b }] of graph.edges.entries()) {
    atNode[a].push({ edge, forward: true });
    atNode[b].push({ edge, forward: false });
  }
  const total = counts.reduce((sum, count) => sum + count, 0);

  const walkOn = (from: number, before: Pass | undefined): Pass[] => {
    const walk: Pass[] = [];
    let node = from;
    let last = before;
    for (;;) {
      const next = straightest(
        graph.edges,
        last,
        atNode[node].filter(({ edge }) => left[edge] > 0),
      );
      if (next === undefined) return walk;
      left[next.edge]--;
      walk.push(next);
      node = endOf(graph.edges[next.edge], next);
      last = next;
    }
  };

  let trail = walkOn(start, undefined);
  for (let k = 0; k <= trail.length && trail.length < total; k++) {
    const before = trail[k - 1];
    const round = walkOn(before ? endOf(graph.edges[before.edge], before) : start, before);
    if (round.length > 0) trail = [...trail.slice(0, k), ...round, ...trail.slice(k)];
  }
  if (trail.length < total) throw new RangeError("the lines of a network must hang together");
  return trail;
}

const endOf = ({ a, b }: GraphEdge, { forward }: Pass): number => (forward ? b : a);

/** Of the passes that could follow, the one that turns least; the first of those that turn alike. */
function straightest(
  edges: readonly GraphEdge[],
  before: Pass | undefined,
  passes: readonly Pass[],
): Pass | undefined {
  if (before === undefined || passes.length < 2) return passes[0];
  const behind = lineOf(edges, { edge: before.edge, forward: !before.forward });
  let best: Pass | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const pass of passes) {
    const ahead = lineOf(edges, pass);
    const turn = Math.abs(turnAt(pointAfter(behind), ahead[0], pointAfter(ahead)));
    if (turn >= least - 1e-9) continue;
    least = turn;
    best = pass;
  }
  return best;
}

/** The line of a pass, in the direction in which it is walked. */
export const lineOf = (edges: readonly GraphEdge[], { edge, forward }: Pass): Polyline =>
  forward ? edges[edge].line : [...edges[edge].line].reverse();

/** A direction is read off so far along a line: what lies nearer may be a bend that was drawn to make the joint. */
const DIRECTION_MM = 0.4;

const pointAfter = (line: Polyline): Point =>
  line.find((p) => distance(line[0], p) >= DIRECTION_MM) ?? line[line.length - 1];
