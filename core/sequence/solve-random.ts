/**
 * Seeded random numbers for the search: the same seed gives the same ones on every machine. A 32-bit xorshift
 * (G. Marsaglia, «Xorshift RNGs», Journal of Statistical Software 8(14), 2003, the triple 13, 17, 5).
 */

export interface Random {
  /** A whole number from 0 up to, not including, `limit` (1 to 2^31). */
  below(limit: number): number;
  /** A number from 0 up to 1. */
  share(): number;
  /** Any 32 bits. */
  bits(): number;
}

/** A generator for a seed, of which the low 32 bits count. */
export function seededRandom(seed: number): Random {
  // The state must not be zero; the multiplier spreads neighbouring seeds apart.
  let state = Math.imul(seed ^ 0x5bd1e995, 0x9e3779b1) | 0 || 1;
  const bits = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state >>> 0;
  };
  for (let warmUp = 0; warmUp < 8; warmUp++) bits();
  const share = (): number => bits() / 2 ** 32;
  return { bits, share, below: (limit) => Math.floor(share() * limit) };
}
