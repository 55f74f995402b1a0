/** Bounds on blocks after pieces were left out, held against the fewest that any order has: all are tried. */
import { expect, test } from "vitest";
import type { Piece } from "../../core/artwork/types.ts";
import { boundsWithout } from "../../core/sequence/bounds.ts";

/** Fewest blocks among the orders of the pieces that keep every pair `[before, after]`. */
function fewest(
  colours: string,
  pairs: readonly (readonly [number, number])[],
  left: readonly number[],
): number {
  let best = Number.POSITIVE_INFINITY;
  const visit = (order: readonly number[]): void => {
    if (order.length === left.length) {
      const blocks = order.filter((k, at) => at === 0 || colours[order[at - 1]] !== colours[k]).length;
      best = Math.min(best, blocks);
      return;
    }
    for (const k of left) {
      const isFree =
        !order.includes(k) && pairs.every(([a, b]) => b !== k || !left.includes(a) || order.includes(a));
      if (isFree) visit([...order, k]);
    }
  };
  visit([]);
  return best;
}

test("a reed under water that is left out parts the heron's feathers no more", () => {
  // Feather, reed, feather, reed, water: each lies on the one before.
  const colours = "frfrw";
  const pairs = [0, 1, 2, 3].map((k) => [k, k + 1] as const);
  const all = [0, 1, 2, 3, 4];
  const bound = fewest(colours, pairs, all);
  for (const out of all) {
    const left = all.filter((k) => k !== out);
    const pieces = left.map((k) => ({ colour: colours[k] })) as unknown as Piece[];
    const { blocks, strands } = boundsWithout({ blocks: bound, strands: bound }, 1, pieces);
    const free = pairs.filter((pair) => !pair.includes(out));
    expect(blocks).toBeLessThanOrEqual(fewest(colours, free, left));
    expect(blocks).toBeGreaterThanOrEqual(3);
    expect(strands).toBeGreaterThanOrEqual(blocks);
  }
  expect(boundsWithout({ blocks: 5, strands: 7 }, 0, [])).toEqual({ blocks: 5, strands: 7 });
});
