/**
 * Walks: orders with some of the rules let go. A walk takes one piece at each place 0 … n − 1. It may miss a
 * piece and come back to another (not by way of one other piece only), but a piece stands only at places that
 * leave room for all that precedes and follows it. A few pieces are tracked: those the walk takes exactly once,
 * and in due order with regard to every other piece. Prices on the pieces are paid back at each visit.
 *
 * The cheapest walk is found by dynamic programming from the end over (tracked pieces visited, place, piece), in
 * 2^tracked · n³ steps. Every order is a walk, so the sum of all prices plus the cost of the cheapest walk is a
 * lower bound, and so it is for every way to finish an order that was begun.
 *
 * Sources: walks instead of orders, without two-circles: N. Christofides, A. Mingozzi, P. Toth, «State-space
 * relaxation procedures for the computation of bounds to routing problems», Networks 11, 1981; places as layers:
 * J.-C. Picard, M. Queyranne, «The time-dependent traveling salesman problem and its application to the tardiness
 * problem in one-machine scheduling», Operations Research 26, 1978; tracking only critical pieces: G. Righini,
 * M. Salani, «New dynamic programming algorithms for the resource constrained elementary shortest path problem»,
 * Networks 51, 2008.
 */
import type { Instance } from "./solve-instance.ts";
import type { Meter } from "./solve-meter.ts";
import { trackPieces } from "./solve-tracking.ts";

/** What it costs at least to finish. Entry (mask, place, piece) is at (mask · size + place) · size + piece. */
export interface Completions {
  readonly prices: Float64Array;
  /** Bit k of a mask stands for tracked[k]. */
  readonly tracked: readonly number[];
  /** Least cost, less prices, of what follows when the tracked pieces in `mask` are done and `piece` is at `place`. */
  readonly first: Float64Array;
  /** The piece then taken next, -1 at the end. */
  readonly next: Int32Array;
  /** Least cost if another is taken next. */
  readonly second: Float64Array;
  /** No order costs less. */
  readonly bound: number;
  /** The cheapest walk, piece by piece; empty if there is none, and so no order. */
  readonly walk: Int32Array;
}

/** A function that finds the cheapest walk for prices. What it returns is overwritten by the next call. */
export function buildWalker(
  instance: Instance,
  tracked: readonly number[],
  meter: Meter,
): (prices: Float64Array) => Completions {
  const { size, arcs } = instance;
  const wide = size + 1;
  const { bits, masks, mayStand } = trackPieces(instance, tracked);
  const all = 2 ** tracked.length - 1;
  const entries = (all + 1) * size * size;
  const first = new Float64Array(entries);
  const second = new Float64Array(entries);
  const next = new Int32Array(entries);
  const secondNext = new Int32Array(entries);
  // The pieces that may come next, and where their completions stand.
  const followers = new Int32Array(size);
  const follow = new Int32Array(size);

  const entry = (mask: number, place: number, piece: number): number => (mask * size + place) * size + piece;
  const mayTake = (mask: number, place: number, piece: number): boolean =>
    (mask & bits[piece]) === 0 && mayStand(mask | bits[piece], place, piece);

  const fillPlace = (mask: number, place: number, prices: Float64Array): void => {
    let count = 0;
    for (let j = 0; j < size; j++) {
      if (!mayTake(mask, place + 1, j)) continue;
      followers[count] = j;
      follow[count++] = entry(mask | bits[j], place + 1, j);
    }
    for (let i = 0; i < size; i++) {
      if (!mayStand(mask, place, i)) continue;
      let least = Number.POSITIVE_INFINITY;
      let secondLeast = Number.POSITIVE_INFINITY;
      let by = -1;
      let secondBy = -1;
      meter.spend(count);
      const row = i * wide;
      for (let k = 0; k < count; k++) {
        const j = followers[k];
        const at = follow[k];
        const cost = arcs[row + j] - prices[j] + (next[at] === i ? second[at] : first[at]);
        if (cost < least) {
          secondLeast = least;
          secondBy = by;
          least = cost;
          by = j;
        } else if (cost < secondLeast) {
          secondLeast = cost;
          secondBy = j;
        }
      }
      const at = entry(mask, place, i);
      first[at] = least;
      next[at] = by;
      second[at] = secondLeast;
      secondNext[at] = secondBy;
    }
  };

  const fillEnd = (): void => {
    const row = entry(all, size - 1, 0);
    for (let i = 0; i < size; i++) {
      if (mayStand(all, size - 1, i)) first[row + i] = second[row + i] = arcs[i * wide + size];
    }
  };

  const startOf = (prices: Float64Array): { piece: number; cost: number } => {
    let piece = -1;
    let cost = Number.POSITIVE_INFINITY;
    for (let i = 0; i < size; i++) {
      if (!mayTake(0, 0, i)) continue;
      const whole = arcs[size * wide + i] - prices[i] + first[entry(bits[i], 0, i)];
      if (whole < cost) [piece, cost] = [i, whole];
    }
    return { piece, cost };
  };

  const walkFrom = (start: number): Int32Array => {
    const walk = new Int32Array(start < 0 ? 0 : size);
    let previous = -1;
    let piece = start;
    let mask = 0;
    for (let place = 0; place < walk.length; place++) {
      walk[place] = piece;
      mask |= bits[piece];
      const at = entry(mask, place, piece);
      const following = next[at] === previous ? secondNext[at] : next[at];
      previous = piece;
      piece = following;
    }
    return walk;
  };

  return (prices) => {
    first.fill(Number.POSITIVE_INFINITY);
    second.fill(Number.POSITIVE_INFINITY);
    next.fill(-1);
    fillEnd();
    for (const mask of masks.toReversed()) {
      for (let place = size - 2; place >= 0; place--) fillPlace(mask, place, prices);
    }
    const { piece, cost } = startOf(prices);
    const bound = prices.reduce((sum, price) => sum + price, cost);
    return { prices, tracked, first, next, second, bound, walk: walkFrom(piece) };
  };
}
