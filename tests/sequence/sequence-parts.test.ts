/**
 * What the ordering solver's parts promise, each on small random problems (seeded) whose least cost is known from
 * a plain dynamic programme: bounds never lie above it, whatever the prices, tracked pieces or width; orders obey
 * precedence and never get dearer.
 */
import { describe, expect, test } from "vitest";
import { sequence } from "../../core/sequence/sequence.ts";
import { boundByAssignment } from "../../core/sequence/solve-assignment.ts";
import { boundByWalks } from "../../core/sequence/solve-bound.ts";
import { improve } from "../../core/sequence/solve-improve.ts";
import { costOfOrder, type Instance, readInstance } from "../../core/sequence/solve-instance.ts";
import { startMeter } from "../../core/sequence/solve-meter.ts";
import { closePrecedence, hasBit } from "../../core/sequence/solve-precedence.ts";
import { seededRandom } from "../../core/sequence/solve-random.ts";
import { searchLayers } from "../../core/sequence/solve-search.ts";
import { nearestFirst } from "../../core/sequence/solve-start.ts";
import { buildWalker } from "../../core/sequence/solve-walks.ts";
import { leastBySets } from "../support/least-order.ts";
import { seeded } from "../support/sewing.ts";

const NEVER = Number.POSITIVE_INFINITY;
const unlimited = () => startMeter(NEVER);

interface Problem {
  readonly costs: readonly (readonly number[])[];
  readonly pairs: readonly (readonly [number, number])[];
  readonly instance: Instance;
  readonly least: number;
}

/** A random problem of which every third has broken costs, every fourth negative ones, every fifth forbidden arcs. */
function problem(run: number, size: number): Problem {
  const random = seeded(run + 1);
  const cost = (): number => {
    if (run % 5 === 0 && random() < 0.15) return NEVER;
    const whole = Math.floor(random() * 40) - (run % 4 === 0 ? 10 : 0);
    return run % 3 === 0 ? whole + random() : whole;
  };
  const costs = Array.from({ length: size }, () => Array.from({ length: size }, cost));
  const pairs = costs.flatMap((_, j) => Array.from({ length: j }, (_, i) => [i, j] as const));
  const kept = pairs.filter(() => random() < (run % 7) / 14);
  return {
    costs,
    pairs: kept,
    instance: readInstance(costs, kept)!,
    least: leastBySets({ costs, precedence: kept }),
  };
}

const runs = (count: number): number[] => Array.from({ length: count }, (_, run) => run);
/** Sums in another order differ in their last digits. */
const ROUNDING = 1e-9;

describe("precedence, closed", () => {
  test("what follows a follower follows", () => {
    const { after, beforeCount, words } = closePrecedence(40, [[0, 39], [39, 33], [33, 1]])!; // biome-ignore format: pairs
    expect([39, 33, 1].every((piece) => hasBit(after, words, 0, piece))).toBe(true);
    expect([...beforeCount].flatMap((count, piece) => (count > 0 ? [[piece, count]] : []))).toEqual([
      [1, 3],
      [33, 2],
      [39, 1],
    ]);
  });

  test("a circle is none", () => {
    expect(closePrecedence(3, [[0, 1], [1, 0]])).toBeNull(); // biome-ignore format: pairs
  });
});

describe("arcs that no order can hold are out", () => {
  const { arcs, size } = readInstance(
    [0, 1, 2, 3].map(() => [1, 1, 1, 1]),
    [
      [0, 1],
      [1, 2],
    ],
  )!;
  const isOut = (i: number, j: number): boolean => arcs[i * (size + 1) + j] === NEVER;
  const DEPOT = 4;

  test.each([
    ["backwards", 1, 0, true],
    ["over what must lie between", 0, 2, true],
    ["forwards", 0, 1, false],
    ["to and from what is bound to nothing", 2, 3, false],
    ["first, though something precedes it", DEPOT, 1, true],
    ["first", DEPOT, 0, false],
    ["last, though something follows it", 1, DEPOT, true],
    ["last", 2, DEPOT, false],
  ] as const)("%s", (_, from, to, out) => {
    expect(isOut(from, to)).toBe(out);
  });
});

describe("costs with a common unit", () => {
  const instanceOf = (costs: readonly (readonly number[])[]) => readInstance(costs, [])!;

  test("are improved by a whole unit or not at all", () => {
    expect(instanceOf([[0, 50], [75, 0]])).toMatchObject({ unit: 25 }); // biome-ignore format: a matrix
    expect(instanceOf([[0, 0.5], [1, 0]])).toMatchObject({ unit: 0 }); // biome-ignore format: a matrix
  });

  test("but not where rounding could hide a unit", () => {
    expect(instanceOf([[0, 1], [2 ** 40, 0]])).toMatchObject({ unit: 0 }); // biome-ignore format: a matrix
  });
});

test("the assignment bound: a worked example, and never above the least of 60 random problems", () => {
  // From the definition: of the six ways to give three rows three columns, 1 + 2 + 2 is the cheapest.
  const example = Float64Array.from([4, 1, 3, 2, 0, 5, 3, 2, 2]);
  expect(boundByAssignment(example, 3, unlimited())).toMatchObject({ bound: 5, isExact: true });
  for (const run of runs(60)) {
    const { instance, least } = problem(run, 4 + (run % 5));
    const { arcs, size } = instance;
    const { bound, rowPrices, columnPrices } = boundByAssignment(arcs, size + 1, unlimited());
    expect(bound).toBeLessThanOrEqual(least + ROUNDING);
    const brokenOff = boundByAssignment(arcs, size + 1, startMeter(20));
    expect(brokenOff.bound).toBeLessThanOrEqual(bound + ROUNDING);
    if (bound === NEVER) continue;
    for (let i = 0; i <= size; i++) {
      for (let j = 0; j <= size; j++) {
        expect(rowPrices[i] + columnPrices[j]).toBeLessThanOrEqual(arcs[i * (size + 1) + j] + ROUNDING);
      }
    }
  }
});

describe("the bound by walks", () => {
  test("never lies above the least, whatever the prices and the pieces tracked", () => {
    for (const run of runs(120)) {
      const { instance, least } = problem(run, 4 + (run % 4));
      const random = seeded(run);
      const tracked = runs(instance.size).filter(() => random() < 0.4);
      const prices = Float64Array.from({ length: instance.size }, () => random() * 40 - 10);
      const { bound } = buildWalker(instance, tracked, unlimited())(prices);
      expect(bound).toBeLessThanOrEqual(least + ROUNDING);
    }
  });

  test("is the least itself when every piece is tracked, and the walk is the order", () => {
    for (const run of runs(40)) {
      const { instance, least } = problem(run, 4 + (run % 4));
      const prices = Float64Array.from({ length: instance.size }, (_, i) => ((run * i) % 17) - 5);
      const { bound, walk } = buildWalker(instance, runs(instance.size), unlimited())(prices);
      if (least === NEVER) expect(bound).toBe(NEVER);
      else {
        expect(bound).toBeCloseTo(least, 9);
        expect(costOfOrder(instance, walk)).toBeCloseTo(least, 9);
      }
    }
  });

  test("rises to within a unit of the least by tracking", () => {
    for (const run of [1, 2, 4, 7, 8, 11]) {
      const { instance, least } = problem(run, 9);
      const start = { prices: new Float64Array(9), tracked: [] };
      const { bound } = boundByWalks(instance, start, least, startMeter(1e7));
      expect(bound).toBeLessThanOrEqual(least + ROUNDING);
      expect(bound).toBeGreaterThan(least - 1);
    }
  });
});

describe("the search", () => {
  test("finds the least and leaves nothing behind when it is wide enough", () => {
    for (const run of runs(40)) {
      const { instance, least } = problem(run, 5 + (run % 4));
      const start = { prices: new Float64Array(instance.size), tracked: [] };
      const completions = run % 2 === 0 ? null : boundByWalks(instance, start, NEVER, startMeter(1e4));
      const { order, bound } = searchLayers(instance, completions, NEVER, 1000, unlimited());
      expect(bound).toBe(NEVER);
      expect(order === null ? NEVER : costOfOrder(instance, order)).toBeCloseTo(least, 9);
    }
  });

  test("proves a bound that holds, however narrow it is", () => {
    for (const run of runs(40)) {
      const { instance, least } = problem(run, 8);
      const completions = buildWalker(instance, [run % 8], unlimited())(new Float64Array(8));
      for (const width of [1, 3, 20]) {
        const { order, bound } = searchLayers(instance, completions, NEVER, width, unlimited());
        const cost = order === null ? NEVER : costOfOrder(instance, order);
        expect(Math.min(bound, cost)).toBeLessThanOrEqual(least + ROUNDING);
        expect(cost).toBeGreaterThanOrEqual(least - ROUNDING);
      }
    }
  });

  test("finds no order where none costs less than the one at hand", () => {
    const { instance, least } = problem(2, 8);
    expect(searchLayers(instance, null, least, 5000, unlimited()).order).toBeNull();
    expect(searchLayers(instance, null, least + 1, 5000, unlimited()).order).not.toBeNull();
  });
});

describe("improving an order", () => {
  test("keeps precedence and never makes it dearer", () => {
    for (const run of runs(40)) {
      const { instance, pairs, least } = problem(run, 9);
      const start = nearestFirst(instance);
      const { order, cost } = improve(instance, start, -NEVER, startMeter(2e4), seededRandom(run));
      const place = (piece: number) => order.indexOf(piece);
      expect([...order].sort()).toEqual(runs(9));
      expect(pairs.every(([a, b]) => place(a) < place(b))).toBe(true);
      expect(cost).toBeGreaterThanOrEqual(least === NEVER ? 0 : least - ROUNDING);
      if (costOfOrder(instance, start) < NEVER) {
        expect(costOfOrder(instance, order)).toBeLessThanOrEqual(costOfOrder(instance, start) + ROUNDING);
      }
    }
  });

  test("mends an order that holds forbidden arcs", () => {
    // A path is all that is allowed: each piece may be followed only by the next.
    const size = 12;
    const costs = runs(size).map((i) => runs(size).map((j) => (j === i + 1 ? 1 : NEVER)));
    const instance = readInstance(costs, [])!;
    const backwards = runs(size).reverse();
    const { order } = improve(instance, backwards, -NEVER, startMeter(3e5), seededRandom(1));
    expect([...order]).toEqual(runs(size));
  });
});

test("17 pieces, more than are searched in full: bounds hold, and what is proven is the least", () => {
  let provenCount = 0;
  for (const run of [2, 3, 5]) {
    const { costs, pairs, least } = problem(run, 17);
    const { cost, lowerBound, proven } = sequence(costs, pairs, { effort: run % 2 === 0 ? 0 : 0.5 });
    expect(lowerBound).toBeLessThanOrEqual(least + ROUNDING);
    expect(cost).toBeGreaterThanOrEqual(least - ROUNDING);
    if (proven) expect(cost).toBeCloseTo(least, 9);
    provenCount += proven ? 1 : 0;
  }
  expect(provenCount).toBeGreaterThan(0);
});
