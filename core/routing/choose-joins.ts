/**
 * Entries and exits of a whole strand are chosen together. Each join between two pieces is one of a few
 * offers; what it costs to sew a piece depends on where the join before it arrives and where the one after it
 * leaves. That is a shortest path through layers (dynamic programming, Bellman 1957): the choice is the best
 * there is among the offers, which the tests hold against exhaustive search.
 */
import type { Point } from "../geometry/types.ts";
import type { Join } from "./joins.ts";

/**
 * One choice in a layer: where the piece before is left, where the piece after is entered, and what the way
 * between costs. The first layer has no exit that matters, the last no entry.
 */
export interface Choice {
  readonly exit: Point;
  readonly entry: Point;
  readonly cost: number;
}

/** Exposed thread is dear, thread that shows through a light cover less so, hidden thread is just thread. */
const EXPOSED_COST = 100;
const SHADOW_COST = 20;
const BLENDED_COST = 10;
/** Travel inside a piece stiffens it less than a connector does what it passes under. */
export const TRAVEL_COST = 0.5;

export const joinCost = (join: Join): number =>
  join.tuckedMm +
  BLENDED_COST * (join.blendedMm ?? 0) +
  EXPOSED_COST * join.exposedMm +
  SHADOW_COST * join.shadowMm;

/** What it costs to sew a piece between each choice before it and each one after it: a row for each one after. */
export function sewCosts(
  before: readonly Choice[],
  after: readonly Choice[],
  sewCost: (entry: Point, exit: Point) => number,
): Float64Array {
  const table = new Float64Array(before.length * after.length);
  for (const [row, { exit }] of after.entries()) {
    for (const [column, { entry }] of before.entries())
      table[row * before.length + column] = sewCost(entry, exit);
  }
  return table;
}

/**
 * Picks one choice a layer so that the sum of their costs and of what the pieces between them cost to sew is
 * least. `sewing[k]` are the `sewCosts` between layer k and k + 1. Ties go to the earlier choice.
 *
 * @returns index of the choice in each layer, and the sum
 */
export function chooseJoins(
  layers: readonly (readonly Choice[])[],
  sewing: readonly Float64Array[],
): { picks: number[]; cost: number } {
  let costs = layers[0].map((choice) => choice.cost);
  const cameFrom: number[][] = [];
  for (let k = 1; k < layers.length; k++) {
    const came: number[] = [];
    const width = layers[k - 1].length;
    costs = layers[k].map((choice, row) => {
      let best = Number.POSITIVE_INFINITY;
      let from = 0;
      for (let index = 0; index < width; index++) {
        const cost = costs[index] + sewing[k - 1][row * width + index];
        if (cost < best) [best, from] = [cost, index];
      }
      came.push(from);
      return best + choice.cost;
    });
    cameFrom.push(came);
  }
  let last = 0;
  for (const [index, cost] of costs.entries()) if (cost < costs[last]) last = index;
  const picks = [last];
  for (let k = cameFrom.length - 1; k >= 0; k--) picks.unshift(cameFrom[k][picks[0]]);
  return { picks, cost: costs[last] };
}
