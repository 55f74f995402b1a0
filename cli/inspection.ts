/** What `inspect` tells, as lines to read and as a record to print. */
import type { InspectedPiece, Inspection } from "../core/output/inspection.ts";
import type { MachineDesign } from "../core/output/machine-reader.ts";
import { count, metres, mm, plural, printable, tableLines } from "./table.ts";

export function inspectionLines(inspection: Inspection, shown: string): string[] {
  const { kind, size, pieces, pins } = inspection;
  const head = `${printable(shown)}: ${kind}, ${mm(size.widthMm)} × ${mm(size.heightMm)} mm, ${contents(inspection)}`;
  if (pieces.length === 0) return [head];
  const pinned = (piece: InspectedPiece): string =>
    pins
      .filter((pin) => pin.piece === piece.id)
      .map(({ point, at }) => `${point} ${mm(at[0])}, ${mm(at[1])}`)
      .join("; ");
  const table = tableLines(
    [
      { title: "no.", align: "right" },
      { title: "block", align: "right" },
      { title: "strand", align: "right" },
      { title: "colour" },
      { title: "technique" },
      { title: "piece" },
      { title: "element" },
      { title: pins.length > 0 ? "pinned at mm" : "" },
    ],
    pieces.map((piece) => [
      numberOrDash(piece.order),
      numberOrDash(piece.block),
      numberOrDash(piece.strand),
      piece.colour,
      piece.technique,
      printable(piece.id),
      printable(piece.element),
      pinned(piece),
    ]),
  );
  return [head, "", ...table];
}

function contents({ kind, pieces, blocks, strands, pins }: Inspection): string {
  if (kind === "drawing") return `${plural(pieces.length, "piece")}, not planned yet`;
  const parts = [plural(pieces.length, "piece"), plural(blocks, "block"), plural(strands, "strand")];
  return [...parts, ...(pins.length > 0 ? [plural(pins.length, "pin")] : [])].join(", ");
}

const numberOrDash = (value: number | null): string => (value === null ? "–" : String(value));

/** A machine file: its size and figures, a row a block, and what does not agree in it. */
export function machineLines(design: MachineDesign, shown: string): string[] {
  const { header, size, stitches, jumps, trims, colourChanges, blocks, startMm, faults } = design;
  const name = header.name === "" ? "" : ` "${printable(header.name)}"`;
  const figures = [
    plural(stitches, "stitch", "stitches"),
    plural(jumps, "jump"),
    plural(trims, "trim"),
    plural(colourChanges, "colour change"),
  ];
  return [
    `${printable(shown)}: machine file${name}, ${mm(size.widthMm)} × ${mm(size.heightMm)} mm, ${figures.join(", ")}`,
    `the machine starts ${mm(startMm[0])} mm from the left and ${mm(startMm[1])} mm from the top`,
    "",
    ...tableLines(
      ["block", "stitches", "trims", "thread"].map((title) => ({ title, align: "right" })),
      blocks.map((block, k) => [
        String(k + 1),
        count(block.stitches),
        count(block.trims),
        metres(block.threadMm),
      ]),
    ),
    ...(faults.length > 0 ? ["", ...faults] : []),
  ];
}

/** The same for programs; without the stitches, which `--out` writes. */
export function machineRecord({ sewing: _sewing, pieces: _pieces, ...design }: MachineDesign) {
  return { kind: "machine file", ...design };
}
