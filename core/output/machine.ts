/**
 * The machine file: the trade's common stitch file, which nearly every machine reads. A header of text, then
 * records of three bytes each, then a closing record. It holds no colours, only where the thread changes.
 *
 * Its layout is known from memory and common practice; there is no published standard.
 */
import type { Plan } from "../plan/types.ts";
import { machineMoves } from "./machine-moves.ts";
import { type Move, RECORD_BYTES, writeRecord } from "./machine-record.ts";
import type { Writer } from "./writer.ts";

export const HEADER_BYTES = 512;

/** Closes the header's text; blanks fill the rest. */
const END_OF_TEXT = 0x1a;
const NAME_LENGTH = 16;

/** The design as the bytes of a machine file. */
export function machineFile(plan: Plan): Uint8Array {
  const moves: readonly Move[] = [...machineMoves(plan), { kind: "end", dx: 0, dy: 0 }];
  const bytes = new Uint8Array(HEADER_BYTES + moves.length * RECORD_BYTES).fill(0x20, 0, HEADER_BYTES);
  const text = headerText(nameIn(plan.source.name), moves);
  for (let k = 0; k < text.length; k++) bytes[k] = text.charCodeAt(k);
  bytes[text.length] = END_OF_TEXT;
  for (const [k, move] of moves.entries()) writeRecord(bytes, HEADER_BYTES + k * RECORD_BYTES, move);
  return bytes;
}

export const machineWriter: Writer = {
  name: "machine",
  ending: "dst",
  describe: "the stitch file that goes to the machine",
  write: machineFile,
};

/**
 * Fields of fixed width, each ended by a carriage return: name, records before the closing one, colour changes,
 * how far the design reaches from where it starts to the right, left, up and down, and where it ends. The last
 * three belong to designs spread over several files, which these are not.
 */
function headerText(name: string, moves: readonly Move[]): string {
  const extents = extentsOf(moves);
  const changes = moves.filter(({ kind }) => kind === "change").length;
  return [
    `LA:${name.padEnd(NAME_LENGTH)}`,
    `ST:${padded(moves.length - 1, 7)}`,
    // Three digits are all there are. A design of a thousand changes says 999.
    `CO:${padded(Math.min(999, changes), 3)}`,
    `+X:${padded(extents.right, 5)}`,
    `-X:${padded(extents.left, 5)}`,
    `+Y:${padded(extents.up, 5)}`,
    `-Y:${padded(extents.down, 5)}`,
    `AX:${signed(extents.endX)}`,
    `AY:${signed(extents.endY)}`,
    `MX:${signed(0)}`,
    `MY:${signed(0)}`,
    "PD:******",
    "",
  ].join("\r");
}

interface Extents {
  readonly right: number;
  readonly left: number;
  readonly up: number;
  readonly down: number;
  readonly endX: number;
  readonly endY: number;
}

/** In units from the start; a start in a corner makes two of them 0, none is less. */
function extentsOf(moves: readonly Move[]): Extents {
  let [x, y, right, left, up, down] = [0, 0, 0, 0, 0, 0];
  for (const { dx, dy } of moves) {
    [x, y] = [x + dx, y + dy];
    right = Math.max(right, x);
    left = Math.max(left, -x);
    up = Math.max(up, y);
    down = Math.max(down, -y);
  }
  return { right, left, up, down, endX: x, endY: y };
}

const padded = (value: number, width: number): string => String(value).padStart(width);

const signed = (value: number): string => (value < 0 ? "-" : "+") + padded(Math.abs(value), 5);

/** A file's name without its ending, in the letters that every machine can show. */
const nameIn = (fileName: string): string =>
  fileName
    .replace(/\.(svgz?|json)$/i, "")
    .replace(/[^\x21-\x7e]+/g, "-")
    .slice(0, NAME_LENGTH);
