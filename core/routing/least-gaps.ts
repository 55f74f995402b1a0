/** The way over a set of bodies that crosses the least width of gaps (Dijkstra 1959): moving inside a body is free. */
import TinyQueue from "tinyqueue";
import { type Body, type Gap, gapBetween } from "./body.ts";

/** A step over a gap, to body `node`. */
export interface Crossing {
  readonly node: number;
  readonly gap: Gap;
}

/** The gaps from the first body to the last with the least total width, or `null` where that is not below the limit. */
export function leastGaps(nodes: readonly Body[], limitMm: number): Crossing[] | null {
  const last = nodes.length - 1;
  const cost = new Array<number>(nodes.length).fill(Number.POSITIVE_INFINITY);
  const came: ({ from: number; gap: Gap } | null)[] = nodes.map(() => null);
  const queue = new TinyQueue([{ node: 0, cost: 0 }], (a, b) => a.cost - b.cost || a.node - b.node);
  cost[0] = 0;
  for (let next = queue.pop(); next; next = queue.pop()) {
    if (next.node === last) break;
    if (next.cost > cost[next.node]) continue;
    for (let k = 1; k < nodes.length; k++) {
      if (k === next.node) continue;
      // A way that costs as much as one already known to lead here, or to the end, is of no use.
      const worth = Math.min(limitMm, cost[k], cost[last]);
      if (next.cost >= worth) continue;
      const gap = gapBetween(nodes[next.node], nodes[k], worth - next.cost);
      if (!gap || next.cost + gap.distance >= worth) continue;
      cost[k] = next.cost + gap.distance;
      came[k] = { from: next.node, gap };
      queue.push({ node: k, cost: cost[k] });
    }
  }
  if (!came[last]) return null;
  const way: Crossing[] = [];
  for (let node = last, step = came[node]; step; node = step.from, step = came[node]) {
    way.unshift({ node, gap: step.gap });
  }
  return way;
}
