/** Where a piece may stand in a walk, given which tracked pieces were visited; a mask has one bit for each. */
import type { Instance } from "./solve-instance.ts";
import { hasBit } from "./solve-precedence.ts";

export interface Tracking {
  /** The bit of each piece, 0 for those that are not tracked. */
  readonly bits: Int32Array;
  /** Masks that can come up, those with more pieces after those with fewer: each holds what precedes its pieces. */
  readonly masks: readonly number[];
  /** Whether a walk may be at `piece` at `place`, `mask` visited, the piece itself included. */
  mayStand(mask: number, place: number, piece: number): boolean;
}

export function trackPieces({ size, precedence }: Instance, tracked: readonly number[]): Tracking {
  const { words, before, after, beforeCount, afterCount } = precedence;
  const bits = trackedBits(size, tracked);
  const maskOf = (rows: Uint32Array, piece: number): number =>
    tracked.reduce((mask, other, k) => (hasBit(rows, words, piece, other) ? mask | (1 << k) : mask), 0);
  const needed = Int32Array.from({ length: size }, (_, piece) => maskOf(before, piece) | bits[piece]);
  const barred = Int32Array.from({ length: size }, (_, piece) => maskOf(after, piece));
  const isClosed = (mask: number): boolean =>
    tracked.every((piece, k) => ((mask >> k) & 1) === 0 || (mask & needed[piece]) === needed[piece]);
  return {
    bits,
    masks: Array.from({ length: 2 ** tracked.length }, (_, mask) => mask).filter(isClosed),
    mayStand: (mask, place, piece) =>
      beforeCount[piece] <= place &&
      place < size - afterCount[piece] &&
      (mask & needed[piece]) === needed[piece] &&
      (mask & barred[piece]) === 0,
  };
}

/** For each piece the bit that stands for it in a mask, 0 if it is not tracked. */
export function trackedBits(size: number, tracked: readonly number[]): Int32Array {
  const bits = new Int32Array(size);
  for (const [k, piece] of tracked.entries()) bits[piece] = 1 << k;
  return bits;
}
