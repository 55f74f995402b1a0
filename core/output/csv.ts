/**
 * The design as comma-separated values by RFC 4180, for those who write their own converter: one row a stitch, in
 * needle order, and a row for each trim, colour change and jump between them.
 *
 * Coordinates are the plan's millimetres: x right, y down, origin at the artwork's top left corner. A `stitch` is
 * where the needle goes down; a `jump` is where the machine stands after it; a `trim` and a `colour-change` happen
 * where the needle last was. Blocks and strands are counted from 1.
 *
 * Names come from the drawing, and a spreadsheet takes a cell that begins as a formula for one. So a text that
 * begins so gets an apostrophe before it (OWASP, "CSV Injection"); numbers stay as they are.
 */
import { isSewn } from "../plan/steps.ts";
import type { Plan } from "../plan/types.ts";
import type { Writer } from "./writer.ts";

export const CSV_COLUMNS = [
  "number",
  "kind",
  "x_mm",
  "y_mm",
  "block",
  "strand",
  "role",
  "piece",
  "connector",
  "colour",
] as const;

export const csvWriter: Writer = {
  name: "csv",
  ending: "csv",
  describe: "the stitches as comma-separated values, a row each",
  write: stitchCsv,
};

type Row = { readonly [Name in (typeof CSV_COLUMNS)[number]]?: string | number };

/** The whole design as CSV text, records ended by CR LF. Stitches are numbered from 1. */
export function stitchCsv(plan: Plan): string {
  return csvText(CSV_COLUMNS, stitchRows(plan));
}

function stitchRows(plan: Plan): Row[] {
  const colours = new Map(plan.pieces.map(({ id, colour }) => [id, colour]));
  const rows: Row[] = [];
  let colour = plan.pieces[0]?.colour ?? "";
  let number = 0;
  let strand = -1;
  let [x, y] = [0, 0];
  for (const step of plan.sewing) {
    if (isSewn(step)) {
      colour = colours.get(step.piece ?? "") ?? colour;
      // Within a strand a step begins where the one before it ended: that needle point has its row already.
      for (let k = step.strand === strand ? 2 : 0; k < step.points.length; k += 2) {
        [x, y] = [step.points[k], step.points[k + 1]];
        const { role, piece, connector } = step;
        rows.push({
          number: ++number,
          kind: "stitch",
          ...placed(x, y),
          block: step.block + 1,
          strand: step.strand + 1,
          role,
          ...(piece === undefined ? {} : { piece }),
          ...(connector === undefined ? {} : { connector }),
          colour,
        });
      }
      strand = step.strand;
    } else if (step.role === "jump") {
      [x, y] = step.points.slice(-2);
      rows.push({ kind: "jump", ...placed(x, y) });
    } else {
      if (step.role === "colour-change") colour = step.colour;
      rows.push({ kind: step.role, ...placed(x, y), ...(step.role === "trim" ? {} : { colour }) });
    }
  }
  return rows;
}

/** To 0.001 mm, as in the plan's JSON, without minus zero. */
const placed = (x: number, y: number): Pick<Row, "x_mm" | "y_mm"> => ({
  x_mm: Math.round(x * 1000) / 1000 + 0,
  y_mm: Math.round(y * 1000) / 1000 + 0,
});

/** Records with a line of column names before them, each ended by CR LF; a value that a row lacks is empty. */
export function csvText<Name extends string>(
  columns: readonly Name[],
  rows: readonly { readonly [Key in Name]?: string | number }[],
): string {
  const lines = [columns, ...rows.map((row) => columns.map((name) => row[name] ?? ""))];
  return lines.map((fields) => `${fields.map(csvField).join(",")}\r\n`).join("");
}

/** In double quotes where it holds a comma, a quote or a line break, its own quotes doubled. */
const csvField = (value: string | number): string => {
  const text = typeof value === "string" && FORMULA.test(value) ? `'${value}` : String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
};

/** How a spreadsheet's formula begins; after white space that it passes over, too. */
const FORMULA = /^\s*[=+\-@]|^[\t\r]/;
