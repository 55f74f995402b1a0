/**
 * Precedence, closed: if a comes before b and b before c, then a comes before c. Kept as one row of bits a
 * piece, so that «has everything before j been sewn?» is a few machine words.
 */

export interface Precedence {
  /** 32-bit words in a row. */
  readonly words: number;
  /** Row i: the pieces that must come after i. */
  readonly after: Uint32Array;
  /** Row i: the pieces that must come before i. */
  readonly before: Uint32Array;
  /** How many bits row i of `after` and of `before` holds. */
  readonly afterCount: Int32Array;
  readonly beforeCount: Int32Array;
}

/** The closure of pairs [before, after] over pieces 0 to size − 1; null where they run in a circle. */
export function closePrecedence(
  size: number,
  pairs: readonly (readonly [before: number, after: number])[],
): Precedence | null {
  const followers: number[][] = Array.from({ length: size }, () => []);
  const waitingFor = new Int32Array(size);
  for (const [a, b] of pairs) {
    followers[a].push(b);
    waitingFor[b]++;
  }
  const sorted: number[] = [];
  for (let i = 0; i < size; i++) if (waitingFor[i] === 0) sorted.push(i);
  for (let k = 0; k < sorted.length; k++) {
    for (const b of followers[sorted[k]]) if (--waitingFor[b] === 0) sorted.push(b);
  }
  if (sorted.length < size) return null;

  const words = Math.max(1, Math.ceil(size / 32));
  const after = new Uint32Array(size * words);
  const before = new Uint32Array(size * words);
  for (const a of sorted.toReversed()) {
    for (const b of followers[a]) addRow(after, words, a, b);
  }
  for (const a of sorted) {
    for (const b of followers[a]) addRow(before, words, b, a);
  }
  return { words, after, before, afterCount: countBits(after, words), beforeCount: countBits(before, words) };
}

/** Whether bit i of the row is set. */
export const hasBit = (rows: Uint32Array, words: number, row: number, i: number): boolean =>
  ((rows[row * words + (i >>> 5)] >>> (i & 31)) & 1) === 1;

/** Whether some piece must lie between i and j, so that j never follows i directly. */
export function somethingBetween({ after, before, words }: Precedence, i: number, j: number): boolean {
  for (let w = 0; w < words; w++) if ((after[i * words + w] & before[j * words + w]) !== 0) return true;
  return false;
}

/** Adds to row `into` the piece `from` and all that row `from` holds. */
function addRow(rows: Uint32Array, words: number, into: number, from: number): void {
  for (let w = 0; w < words; w++) rows[into * words + w] |= rows[from * words + w];
  rows[into * words + (from >>> 5)] |= 1 << (from & 31);
}

function countBits(rows: Uint32Array, words: number): Int32Array {
  const counts = new Int32Array(rows.length / words);
  for (let k = 0; k < rows.length; k++) {
    for (let bits = rows[k]; bits !== 0; bits &= bits - 1) counts[Math.floor(k / words)]++;
  }
  return counts;
}
