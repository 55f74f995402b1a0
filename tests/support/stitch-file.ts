/**
 * A second reader of the machine file, for checking: written from what is known of the format from memory and
 * common practice (there is no published standard), and sharing nothing with the writer.
 *
 * Each bit of a record adds or takes away a weight along an axis. From the highest bit of the first byte to the
 * lowest of the third:
 */
const BITS = [
  "y+1 y-1 y+9 y-9 x-9 x+9 x-1 x+1",
  "y+3 y-3 y+27 y-27 x-27 x+27 x-3 x+3",
  "jump stop y+81 y-81 x-81 x+81 set set",
].flatMap((byte) => byte.split(" "));

export interface FileStitch {
  readonly what: "stitch" | "jump" | "stop";
  /** Where the needle is then, in tenths of a millimetre from the start; y points up. */
  readonly x: number;
  readonly y: number;
  /** How far this record moved it. */
  readonly dx: number;
  readonly dy: number;
}

export interface StitchFile {
  /** Of each field of the header, its text as it stands. */
  readonly header: Readonly<Record<string, string>>;
  readonly stitches: readonly FileStitch[];
  /** The bytes of the closing record and all that follows. */
  readonly tail: readonly number[];
}

export function readStitchFile(file: Uint8Array): StitchFile {
  const head = Buffer.from(file.subarray(0, 512)).toString("latin1");
  const fields = head.slice(0, head.indexOf("\u001a")).split("\r").filter(Boolean);
  const stitches: FileStitch[] = [];
  let [x, y, at] = [0, 0, 512];
  for (; at + 3 <= file.length; at += 3) {
    const bits = [...file.subarray(at, at + 3)].map((byte) => byte.toString(2).padStart(8, "0")).join("");
    const on = BITS.filter((_, k) => bits[k] === "1");
    if (bits.endsWith("11110011")) break;
    if (!bits.endsWith("11")) throw new Error(`record at ${at}: its two last bits are not set`);
    const moved = (axis: string) =>
      on.filter((bit) => bit.startsWith(axis)).reduce((sum, bit) => sum + Number(bit.slice(1)), 0);
    const [dx, dy] = [moved("x"), moved("y")];
    [x, y] = [x + dx, y + dy];
    stitches.push({
      what: on.includes("stop") ? "stop" : on.includes("jump") ? "jump" : "stitch",
      x,
      y,
      dx,
      dy,
    });
  }
  return {
    header: Object.fromEntries(fields.map((field) => [field.slice(0, 2), field.slice(3)])),
    stitches,
    tail: [...file.subarray(at)],
  };
}

/** A number of the header: `+  350`, `  350`. */
export const headerNumber = ({ header }: StitchFile, name: string): number =>
  Number(header[name].replaceAll(" ", ""));
