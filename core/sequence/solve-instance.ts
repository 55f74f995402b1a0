/**
 * The problem as the solver sees it. A depot stands for both ends of the order: the way from it to the piece
 * sewn first and from the piece sewn last back to it costs nothing. An arc i → j means that j follows i directly.
 * Arcs that no order can hold are taken out beforehand: j → i where i must precede j, i → j where something
 * must lie between, depot → j where j has predecessors, i → depot where i has successors (N. Ascheuer,
 * M. Jünger, G. Reinelt, «A branch & cut algorithm for the asymmetric traveling salesman problem with
 * precedence constraints», Computational Optimization and Applications 17, 2000).
 */
import { closePrecedence, hasBit, type Precedence, somethingBetween } from "./solve-precedence.ts";

export interface Instance {
  /** Pieces are numbered from 0 to size − 1; the depot is number `size`. */
  readonly size: number;
  /** Row by row, size + 1 wide: the cost of an arc, Infinity where it was taken out or is forbidden. */
  readonly arcs: Float64Array;
  readonly precedence: Precedence;
  /** An order is better than another only if it costs less by at least this: one unit, or what rounding may hide. */
  readonly leastGain: number;
  /** The costs are whole multiples of this, 0 where they have no common unit. */
  readonly unit: number;
  /**
   * The arcs again, those that were forbidden at a penalty larger than all that allowed arcs could save: so orders
   * that hold some can be compared and mended. The same array where none is forbidden.
   */
  readonly mendableArcs: Float64Array;
}

/** Costs differ in double precision by some 1e-16 a term; this share of the largest total is safely more. */
const ROUNDING = 1e-12;

/** Throws a RangeError for costs or pairs that make no sense; null where precedence runs in a circle. */
export function readInstance(
  costs: readonly (readonly number[])[],
  pairs: readonly (readonly [before: number, after: number])[],
): Instance | null {
  const size = costs.length;
  checkCosts(costs);
  checkPairs(pairs, size);
  const precedence = closePrecedence(size, pairs);
  if (precedence === null) return null;

  const arcs = tightenedArcs(costs, precedence);
  let least = 0;
  let most = 0;
  for (const cost of arcs) {
    if (cost === Number.POSITIVE_INFINITY) continue;
    least = Math.min(least, cost);
    most = Math.max(most, cost);
  }
  const largestTotal = (size + 1) * Math.max(most, -least);
  const unit = commonUnit(arcs, largestTotal);
  const leastGain = unit > 0 ? unit * (1 - 1e-6) : Math.max(largestTotal * ROUNDING, Number.MIN_VALUE);
  const mendableArcs = penalised(arcs, costs, 1 + most + (size + 1) * (most - least));
  return { size, arcs, precedence, unit, leastGain, mendableArcs };
}

function penalised(arcs: Float64Array, costs: readonly (readonly number[])[], penalty: number): Float64Array {
  const isForbidden = costs.some((row) => row.includes(Number.POSITIVE_INFINITY));
  return isForbidden ? arcs.map((cost) => Math.min(cost, penalty)) : arcs;
}

/** The cost of an order, Infinity if it holds a forbidden arc. */
export function costOfOrder({ size, arcs }: Instance, order: ArrayLike<number>): number {
  let cost = 0;
  for (let k = 1; k < order.length; k++) cost += arcs[order[k - 1] * (size + 1) + order[k]];
  return cost;
}

/** The least cost that an order can have which costs at least `bound`: the next multiple of the unit; never −0. */
export const roundUp = ({ unit }: Instance, bound: number): number =>
  unit > 0 && Number.isFinite(bound) ? Math.ceil(bound / unit - 1e-6) * unit + 0 : bound;

function checkCosts(costs: readonly (readonly number[])[]): void {
  for (const [i, row] of costs.entries()) {
    if (row.length !== costs.length) {
      throw new RangeError(
        `Row ${i} of the costs has ${row.length} entries; a square matrix needs ${costs.length}.`,
      );
    }
    for (let j = 0; j < row.length; j++) {
      if (i !== j && !(row[j] > Number.NEGATIVE_INFINITY)) {
        throw new RangeError(
          `The cost from ${i} to ${j} is ${row[j]}; give a number, or Infinity to forbid it.`,
        );
      }
    }
  }
}

function checkPairs(pairs: readonly (readonly [number, number])[], size: number): void {
  const isPiece = (i: number): boolean => Number.isInteger(i) && i >= 0 && i < size;
  for (const [a, b] of pairs) {
    if (!isPiece(a) || !isPiece(b)) {
      throw new RangeError(
        `The pair [${a}, ${b}] names no two of the ${size} pieces; they are numbered from 0.`,
      );
    }
  }
}

function tightenedArcs(costs: readonly (readonly number[])[], precedence: Precedence): Float64Array {
  const size = costs.length;
  const { words, after, before, beforeCount, afterCount } = precedence;
  const arcs = new Float64Array((size + 1) ** 2).fill(Number.POSITIVE_INFINITY);
  for (let i = 0; i < size; i++) {
    const row = i * (size + 1);
    for (let j = 0; j < size; j++) {
      if (i === j || hasBit(before, words, i, j)) continue;
      if (hasBit(after, words, i, j) && somethingBetween(precedence, i, j)) continue;
      arcs[row + j] = costs[i][j];
    }
    if (afterCount[i] === 0) arcs[row + size] = 0;
    if (beforeCount[i] === 0) arcs[size * (size + 1) + i] = 0;
  }
  return arcs;
}

/** The greatest number that divides all costs, if they are whole and rounding can't blur it; else 0. */
function commonUnit(arcs: Float64Array, largestTotal: number): number {
  let unit = 0;
  for (const cost of arcs) {
    if (cost === Number.POSITIVE_INFINITY) continue;
    if (!Number.isSafeInteger(cost)) return 0;
    for (let rest = Math.abs(cost); rest !== 0; ) [unit, rest] = [rest, unit % rest];
  }
  return unit * 1e-6 > largestTotal * ROUNDING ? unit : 0;
}
