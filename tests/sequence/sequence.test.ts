/**
 * The order of pieces by cost: examples that can be followed by hand, and seeded random ones against every
 * possible order (written out here from the definition) or a plain dynamic programme.
 */
import { describe, expect, test } from "vitest";
import { EXACT_PIECES, type SequenceResult, sequence } from "../../core/sequence/sequence.ts";
import { leastBySets } from "../support/least-order.ts";
import { seeded } from "../support/sewing.ts";

const NEVER = Number.POSITIVE_INFINITY;
type Costs = readonly (readonly number[])[];
type Pairs = readonly (readonly [number, number])[];

interface Problem {
  readonly costs: Costs;
  readonly pairs: Pairs;
}

/** Pieces in a row: the cost is how far apart their numbers on the thread's way are. */
const apart = (...at: readonly number[]): Costs => at.map((a) => at.map((b) => Math.abs(a - b)));

const costOf = (costs: Costs, order: readonly number[]): number =>
  order.slice(1).reduce((sum, j, k) => sum + costs[order[k]][j], 0);

const keeps = (order: readonly number[], pairs: Pairs): boolean =>
  pairs.every(([before, after]) => order.indexOf(before) < order.indexOf(after));

function* everyOrder(rest: readonly number[], begun: readonly number[] = []): Generator<readonly number[]> {
  if (rest.length === 0) yield begun;
  for (const piece of rest) {
    yield* everyOrder(
      rest.filter((other) => other !== piece),
      [...begun, piece],
    );
  }
}

function leastOfAll({ costs, pairs }: Problem): number {
  let least = NEVER;
  for (const order of everyOrder(costs.map((_, i) => i))) {
    if (keeps(order, pairs)) least = Math.min(least, costOf(costs, order));
  }
  return least;
}

interface Recipe {
  readonly size: number;
  /** Share of the pairs i < j that are bound, of arcs that are forbidden. */
  readonly bound: number;
  readonly forbidden: number;
  readonly whole: boolean;
}

function randomProblem(random: () => number, { size, bound, forbidden, whole }: Recipe): Problem {
  const cost = (): number =>
    random() < forbidden ? NEVER : whole ? Math.floor(random() * 30) : random() * 30 - 5;
  const costs = Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (_, j) => (i === j ? 0 : cost())),
  );
  const names = Array.from({ length: size }, (_, i) => i);
  for (let k = size - 1; k > 0; k--) {
    const other = Math.floor(random() * (k + 1));
    [names[k], names[other]] = [names[other], names[k]];
  }
  const pairs = names.flatMap((b, k) => names.slice(0, k).map((a) => [a, b] as const));
  return { costs, pairs: pairs.filter(() => random() < bound) };
}

function expectSound({ costs, pairs }: Problem, result: SequenceResult): void {
  expect(result.order.toSorted((a, b) => a - b)).toEqual(costs.map((_, i) => i));
  expect(keeps(result.order, pairs)).toBe(true);
  expect(result.cost).toBeCloseTo(costOf(costs, result.order), 9);
  expect(result.lowerBound).toBeLessThanOrEqual(result.cost);
}

describe("a row of reeds", () => {
  test("is sewn from one end to the other", () => {
    expect(sequence(apart(3, 1, 2, 0), []).cost).toBe(3);
  });

  test("is sewn from the middle if that must come first", () => {
    expect(sequence(apart(0, 1, 2, 3, 4), [], { first: 2 }).order).toEqual(expect.arrayContaining([2]));
    expect(sequence(apart(0, 1, 2, 3, 4), [], { first: 2 }).cost).toBe(6);
    expect(sequence(apart(0, 1, 2, 3, 5), [], { first: 2 }).order).toEqual([2, 1, 0, 3, 4]);
  });

  test("ends where it must end", () => {
    expect(sequence(apart(0, 1, 2, 3), [], { first: 0, last: 1 })).toEqual({
      order: [0, 2, 3, 1],
      cost: 5,
      lowerBound: 5,
      proven: true,
    });
  });

  test("waits for the water below it", () => {
    // Reeds 0, 1, 2 from left to right, water 3 at the far right, under reed 0.
    expect(sequence(apart(0, 1, 2, 3), [[3, 0]]).order).toEqual([3, 2, 1, 0]);
  });

  test("goes round what is forbidden", () => {
    const costs = apart(0, 1, 2).map((row) => [...row]);
    costs[0][1] = costs[2][1] = NEVER;
    expect(sequence(costs, []).order).toEqual([1, 0, 2]);
  });
});

describe("few pieces", () => {
  test("none and one cost nothing", () => {
    expect(sequence([], [])).toEqual({ order: [], cost: 0, lowerBound: 0, proven: true });
    expect(sequence([[0]], [])).toEqual({ order: [0], cost: 0, lowerBound: 0, proven: true });
    expect(sequence([[NEVER]], [], { first: 0, last: 0 }).order).toEqual([0]);
  });

  test("two are sewn the cheaper way round, and the diagonal is not looked at", () => {
    expect(sequence([[Number.NaN, 5], [3, Number.NaN]], []).order).toEqual([1, 0]); // biome-ignore format: a matrix
    expect(sequence([[0, 5], [3, 0]], [[0, 1]]).order).toEqual([0, 1]); // biome-ignore format: a matrix
  });
});

describe("where there is no order", () => {
  const none = { order: [], cost: NEVER, lowerBound: NEVER, proven: true };

  test("precedence in a circle", () => {
    expect(sequence(apart(0, 1, 2), [[0, 1], [1, 2], [2, 0]])).toEqual(none); // biome-ignore format: pairs
    expect(sequence(apart(0, 1), [[1, 1]])).toEqual(none);
    expect(sequence(apart(0, 1), [], { first: 0, last: 0 })).toEqual(none);
    expect(sequence(apart(0, 1), [[0, 1]], { first: 1 })).toEqual(none);
  });

  test("everything forbidden", () => {
    expect(
      sequence(
        apart(0, 1, 2).map((row) => row.map(() => NEVER)),
        [],
      ),
    ).toEqual(none);
  });

  test("two groups with no way between them, each larger than one piece", () => {
    const costs = Array.from({ length: 12 }, (_, i) =>
      Array.from({ length: 12 }, (_, j) => (i < 6 === j < 6 ? 1 : NEVER)),
    );
    expect(sequence(costs, [])).toEqual(none);
  });
});

describe("input that makes no sense is refused", () => {
  test.each([
    ["a row too short", [[0, 1], [1]], [], /Row 1 of the costs has 1 entries/],
    [
      "a cost that is no number",
      [
        [0, Number.NaN],
        [1, 0],
      ],
      [],
      /from 0 to 1 is NaN/,
    ],
    [
      "a cost below all",
      [
        [0, -NEVER],
        [1, 0],
      ],
      [],
      /from 0 to 1 is -Infinity/,
    ],
    [
      "a piece that is not there",
      [
        [0, 1],
        [1, 0],
      ],
      [[0, 2]],
      /\[0, 2\]/,
    ],
    [
      "half a piece",
      [
        [0, 1],
        [1, 0],
      ],
      [[0.5, 1]],
      /\[0.5, 1\]/,
    ],
  ] as [string, number[][], [number, number][], RegExp][])("%s", (_, costs, pairs, message) => {
    expect(() => sequence(costs, pairs)).toThrow(RangeError);
    expect(() => sequence(costs, pairs)).toThrow(message);
  });
});

describe("against other ways to find the least", () => {
  test("every possible order, 300 random problems of 2 to 7 pieces", () => {
    const random = seeded(20261125);
    let withoutOrder = 0;
    for (let run = 0; run < 300; run++) {
      const problem = randomProblem(random, {
        size: 2 + (run % 6),
        bound: [0, 0.1, 0.3, 0.8][run % 4],
        forbidden: [0, 0.2, 0.5][run % 3],
        whole: run % 5 < 3,
      });
      const result = sequence(problem.costs, problem.pairs, { seed: run });
      const least = leastOfAll(problem);
      expect(result.proven).toBe(true);
      if (least === NEVER) {
        expect(result.order).toEqual([]);
        withoutOrder++;
      } else {
        expectSound(problem, result);
        expect(result.cost).toBeCloseTo(least, 9);
      }
    }
    expect(withoutOrder).toBeGreaterThan(10);
  });

  test("every possible order, 6 random problems of 8 and 9 pieces", () => {
    const random = seeded(8);
    for (let run = 0; run < 6; run++) {
      const problem = randomProblem(random, {
        size: 8 + (run >> 2),
        bound: 0.1,
        forbidden: 0.1,
        whole: true,
      });
      expect(sequence(problem.costs, problem.pairs).cost).toBe(leastOfAll(problem));
    }
  });

  test("dynamic programming over sets, 12 random problems of 11 to 14 pieces", () => {
    const random = seeded(14);
    for (let run = 0; run < 12; run++) {
      const recipe = {
        size: 11 + (run >> 2) + (run % 2),
        bound: (run % 4) / 12,
        forbidden: 0.15,
        whole: run % 3 > 0,
      };
      const problem = randomProblem(random, recipe);
      const result = sequence(problem.costs, problem.pairs);
      expectSound(problem, result);
      expect(result.proven).toBe(true);
      expect(result.cost).toBeCloseTo(leastBySets({ costs: problem.costs, precedence: problem.pairs }), 9);
    }
  });
});

describe("more pieces than can be searched in full", () => {
  /** Feathers at random places, cost the way between them, the later of two neighbours on top. */
  function wing(size: number, seed: number): Problem {
    const random = seeded(seed);
    const at = Array.from({ length: size }, () => [random() * 80, random() * 60]);
    const costs = at.map(([x, y]) => at.map(([u, v]) => Math.hypot(x - u, y - v)));
    const pairs = costs.flatMap((row, i) =>
      row.flatMap((cost, j) => (i < j && cost < 8 ? [[i, j] as const] : [])),
    );
    return { costs, pairs };
  }

  test("the order is sound, the same each time, and within the bound's reach", () => {
    const problem = wing(40, 5);
    const result = sequence(problem.costs, problem.pairs, { effort: 0.2 });
    expectSound(problem, result);
    expect(sequence(problem.costs, problem.pairs, { effort: 0.2 })).toEqual(result);
    expect(result.lowerBound).toBeGreaterThan(0.9 * result.cost);
  });

  test("more effort never costs more", () => {
    const problem = wing(60, 6);
    const costs = [0.01, 0.05, 0.3].map((effort) => sequence(problem.costs, problem.pairs, { effort }).cost);
    expect(costs).toEqual(costs.toSorted((a, b) => b - a));
  });

  test("a deadline that has passed still gives a sound order and a bound", () => {
    const problem = wing(50, 7);
    const result = sequence(problem.costs, problem.pairs, { deadline: () => true });
    expectSound(problem, result);
    expect(result.proven).toBe(false);
  });

  test("a fixed order of any length is proven at once", () => {
    const problem = wing(300, 8);
    const pairs = problem.costs.slice(1).map((_, i) => [i, i + 1] as const);
    const result = sequence(problem.costs, pairs);
    expect(result.order).toEqual(problem.costs.map((_, i) => i));
    expect(result.proven).toBe(true);
  });

  test("chains that interleave, far more pieces than are searched in full, equal the merge by dynamic programming", () => {
    // Two feathers' worth of barbs: each chain keeps its order, so a state is how far each has got.
    const length = EXACT_PIECES;
    const { costs } = wing(2 * length, 9);
    const pairs = costs.flatMap((_, i) => ((i + 1) % length === 0 ? [] : [[i, i + 1] as const]));
    expect(sequence(costs, pairs).cost).toBeCloseTo(leastMerge(costs, length), 9);
  });

  function leastMerge(costs: Costs, length: number): number {
    const least = (a: number, b: number, last: number): number => {
      if (a === length && b === length) return 0;
      const key = (a * (length + 1) + b) * 2 + (last < length ? 0 : 1);
      const known = memory.get(key);
      if (known !== undefined) return known;
      const from = (next: number): number => (last < 0 ? 0 : costs[last][next]);
      const byA = a < length ? from(a) + least(a + 1, b, a) : NEVER;
      const byB = b < length ? from(length + b) + least(a, b + 1, length + b) : NEVER;
      memory.set(key, Math.min(byA, byB));
      return Math.min(byA, byB);
    };
    const memory = new Map<number, number>();
    return least(0, 0, -1);
  }
});
