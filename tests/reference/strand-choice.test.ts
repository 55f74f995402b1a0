/**
 * The choice of joins over a whole strand against exhaustive search: every combination of offers is tried, as
 * the definition says, and none may cost less. The designs are random and small (seeded).
 */
import { expect, test } from "vitest";
import type { Point } from "../../core/geometry/types.ts";
import { type Choice, chooseJoins, sewCosts } from "../../core/routing/choose-joins.ts";
import { seeded } from "../support/sewing.ts";

const random = seeded(20261125);
const point = (): Point => [random() * 60, random() * 60];

const design = (): Choice[][] =>
  Array.from({ length: 2 + Math.floor(random() * 4) }, () =>
    Array.from({ length: 1 + Math.floor(random() * 5) }, () => ({
      exit: point(),
      entry: point(),
      cost: random() * 20,
    })),
  );

const sewCost = (piece: number, entry: Point, exit: Point): number =>
  (piece + 1) * Math.hypot(exit[0] - entry[0], exit[1] - entry[1]);

function costOf(layers: readonly Choice[][], picks: readonly number[]): number {
  let cost = layers[0][picks[0]].cost;
  for (let k = 1; k < layers.length; k++) {
    const [before, after] = [layers[k - 1][picks[k - 1]], layers[k][picks[k]]];
    cost += sewCost(k - 1, before.entry, after.exit) + after.cost;
  }
  return cost;
}

function* everyPick(layers: readonly Choice[][], picked: readonly number[] = []): Generator<number[]> {
  if (picked.length === layers.length) {
    yield [...picked];
    return;
  }
  for (let k = 0; k < layers[picked.length].length; k++) yield* everyPick(layers, [...picked, k]);
}

test("no combination of joins costs less than the one chosen, on 200 random strands", () => {
  for (let run = 0; run < 200; run++) {
    const layers = design();
    const sewing = layers.slice(1).map((after, k) => sewCosts(layers[k], after, (a, b) => sewCost(k, a, b)));
    const { picks, cost } = chooseJoins(layers, sewing);
    const least = Math.min(...[...everyPick(layers)].map((pick) => costOf(layers, pick)));
    expect(cost).toBeCloseTo(least, 9);
    expect(costOf(layers, picks)).toBeCloseTo(cost, 9);
  }
});
