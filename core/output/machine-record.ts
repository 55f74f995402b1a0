/**
 * One record of the machine file: three bytes that move the needle by whole units of 0.1 mm and say what it does
 * there.
 *
 * Along each axis a move is written in balanced ternary: every weight (1, 3, 9, 27, 81) is added, taken away or
 * left out, so that one record reaches ±121. Two bits stand for each weight, one to add it and one to take it
 * away. Which bit means which is known from memory and common practice; there is no published standard.
 */

/** The most that one record moves along an axis: 1 + 3 + 9 + 27 + 81. */
export const RECORD_REACH = 121;

export const RECORD_BYTES = 3;

/** The needle goes down at the end of a `stitch`; at a `change` the machine stops for the next thread. */
export type MoveKind = "stitch" | "jump" | "change" | "end";

/** In units of 0.1 mm, x right, y up, as machines count. */
export interface Move {
  readonly kind: MoveKind;
  readonly dx: number;
  readonly dy: number;
}

/** Of one weight: the byte of the record, and in it the bits that add and take away. */
interface Place {
  readonly weight: number;
  readonly byte: 0 | 1 | 2;
  readonly plus: number;
  readonly minus: number;
}

const X_PLACES: readonly Place[] = [
  { weight: 81, byte: 2, plus: 0x04, minus: 0x08 },
  { weight: 27, byte: 1, plus: 0x04, minus: 0x08 },
  { weight: 9, byte: 0, plus: 0x04, minus: 0x08 },
  { weight: 3, byte: 1, plus: 0x01, minus: 0x02 },
  { weight: 1, byte: 0, plus: 0x01, minus: 0x02 },
];

const Y_PLACES: readonly Place[] = [
  { weight: 81, byte: 2, plus: 0x20, minus: 0x10 },
  { weight: 27, byte: 1, plus: 0x20, minus: 0x10 },
  { weight: 9, byte: 0, plus: 0x20, minus: 0x10 },
  { weight: 3, byte: 1, plus: 0x80, minus: 0x40 },
  { weight: 1, byte: 0, plus: 0x80, minus: 0x40 },
];

/** Of the third byte: two bits that are set in every record, and what sets the kinds apart. */
const KIND_BITS: Readonly<Record<MoveKind, number>> = { stitch: 0x03, jump: 0x83, change: 0xc3, end: 0xf3 };

/**
 * Writes a move at `offset`.
 *
 * @throws RangeError where it is longer than a record reaches: whoever writes splits moves first
 */
export function writeRecord(bytes: Uint8Array, offset: number, { kind, dx, dy }: Move): void {
  bytes.fill(0, offset, offset + RECORD_BYTES);
  bytes[offset + 2] = KIND_BITS[kind];
  writeAxis(bytes, offset, dx, X_PLACES);
  writeAxis(bytes, offset, dy, Y_PLACES);
}

/** From the greatest weight down: what is left after it must be within reach of the lesser ones. */
function writeAxis(bytes: Uint8Array, offset: number, distance: number, places: readonly Place[]): void {
  if (!Number.isInteger(distance) || Math.abs(distance) > RECORD_REACH)
    throw new RangeError(`a record cannot move by ${distance} units`);
  let left = distance;
  for (const { weight, byte, plus, minus } of places) {
    const reachOfLesser = (weight - 1) / 2;
    if (Math.abs(left) <= reachOfLesser) continue;
    bytes[offset + byte] |= left > 0 ? plus : minus;
    left -= Math.sign(left) * weight;
  }
}

/** Reads the record at `offset`. */
export function readRecord(bytes: Uint8Array, offset: number): Move {
  const last = bytes[offset + 2];
  if ((last & KIND_BITS.end) === KIND_BITS.end) return { kind: "end", dx: 0, dy: 0 };
  const dx = readAxis(bytes, offset, X_PLACES);
  const dy = readAxis(bytes, offset, Y_PLACES);
  if ((last & KIND_BITS.change) === KIND_BITS.change) return { kind: "change", dx, dy };
  return { kind: (last & KIND_BITS.jump) === KIND_BITS.jump ? "jump" : "stitch", dx, dy };
}

function readAxis(bytes: Uint8Array, offset: number, places: readonly Place[]): number {
  let distance = 0;
  for (const { weight, byte, plus, minus } of places) {
    if (bytes[offset + byte] & plus) distance += weight;
    if (bytes[offset + byte] & minus) distance -= weight;
  }
  return distance;
}
