/**
 * How far apart pieces are, worked out once for each pair and only for pairs near enough to matter, and what
 * follows from it: at how little cost, in thread that shows, one piece can be reached from another.
 */
import TinyQueue from "tinyqueue";
import { COVER_GAP_MM } from "../constants.ts";
import { buildBoxIndex } from "../geometry/box-index.ts";
import { growBox } from "../geometry/point.ts";
import { type Body, type Gap, gapBetween } from "./body.ts";
import type { HopCost } from "./hops.ts";

export interface Nearness {
  /** Whether no gap lies between two pieces, but for one that the drawing's tolerance can't tell from none. */
  meet(k: number, l: number): boolean;
  /** What a hop between two pieces costs thread of a colour: 0 where they meet; `null` beyond the limit. */
  hopCost(k: number, l: number, colour: string): number | null;
  /** The pieces within the limit's reach of piece k by their boxes, ascending. */
  neighbours(k: number): readonly number[];
}

/** Measures pieces in the order in which they are sewn, by their bodies. Hops from `limitMm` on are not looked at. */
export function measureNearness(bodies: readonly Body[], weigh: HopCost, limitMm: number): Nearness {
  const index = buildBoxIndex(bodies.map((body) => body.box));
  const gaps = new Map<number, Gap | null>();
  const costs = new Map<string, number>();
  const near = new Map<number, readonly number[]>();
  const pairOf = (k: number, l: number): number => Math.min(k, l) * bodies.length + Math.max(k, l);
  const gapOf = (k: number, l: number): Gap | null => {
    const pair = pairOf(k, l);
    let gap = gaps.get(pair);
    if (gap === undefined) {
      gap = gapBetween(bodies[k], bodies[l], limitMm);
      gaps.set(pair, gap);
    }
    return gap;
  };
  return {
    meet: (k, l) => isClosed(gapOf(k, l)),
    hopCost(k, l, colour) {
      const gap = gapOf(k, l);
      if (gap === null || isClosed(gap)) return gap && 0;
      const key = `${pairOf(k, l)} ${colour}`;
      const cost = costs.get(key) ?? weigh(gap.from, gap.to, colour);
      costs.set(key, cost);
      return cost;
    },
    neighbours(k) {
      let found = near.get(k);
      if (!found) {
        found = index.search(growBox(bodies[k].box, limitMm)).filter((l) => l !== k);
        near.set(k, found);
      }
      return found;
    },
  };
}

/** A gap that the drawing's tolerance can't tell from none is none. */
export const isClosed = (gap: Gap | null): boolean => gap !== null && gap.distance <= COVER_GAP_MM;

/** What a hop over a gap costs thread of a colour; `null` where there is none to hop over. */
export const costOfGap = (gap: Gap | null, colour: string, weigh: HopCost): number | null =>
  gap && (isClosed(gap) ? 0 : weigh(gap.from, gap.to, colour));

/**
 * The least cost, for thread of a colour, of any way from piece `from` to piece `to` that may lead under every piece that
 * `covers` names (Dijkstra over pieces: moving inside a piece is free, each gap costs what a hop over it does). Infinity
 * where the limit is reached first.
 */
export function leastHopCost(
  nearness: Nearness,
  from: number,
  to: number,
  colour: string,
  covers: (k: number) => boolean,
  limitMm: number,
): number {
  if (nearness.meet(from, to)) return 0;
  const best = new Map<number, number>([[from, 0]]);
  const settled = new Set<number>();
  const queue = new TinyQueue([{ k: from, cost: 0 }], (a, b) => a.cost - b.cost || a.k - b.k);
  for (let next = queue.pop(); next; next = queue.pop()) {
    const { k, cost } = next;
    const found = best.get(to);
    if (found !== undefined && found <= cost) return found;
    if (settled.has(k)) continue;
    settled.add(k);
    if (k !== from && !covers(k)) continue;
    for (const l of nearness.neighbours(k)) {
      if (settled.has(l) || !(l === to || covers(l))) continue;
      const hop = nearness.hopCost(k, l, colour);
      if (hop === null || cost + hop >= limitMm) continue;
      if (cost + hop >= (best.get(l) ?? Number.POSITIVE_INFINITY)) continue;
      best.set(l, cost + hop);
      queue.push({ k: l, cost: cost + hop });
    }
  }
  return best.get(to) ?? Number.POSITIVE_INFINITY;
}
