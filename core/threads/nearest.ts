import { difference, type Lab } from "./difference.ts";

/** The place of the nearest colour by ΔE00, the first of equals, and how far off it is. `among` is not empty. */
export function nearestTo(colour: Lab, among: readonly Lab[]): { index: number; deltaE: number } {
  let index = 0;
  let deltaE = Number.POSITIVE_INFINITY;
  for (let i = 0; i < among.length; i++) {
    const off = difference(colour, among[i]);
    if (off < deltaE) [index, deltaE] = [i, off];
  }
  return { index, deltaE };
}
