/**
 * From the plan's millimetres to numbers in the drawing's own user units, as the root element has them.
 *
 * Numbers are rounded to a power of ten of the user unit that is at most 0.001 mm at sewn size, whatever a
 * user unit is in that drawing, and never take an exponent form, which some editors don't read.
 */

import { apply, determinant, invert } from "../artwork/matrix.ts";
import { norm } from "../geometry/point.ts";
import type { Matrix, Point, Polyline } from "../geometry/types.ts";

export interface UserUnits {
  /** A place in millimetres as `x<separator>y` in user units. */
  point(p: Point, separator: string): string;
  /** A length in millimetres as a number of user units. Of a map that stretches: by the mean of its axes. */
  length(mm: number): string;
}

/** Decimals of a millimetre that are written. */
const MM_DECIMALS = 3;

/** `userToMm` must be invertible. */
export function userUnits(userToMm: Matrix): UserUnits {
  const mmToUser = invert(userToMm);
  const [a, b, c, d] = userToMm;
  const longestUnitMm = Math.max(norm(a, b), norm(c, d));
  const decimals = Math.max(0, Math.ceil(MM_DECIMALS + Math.log10(longestUnitMm)));
  const userPerMm = Math.sqrt(Math.abs(determinant(mmToUser)));
  return {
    point(p, separator) {
      const [x, y] = apply(mmToUser, p);
      return plainNumber(x, decimals) + separator + plainNumber(y, decimals);
    },
    length: (mm) => plainNumber(mm * userPerMm, decimals),
  };
}

/** The number with at most so many decimals, without trailing zeros, exponent or minus zero. */
export function plainNumber(value: number, decimals: number): string {
  const factor = 10 ** decimals;
  const rounded = Math.round(value * factor) / factor;
  const short = String(rounded);
  return short.includes("e") ? rounded.toFixed(decimals).replace(/\.?0+$/, "") : short;
}

/** Path data of open polylines, each a subpath of its own. */
export const pathData = (lines: readonly Polyline[], user: UserUnits): string =>
  lines.map((line) => `M${line.map((p) => user.point(p, " ")).join("L")}`).join("");

/** Needle points, flat, as the `points` of a polyline. */
export function polylinePoints(flat: Float64Array, user: UserUnits): string {
  const points: string[] = [];
  for (let i = 0; i < flat.length; i += 2) points.push(user.point([flat[i], flat[i + 1]], ","));
  return points.join(" ");
}
