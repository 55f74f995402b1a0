/** `tuckline inspect`: what is in a drawing, a planned drawing, or a plan as JSON. */
import {
  type InspectedPiece,
  type Inspection,
  inspectDrawing,
  inspectPlan,
} from "../../core/output/inspection.ts";
import { type Command, flagIn, wordIn } from "../command.ts";
import { readInput, withInput } from "../input.ts";
import { EXIT, emit } from "../io.ts";
import { parseJson, withoutMark } from "../json.ts";
import { mm, plural, printable, tableLines } from "../table.ts";

const USAGE = `$0 inspect <file>

Show the size of a drawing or a plan, and its pieces in sewing order.`;

export const inspect: Command = {
  usage: "inspect <file>",
  summary: "show what is in a drawing, a planned drawing or a plan as JSON",

  options: (yargs) =>
    yargs
      .usage(USAGE)
      .positional("file", {
        type: "string",
        demandOption: true,
        describe: "the drawing (.svg, .svgz) or the plan (.json); - is standard input",
      })
      .option("json", { type: "boolean", describe: "print it as JSON" })
      .example("$0 inspect heron-crest.planned.svg", "its pieces in sewing order"),

  async run(values, io) {
    const input = await readInput(wordIn(values, "file"), io);
    const isJson = withoutMark(input.text).trimStart().startsWith("{");
    const inspection = isJson
      ? withInput(input, () => inspectPlan(parseJson(input)))
      : withInput(input, (text) => inspectDrawing(text, input.name));
    const text = flagIn(values, "json")
      ? JSON.stringify(inspection, null, 2)
      : inspectionLines(inspection, input.shown).join("\n");
    await emit(io.stdout, `${text}\n`);
    return EXIT.done;
  },
};

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
