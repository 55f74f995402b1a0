/**
 * The exact search: dynamic programming over what has been sewn. A state is the set of pieces sewn so far and
 * the last of them; of all ways to reach it only the cheapest is kept, since what follows costs the same
 * (M. Held, R. M. Karp, «A dynamic programming approach to sequencing problems», Journal of SIAM 10, 1962).
 * Precedence leaves few sets: those that hold, with a piece, all that must come before it (L. Schrage,
 * K. R. Baker, «Dynamic programming solution of sequencing problems with precedence constraints», Operations
 * Research 26, 1978). A state is dropped when its cost and the least cost of what follows reach the cost of an
 * order at hand (Y. Salii, «Revisiting dynamic programming for precedence-constrained traveling salesman problem
 * and its time-dependent generalization», European Journal of Operational Research 272, 2019).
 *
 * Sets of one size form a layer. Where a layer outgrows the width, its most promising states go on, and the
 * least bound among those left behind is kept: the search is then a beam search that still proves that bound.
 */
import type { Instance } from "./solve-instance.ts";
import {
  addState,
  clearLayer,
  hashMarks,
  holdsAll,
  holdsPiece,
  keepBest,
  type Layer,
  newLayer,
  startLayer,
} from "./solve-layer.ts";
import type { Meter } from "./solve-meter.ts";
import { trackedBits } from "./solve-tracking.ts";
import type { Completions } from "./solve-walks.ts";

export interface Found {
  /** An order that costs less than the one at hand, null if none was found. */
  readonly order: Int32Array | null;
  /** Every order costs at least this, or as much as the one at hand; Infinity if nothing was left behind. */
  readonly bound: number;
}

/** A layer is cut down to its width when it holds this many times as much. */
const SLACK = 4;

/** What one state counts on a meter: each piece is tried, some become states of the next layer. */
export const stepsPerState = (size: number): number => 60 + 20 * size;

/**
 * Searches layer by layer, at most `width` states in each, for an order that costs less than `target`. Without
 * completions nothing is known of what follows a state, and none is dropped unless its layer is too wide.
 */
export function searchLayers(
  instance: Instance,
  completions: Completions | null,
  target: number,
  width: number,
  meter: Meter,
): Found {
  const { size, arcs, precedence, leastGain } = instance;
  const wide = size + 1;
  const prices = completions?.prices ?? new Float64Array(size);
  const allPrices = prices.reduce((sum, price) => sum + price, 0);
  const tracked = completions?.tracked ?? [];
  const marks = hashMarks(size);
  const bits = trackedBits(size, tracked);
  const limit = target - leastGain;
  const trail: Trail = [];
  let leftBehind = Number.POSITIVE_INFINITY;

  let layer = newLayer(size, SLACK * width);
  let following = newLayer(size, SLACK * width);
  startLayer(layer, size);
  for (let place = 0; place < size; place++) {
    let cut = limit;
    for (let s = 0; s < layer.count; s++) {
      const row = layer.last[s] * wide;
      const mask = tracked.reduce((m, piece) => (holdsPiece(layer, s, piece) ? m | bits[piece] : m), 0);
      for (let j = 0; j < size; j++) {
        if (arcs[row + j] === Number.POSITIVE_INFINITY || holdsPiece(layer, s, j)) continue;
        if (!holdsAll(layer, s, precedence.before, j)) continue;
        const cost = layer.costs[s] + arcs[row + j] - prices[j];
        const bound = allPrices + cost + leastRest(completions, layer, s, j, mask | bits[j], place);
        if (bound > cut || bound === Number.POSITIVE_INFINITY) {
          if (bound <= limit) leftBehind = Math.min(leftBehind, bound);
          continue;
        }
        addState(following, layer, s, j, cost, bound, marks);
        if (following.count === following.capacity) cut = Math.min(cut, keepBest(following, width));
      }
      if (!meter.spend(stepsPerState(size)))
        return { order: null, bound: completions?.bound ?? Number.NEGATIVE_INFINITY };
    }
    if (cut < limit) leftBehind = Math.min(leftBehind, cut);
    leftBehind = Math.min(leftBehind, keepBest(following, width));
    trail.push({
      last: following.last.slice(0, following.count),
      parents: following.parents.slice(0, following.count),
    });
    [layer, following] = [following, layer];
    clearLayer(following);
  }
  const best = cheapest(layer.costs, layer.count);
  const isBetter = layer.count > 0 && allPrices + layer.costs[best] <= limit;
  return { order: isBetter ? orderAlong(trail, best) : null, bound: leftBehind };
}

/** What follows at least, less prices, when piece j is put at a place after state s, which makes the mask. */
function leastRest(
  completions: Completions | null,
  layer: Layer,
  s: number,
  j: number,
  mask: number,
  place: number,
): number {
  if (completions === null) return Number.NEGATIVE_INFINITY;
  const { first, second, next, prices } = completions;
  const at = (mask * prices.length + place) * prices.length + j;
  // The cheapest way on may come back to a piece that was sewn; then it is no way on.
  return next[at] >= 0 && holdsPiece(layer, s, next[at]) ? second[at] : first[at];
}

/** Last pieces and parents of every layer's states. */
type Trail = { readonly last: Int32Array; readonly parents: Int32Array }[];

function cheapest(costs: Float64Array, count: number): number {
  let best = 0;
  for (let s = 1; s < count; s++) if (costs[s] < costs[best]) best = s;
  return best;
}

/** The order that led to a state of the last layer. */
function orderAlong(trail: Trail, state: number): Int32Array {
  const order = new Int32Array(trail.length);
  let at = state;
  for (let place = trail.length - 1; place >= 0; place--) {
    order[place] = trail[place].last[at];
    at = trail[place].parents[at];
  }
  return order;
}
