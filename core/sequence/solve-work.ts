/**
 * What is known of a problem so far, and the three ways to know more: improve the order at hand, raise the bound,
 * search between the two. Each does nothing once order and bound have met.
 */
import { boundByAssignment } from "./solve-assignment.ts";
import { boundByWalks, type Footing } from "./solve-bound.ts";
import { improve } from "./solve-improve.ts";
import { costOfOrder, type Instance, roundUp } from "./solve-instance.ts";
import { startMeter } from "./solve-meter.ts";
import { seededRandom } from "./solve-random.ts";
import { searchLayers } from "./solve-search.ts";
import { nearestFirst } from "./solve-start.ts";
import type { Completions } from "./solve-walks.ts";

export interface Work {
  improveOrder(steps: number): void;
  raiseBound(steps: number): void;
  /** Searches at most `width` states in each layer, once there is a bound by walks to choose them by. */
  search(width: number, steps: number): void;
  /** Searches until the order is proven; no layer may have more than `width` states. */
  searchAll(width: number): void;
  /** Whether the order is proven the cheapest, or it is certain that there is none. */
  isDone(): boolean;
  /** The cheapest order found, null if none avoids the forbidden arcs. */
  order(): Int32Array | null;
  /** No order costs less; Infinity if there is none. */
  bound(): number;
}

/** With fewer walks than this the bound by walks hardly rises. */
const FEWEST_WALKS = 10;

/** Takes up work on a problem of one piece or more; `deadline` breaks off whatever is being done. */
export function startWork(instance: Instance, seed: number, deadline: (() => boolean) | undefined): Work {
  const { size, arcs, leastGain } = instance;
  const random = seededRandom(seed);
  let order = nearestFirst(instance);
  let bound = Number.NEGATIVE_INFINITY;
  let footing: Footing | null = null;
  let completions: Completions | null = null;

  /** The cost of the order at hand, Infinity while it holds a forbidden arc. */
  const cost = (): number => costOfOrder(instance, order);
  const isDone = (): boolean => bound > cost() - leastGain || bound === Number.POSITIVE_INFINITY;
  const raiseTo = (proven: number): void => {
    bound = Math.max(bound, roundUp(instance, proven));
  };
  /** The prices of the assignment bound; null where the steps did not suffice for it. */
  const startFooting = (steps: number): Footing | null => {
    const assignment = boundByAssignment(arcs, size + 1, startMeter(steps, deadline));
    raiseTo(assignment.bound);
    if (!assignment.isExact) return null;
    const { rowPrices, columnPrices } = assignment;
    return { prices: rowPrices.subarray(0, size).map((price, i) => price + columnPrices[i]), tracked: [] };
  };

  const searchWithin = (width: number, steps: number): void => {
    const found = searchLayers(instance, completions, cost(), width, startMeter(steps, deadline));
    if (found.order) order = found.order;
    raiseTo(Math.min(found.bound, cost()));
  };

  return {
    isDone,
    improveOrder(steps) {
      if (isDone()) return;
      order = improve(instance, order, bound, startMeter(steps, deadline), random).order;
    },
    raiseBound(steps) {
      if (isDone()) return;
      footing ??= startFooting(steps);
      if (footing === null || isDone() || FEWEST_WALKS * size ** 3 > steps) return;
      completions = boundByWalks(instance, footing, cost(), startMeter(steps, deadline));
      footing = completions;
      raiseTo(completions.bound);
    },
    search(width, steps) {
      if (!isDone() && completions !== null) searchWithin(width, steps);
    },
    searchAll(width) {
      if (!isDone()) searchWithin(width, Number.POSITIVE_INFINITY);
    },
    order: () => (Number.isFinite(cost()) ? order : null),
    bound: () => (isDone() && Number.isFinite(cost()) ? cost() : bound),
  };
}
