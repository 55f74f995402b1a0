/** Numbers as SVG writes them in lists: `1,2`, `1 2`, `1-2`, `.5.5`. */
import type { Point } from "../geometry/types.ts";

const NUMBER = /[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/g;

/** All numbers of a text; `null` where it holds anything else, or a number that is not finite. */
export function numbersIn(text: string): number[] | null {
  if (!/^[\s,]*$/.test(text.replace(NUMBER, " "))) return null;
  const numbers = (text.match(NUMBER) ?? []).map(Number);
  return numbers.every(Number.isFinite) ? numbers : null;
}

/** Numbers two by two; an odd last one is left out. */
export const pairsOf = (numbers: readonly number[]): Point[] =>
  Array.from(
    { length: Math.floor(numbers.length / 2) },
    (_, k): Point => [numbers[2 * k], numbers[2 * k + 1]],
  );
