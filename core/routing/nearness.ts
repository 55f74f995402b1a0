/**
 * How far apart pieces are, worked out once for each pair and only for pairs near enough to matter, and what
 * follows from it: with how little exposed thread one piece can be reached from another.
 */
import TinyQueue from "tinyqueue";
import { COVER_GAP_MM } from "../constants.ts";
import { buildBoxIndex } from "../geometry/box-index.ts";
import { growBox } from "../geometry/point.ts";
import { type Body, type Gap, gapBetween } from "./body.ts";

export interface Nearness {
  /** Exposed millimetres between two pieces, 0 where they meet; `null` beyond the limit. */
  gap(k: number, l: number): number | null;
  /** The pieces within the limit's reach of piece k by their boxes, ascending. */
  neighbours(k: number): readonly number[];
}

export function measureNearness(bodies: readonly Body[], limitMm: number): Nearness {
  const index = buildBoxIndex(bodies.map((body) => body.box));
  const gaps = new Map<number, number | null>();
  const near = new Map<number, readonly number[]>();
  return {
    gap(k, l) {
      const key = Math.min(k, l) * bodies.length + Math.max(k, l);
      let gap = gaps.get(key);
      if (gap === undefined) {
        gap = exposedGap(gapBetween(bodies[k], bodies[l], limitMm));
        gaps.set(key, gap);
      }
      return gap;
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
export const exposedGap = (gap: Gap | null): number | null =>
  gap && (gap.distance <= COVER_GAP_MM ? 0 : gap.distance);

/**
 * The least exposed thread on any way from piece `from` to piece `to` that may lead under every piece that `covers`
 * names (Dijkstra over pieces: moving inside a piece is free, each gap costs its width). Infinity where the limit is
 * reached first.
 */
export function leastExposed(
  nearness: Nearness,
  from: number,
  to: number,
  covers: (k: number) => boolean,
  limitMm: number,
): number {
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
      const gap = nearness.gap(k, l);
      if (gap === null || cost + gap >= limitMm) continue;
      if (cost + gap >= (best.get(l) ?? Number.POSITIVE_INFINITY)) continue;
      best.set(l, cost + gap);
      queue.push({ k: l, cost: cost + gap });
    }
  }
  return best.get(to) ?? Number.POSITIVE_INFINITY;
}
