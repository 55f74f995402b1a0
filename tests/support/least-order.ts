/** The least cost of an order, found as plainly as can be: what the ordering solver is held against. */
import type { SopProblem } from "./sop-file.ts";

/**
 * Held and Karp's dynamic programme over sets (Journal of SIAM 10, 1962), for up to some 18 pieces; Infinity where
 * there is no order.
 */
export function leastBySets({ costs, precedence }: Pick<SopProblem, "costs" | "precedence">): number {
  const size = costs.length;
  const needs = costs.map((_, j) =>
    precedence.reduce((mask, [a, b]) => (b === j ? mask | (1 << a) : mask), 0),
  );
  const least = new Float64Array(2 ** size * size).fill(Number.POSITIVE_INFINITY);
  for (let j = 0; j < size; j++) if (needs[j] === 0) least[(1 << j) * size + j] = 0;
  for (let set = 1; set < 2 ** size; set++) {
    for (let j = 0; j < size; j++) {
      if ((set >> j) & 1 || (needs[j] & ~set) !== 0) continue;
      const at = (set | (1 << j)) * size + j;
      for (let i = 0; i < size; i++) least[at] = Math.min(least[at], least[set * size + i] + costs[i][j]);
    }
  }
  return Math.min(...least.subarray((2 ** size - 1) * size));
}
