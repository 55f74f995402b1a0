/**
 * The sequential ordering problem: the cheapest order of pieces, where the cost of a piece depends on the one
 * sewn directly before it and some pieces must come before others (L. F. Escudero, «An inexact algorithm for the
 * sequential ordering problem», European Journal of Operational Research 37, 1988). Knows nothing of thread.
 *
 * An order at hand is improved, a bound is raised, and a search looks between the two for a cheaper order or for
 * the proof that there is none; each gets a share of the effort, again and again with more, until they meet.
 */
import { type Instance, readInstance } from "./solve-instance.ts";
import { stepsPerState } from "./solve-search.ts";
import { startWork, type Work } from "./solve-work.ts";

export interface SequenceOptions {
  /** The piece that must come first. */
  readonly first?: number | undefined;
  /** The piece that must come last. */
  readonly last?: number | undefined;
  /** Other seeds try other changes; the same seed gives the same order. Default 1. */
  readonly seed?: number | undefined;
  /**
   * How hard to try where more than `EXACT_PIECES` are free to move: 1, the default, takes some tenths of a second
   * at most, 100 half a minute. What twice the effort finds is never worse.
   */
  readonly effort?: number | undefined;
  /** Asked now and then; true ends the work with what is at hand. With a clock, results depend on the machine. */
  readonly deadline?: (() => boolean) | undefined;
}

export interface SequenceResult {
  /** The pieces in order; empty if no order was found. */
  readonly order: number[];
  /** Infinity if no order was found. */
  readonly cost: number;
  /** No order costs less; Infinity if it is certain that there is no order. */
  readonly lowerBound: number;
  /** Whether cost and bound have met: the order is the cheapest, or certainly there is none. */
  readonly proven: boolean;
}

/**
 * With up to this many pieces free to move (not bound to one place by precedence), the order is always the
 * cheapest, whatever the effort: dynamic programming then needs at most 16 · 2^15 states.
 */
export const EXACT_PIECES = 16;

/** Steps in one unit of effort. */
const STEPS = 1e8;
/** Steps in the first round; each further one may do twice as much, so that easy problems end early. */
const FIRST_ROUND = STEPS / 63;
/** Of a round, the shares of improving the order and of raising the bound; searching has the rest. */
const SHARE_OF_ORDER = 0.25;
const SHARE_OF_BOUND = 0.5;
/** More states in a layer than this take too much memory. */
const WIDEST_LAYER = 120_000;
/** Before a full search, which costs more the more pieces are free, so many steps for the square of their number. */
const STEPS_BEFORE_FULL_SEARCH = 1000;

/**
 * Finds the cheapest order, or a cheap one and a bound that says how far from the cheapest it can be.
 *
 * `costs[i][j]` is what it costs that j follows i directly: any number, Infinity where that is forbidden; the
 * diagonal is not looked at. `precedence` holds pairs [before, after]. Where no order can be, the result is an
 * empty order of infinite cost: `proven` and with an infinite bound if that is certain, else none was found.
 * Throws a RangeError if the matrix is not square, a cost is NaN or −Infinity, or a number names no piece.
 */
export function sequence(
  costs: readonly (readonly number[])[],
  precedence: readonly (readonly [before: number, after: number])[] = [],
  options: SequenceOptions = {},
): SequenceResult {
  const instance = readInstance(costs, [...precedence, ...endPairs(costs.length, options)]);
  if (instance === null) return noOrder(Number.POSITIVE_INFINITY);
  if (instance.size === 0) return { order: [], cost: 0, lowerBound: 0, proven: true };
  const work = startWork(instance, options.seed ?? 1, options.deadline);
  const free = freePieces(instance);
  if (free <= EXACT_PIECES) solveInFull(work, free);
  else solveInRounds(work, instance.size, (options.effort ?? 1) * STEPS);
  return report(work, costs);
}

/** First and last, said by precedence. */
function endPairs(size: number, { first, last }: SequenceOptions): [number, number][] {
  const pairs: [number, number][] = [];
  for (let i = 0; i < size; i++) {
    if (first !== undefined && i !== first) pairs.push([first, i]);
    if (last !== undefined && i !== last) pairs.push([i, last]);
  }
  return pairs;
}

/** How many pieces precedence does not bind to one place. */
function freePieces({ size, precedence }: Instance): number {
  const { beforeCount, afterCount } = precedence;
  return beforeCount.reduce((free, before, i) => (before + afterCount[i] < size - 1 ? free + 1 : free), 0);
}

function solveInFull(work: Work, free: number): void {
  const steps = STEPS_BEFORE_FULL_SEARCH * free ** 2;
  work.improveOrder(steps);
  work.raiseBound(steps);
  work.searchAll(largestLayer(free));
}

/** Whole rounds only: what a round does depends on none after it, so more effort never ends with less. */
function solveInRounds(work: Work, size: number, steps: number): void {
  let left = steps;
  let round = FIRST_ROUND;
  do {
    const searchSteps = round * (1 - SHARE_OF_ORDER - SHARE_OF_BOUND);
    work.improveOrder(round * SHARE_OF_ORDER);
    work.raiseBound(round * SHARE_OF_BOUND);
    work.search(widthFor(size, searchSteps), searchSteps);
    left -= round;
    round *= 2;
  } while (left >= round && !work.isDone());
}

/** The most states of one layer: k of the free pieces sewn, one of them last. */
function largestLayer(free: number): number {
  let choices = 1;
  let most = 1;
  for (let k = 1; k <= free; k++) {
    choices *= (free - k + 1) / k;
    most = Math.max(most, k * Math.round(choices));
  }
  return most;
}

/** The width at which a search fills all its layers in so many steps. */
const widthFor = (size: number, steps: number): number =>
  Math.min(WIDEST_LAYER, Math.max(1, Math.floor(steps / (size * stepsPerState(size)))));

function report(work: Work, costs: readonly (readonly number[])[]): SequenceResult {
  const order = work.order();
  if (order === null) return noOrder(work.bound());
  const cost = order.reduce((sum, j, k) => (k === 0 ? 0 : sum + costs[order[k - 1]][j]), 0);
  return { order: [...order], cost, lowerBound: work.isDone() ? cost : work.bound(), proven: work.isDone() };
}

const noOrder = (lowerBound: number): SequenceResult => ({
  order: [],
  cost: Number.POSITIVE_INFINITY,
  lowerBound,
  proven: lowerBound === Number.POSITIVE_INFINITY,
});
