/**
 * Raises the bound by walks (see solve-walks). Prices follow the subgradient: dearer where the cheapest walk
 * comes too often, cheaper where it never comes; steps as M. Held, P. Wolfe, H. P. Crowder, «Validation of
 * subgradient optimization», Mathematical Programming 6, 1974, each direction keeping part of the one before as
 * P. M. Camerini, L. Fratta, F. Maffioli, «On improving relaxation methods by modified gradient techniques»,
 * Mathematical Programming Study 3, 1975. When prices no longer help, or half of the steps are used up, the piece
 * that breaks the most rules is tracked, and prices are moved again.
 */
import type { Instance } from "./solve-instance.ts";
import type { Meter } from "./solve-meter.ts";
import { hasBit } from "./solve-precedence.ts";
import { buildWalker, type Completions } from "./solve-walks.ts";

/** Of each direction this share is kept in the next. */
const MOMENTUM = 0.8;
/** After so many rounds without a better bound, the step is halved and the best prices are taken up again. */
const PATIENCE = 20;
/** At this share of the first step, prices are as good as they get. */
const SHORTEST_STRIDE = 0.02;
/** One more piece is tracked only if the meter has enough for so many rounds with it. */
const FEWEST_ROUNDS = 20;
/** Tables of more entries than this take too much memory: four numbers an entry. */
const MOST_ENTRIES = 3_000_000;

/** Where to take up the work: prices, and the pieces tracked. */
export type Footing = Pick<Completions, "prices" | "tracked">;

/**
 * Raises the bound until it proves `target` (the cost of an order at hand, Infinity if there is none) or the
 * meter is spent; one walk at least is found. With the prices of the assignment bound to start from, the result
 * is no worse than that.
 */
export function boundByWalks(instance: Instance, start: Footing, target: number, meter: Meter): Completions {
  const { size } = instance;
  const offences = new Float64Array(size);
  let { prices, tracked } = start;
  for (;;) {
    const entriesWithMore = 2 ** (tracked.length + 1) * size ** 2;
    const half = meter.left() / 2;
    const mayTrackMore = entriesWithMore <= MOST_ENTRIES && FEWEST_ROUNDS * entriesWithMore * size <= half;
    offences.fill(0);
    const result = raise(instance, tracked, prices, target, meter, mayTrackMore ? half : 0, offences);
    for (const piece of tracked) offences[piece] = 0;
    const worst = offences.indexOf(Math.max(...offences));
    if (isProven(instance, result, target) || !mayTrackMore || offences[worst] === 0) return result;
    prices = result.prices;
    tracked = [...tracked, worst];
  }
}

const isProven = ({ leastGain }: Instance, { bound }: Completions, target: number): boolean =>
  bound > target - leastGain;

/** Moves the prices, with these pieces tracked, and adds up how often each piece breaks a rule; leaves a reserve. */
function raise(
  instance: Instance,
  tracked: readonly number[],
  startPrices: Float64Array,
  target: number,
  meter: Meter,
  reserve: number,
  offences: Float64Array,
): Completions {
  const { size } = instance;
  const cheapestWalk = buildWalker(instance, tracked, meter);
  const prices = startPrices.slice();
  const best = { prices: startPrices.slice(), bound: Number.NEGATIVE_INFINITY };
  const direction = new Float64Array(size);
  let stride = 1;
  let idle = 0;
  for (;;) {
    const current = cheapestWalk(prices);
    if (current.bound > best.bound) {
      best.bound = current.bound;
      best.prices.set(prices);
      idle = 0;
    } else idle++;
    if (meter.left() <= reserve || isProven(instance, current, target) || current.walk.length === 0) break;
    if (countOffences(instance, current.walk, offences) === 0) break;
    if (idle >= PATIENCE) {
      stride /= 2;
      if (stride < SHORTEST_STRIDE) break;
      idle = 0;
      prices.set(best.prices);
      direction.fill(0);
      continue;
    }
    for (let i = 0; i < size; i++) direction[i] *= MOMENTUM;
    for (let i = 0; i < size; i++) direction[i] += 1;
    for (const piece of current.walk) direction[piece] -= 1;
    const length2 = direction.reduce((sum, d) => sum + d * d, 0);
    if (length2 === 0) break;
    const step = (stride * (aim(target, best.bound) - current.bound)) / length2;
    for (let i = 0; i < size; i++) prices[i] += step * direction[i];
  }
  return cheapestWalk(best.prices);
}

/** What the bound is hoped to reach: the target or, without one, a little more than is proven. */
const aim = (target: number, bound: number): number =>
  Number.isFinite(target) ? target : bound + 0.05 * Math.abs(bound) + 1;

/** Counts for each piece how often a walk comes back to it, or to it and another in the wrong order; all together. */
function countOffences({ precedence }: Instance, walk: Int32Array, offences: Float64Array): number {
  const { before, words } = precedence;
  const isSeen = new Uint8Array(offences.length);
  let total = 0;
  for (let place = 0; place < walk.length; place++) {
    const piece = walk[place];
    if (isSeen[piece] === 1) {
      offences[piece]++;
      total++;
    }
    isSeen[piece] = 1;
    for (let later = place + 1; later < walk.length; later++) {
      if (!hasBit(before, words, piece, walk[later])) continue;
      offences[piece]++;
      offences[walk[later]]++;
      total++;
    }
  }
  return total;
}
