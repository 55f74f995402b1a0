/**
 * How different two colours look: ΔE00 of CIEDE2000 (ISO/CIE 11664-6), in CIE L*a*b* under D65, as culori
 * computes it. About 1 is the least that a trained eye sees side by side; from 5 on anyone sees two colours.
 */
import { converter, differenceCiede2000 } from "culori";

const toLab65 = converter("lab65");
const ciede2000 = differenceCiede2000();

/** A colour ready to be compared: CIE L*a*b* under D65. */
export interface Lab {
  readonly mode: "lab65";
  readonly l: number;
  readonly a: number;
  readonly b: number;
}

/** @param hex `#rrggbb` */
export function labOf(hex: string): Lab {
  const lab = toLab65(hex);
  if (lab === undefined) throw new RangeError(`${hex} is no colour`);
  return lab;
}

/** ΔE00 of two colours: 0 where they are the same, about 100 from black to white. */
export const difference = (a: Lab, b: Lab): number => ciede2000(a, b);

/** ΔE00 of two colours given as `#rrggbb`. */
export const colourDifference = (a: string, b: string): number => difference(labOf(a), labOf(b));
