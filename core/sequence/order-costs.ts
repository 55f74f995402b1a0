/**
 * What an order of pieces costs: by far the most for a colour block, then for a strand, then for exposed thread,
 * then for the distance from piece to piece. One number an order, so that a search can add and compare.
 */

import type { Piece } from "../artwork/types.ts";
import { distance } from "../geometry/point.ts";
import { ringCentroid } from "../geometry/polyline.ts";
import type { Point } from "../geometry/types.ts";
import { bodyOf } from "../routing/body.ts";
import { hopLimitMm, weighHops } from "../routing/hops.ts";
import { leastHopCost, measureNearness, type Nearness } from "../routing/nearness.ts";
import type { Settings } from "../settings.ts";
import { coverOf } from "../techniques/cover-of.ts";
import { type Bits, emptyBits, hasBit, setBit } from "./bits.ts";
import type { Precedence } from "./precedence.ts";

/** What counts first, by far: a block, then a strand, then a millimetre of exposed thread, then of distance. */
const BLOCK_COST = 1e9;
const STRAND_COST = 1e5;
const EXPOSED_COST = 1e2;

/** The blocks and strands in a cost. */
export const countOf = (cost: number): { readonly blocks: number; readonly strands: number } => ({
  blocks: Math.floor(cost / BLOCK_COST),
  strands: Math.floor((cost % BLOCK_COST) / STRAND_COST),
});

export interface OrderCosts {
  readonly colours: readonly number[];
  /** Exact: what is sewn says what can still hide the way. */
  readonly stepCost: (last: number, next: number, sewn: Bits) => number;
  /**
   * What a hop between two pieces costs at least with these sewn before; from `limitMm` on the strand breaks, as it
   * always does between colours and beyond the last piece.
   */
  readonly hopCost: (last: number, next: number, isSewn: (k: number) => boolean) => number;
  readonly limitMm: number;
  /** The cost of a whole order, by `stepCost`. */
  readonly costOf: (order: readonly number[]) => number;
  /** Whether some legal order could join i and j: with all still to come that need not come before one of them. */
  readonly joinable: (i: number, j: number, precedence: Precedence) => boolean;
  readonly nearness: Nearness;
}

/** Weighs orders of pieces, which are numbered as they stand here. With `from`, near to that point counts as cheap early on. */
export function weighOrders(pieces: readonly Piece[], settings: Settings, from?: Point): OrderCosts {
  const names = [...new Set(pieces.map((piece) => piece.colour))];
  const colours = pieces.map((piece) => names.indexOf(piece.colour));
  const covers = pieces.map((piece) => coverOf(piece) !== null);
  const centres = pieces.map((piece) => ringCentroid(piece.region[0].outer));
  const limitMm = hopLimitMm(settings);
  const nearness = measureNearness(pieces.map(bodyOf), weighHops(pieces, settings), limitMm);
  const least = (i: number, j: number, under: (k: number) => boolean): number =>
    leastHopCost(nearness, i, j, pieces[i].colour, under, limitMm);
  const wayCost = (last: number, next: number, count: number): number =>
    from
      ? (distance(centres[next], from) * (pieces.length - count)) / pieces.length
      : distance(centres[last], centres[next]);
  const hopCost: OrderCosts["hopCost"] = (last, next, isSewn) =>
    colours[last] === colours[next] ? least(last, next, (k) => covers[k] && !isSewn(k)) : limitMm;
  const stepCost = (last: number, next: number, sewn: Bits): number => {
    if (last < 0) return BLOCK_COST + STRAND_COST + (from ? wayCost(next, next, 0) : 0);
    const way = Math.min(wayCost(last, next, from ? countBits(sewn) : 0), 400);
    if (colours[last] !== colours[next]) return BLOCK_COST + STRAND_COST + way;
    const shown = hopCost(last, next, (k) => hasBit(sewn, k));
    return (shown >= limitMm ? STRAND_COST : shown * EXPOSED_COST) + way;
  };
  return {
    colours,
    stepCost,
    hopCost,
    limitMm,
    nearness,
    costOf(order) {
      const sewn = emptyBits(pieces.length);
      let cost = 0;
      for (const [at, k] of order.entries()) {
        cost += stepCost(at === 0 ? -1 : order[at - 1], k, sewn);
        setBit(sewn, k);
      }
      return cost;
    },
    joinable: (i, j, { before }) =>
      least(i, j, (k) => covers[k] && !hasBit(before[i], k) && !hasBit(before[j], k)) < limitMm,
  };
}

function countBits(bits: Bits): number {
  let count = 0;
  for (let word of bits) for (; word !== 0; word &= word - 1) count++;
  return count;
}
