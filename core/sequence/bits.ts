/** Sets of small whole numbers as bits in 32-bit words. */
export type Bits = Uint32Array;

export const emptyBits = (size: number): Bits => new Uint32Array((size + 31) >>> 5);

export const hasBit = (bits: Bits, k: number): boolean => ((bits[k >>> 5] >>> (k & 31)) & 1) === 1;

export function setBit(bits: Bits, k: number): void {
  bits[k >>> 5] |= 1 << (k & 31);
}

export function clearBit(bits: Bits, k: number): void {
  bits[k >>> 5] &= ~(1 << (k & 31));
}

export function addBits(to: Bits, from: Bits): void {
  for (let w = 0; w < to.length; w++) to[w] |= from[w];
}

/** Whether every member of `part` is in `whole`. */
export function containsBits(whole: Bits, part: Bits): boolean {
  for (let w = 0; w < whole.length; w++) if ((part[w] & ~whole[w]) !== 0) return false;
  return true;
}

/** A string that is the same for the same set and no other of its size. */
export const bitsKey = (bits: Bits): string => String.fromCharCode(...halves(bits));

function halves(bits: Bits): number[] {
  const out: number[] = [];
  for (const word of bits) out.push(word & 0xffff, word >>> 16);
  return out;
}
