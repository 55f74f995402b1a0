/** `tuckline explain`: why the machine stops where it does, and which small changes would save a stop. */
import { withMarks } from "../../core/layers/edit-marks.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { changeAsEdits } from "../../core/plan/changes.ts";
import { type Explanation, explain as explainDrawing, planWith } from "../../core/plan/explain.ts";
import { readDrawing } from "../../core/plan/make-plan.ts";
import { settingsInDrawing } from "../../core/settings-in-drawing.ts";
import { type Command, flagIn, nameBeside, optionIn, wordIn } from "../command.ts";
import { withInput } from "../input.ts";
import { CliError, EXIT, emit } from "../io.ts";
import { drawingBytes, targetAt, writeOutputs } from "../output.ts";
import { planningOptions, readRequest } from "../planning.ts";
import { summaryLines } from "../summary.ts";
import { printable } from "../table.ts";

const USAGE = `$0 explain <artwork>

List every stop that the plan still has, with its reason, and the smallest changes that would save one, best first. Each change is planned before it is offered. One that is made, to the order or a setting, is kept in the drawing itself (data-tuck-after, data-tuck-settings), so that planning it again keeps it.`;

export const explain: Command = {
  usage: "explain <artwork>",
  summary: "say why the machine stops, and what would save a stop",

  options: (yargs) =>
    planningOptions(yargs.usage(USAGE), "error")
      .option("json", { type: "boolean", describe: "print stops and changes as JSON" })
      .option("apply", {
        type: "string",
        requiresArg: true,
        describe: "make the plan with change number K of the list, and write it",
      })
      .option("out", {
        alias: "o",
        type: "string",
        requiresArg: true,
        describe: "with --apply: write the planned drawing there; without it <artwork>.planned.svg",
      })
      .option("force", { type: "boolean", describe: "replace a write-protected output too" })
      .example("$0 explain heron-crest.svg", "stops and changes")
      .example("$0 explain heron-crest.svg --apply 1 -o crest.svg", "plan with the first change made"),

  async run(values, io) {
    const artwork = wordIn(values, "artwork");
    const { input, inputs, settings, threads } = await readRequest(values, io);
    const drawing = withInput(input, (text) => readDrawing(text, input.name, settings, threads));
    const found = explainDrawing(drawing.artwork, drawing.marks, settings);
    const apply = optionIn(values, "apply");
    if (apply === undefined) {
      const text = flagIn(values, "json") ? asJson(found) : explanationLines(found).join("\n");
      await emit(io.stdout, `${text}\n`);
      return EXIT.done;
    }
    const chosen = found.suggestions[Number(apply) - 1];
    if (chosen === undefined)
      throw new CliError(
        found.suggestions.length === 0
          ? "tuckline: there is no change to apply; explain found none that saves a stop"
          : `tuckline: --apply is ${printable(apply)}; give the number of a change, 1 to ${found.suggestions.length}`,
      );
    const name = optionIn(values, "out") ?? nameBeside(artwork, "planned");
    if (name === undefined) throw new CliError("tuckline: say with -o where the planned drawing goes");
    const target = await targetAt(name, { inputs, force: flagIn(values, "force") }, io);
    const given = { ...drawing, settings };
    const planned = planWith(given, chosen.change);
    const layered = withInput(input, (text) => {
      const edits = changeAsEdits(given, chosen.change, settingsInDrawing(text).values);
      return writeLayers(edits === null ? text : withMarks(text, edits), planned);
    });
    await writeOutputs([{ target, bytes: drawingBytes(layered, target, input) }], io);
    const toRead = target.path === undefined ? io.stderr : io.stdout;
    const lines = [`Change: ${printable(chosen.what)}`, "", ...summaryLines(planned, input.shown, artwork)];
    await emit(toRead, `${[...lines, "", `Written: ${printable(target.shown)}`].join("\n")}\n`);
    return EXIT.done;
  },
};

const asJson = ({ plan, stops, suggestions }: Explanation): string =>
  JSON.stringify({ blocks: plan.metrics.blocks, strands: plan.metrics.strands, stops, suggestions }, null, 2);

function explanationLines({ plan, stops, suggestions }: Explanation): string[] {
  const { blocks, strands } = plan.metrics;
  if (stops.length === 0) return [`${inAll(strands, blocks)}: no stop but a colour change between blocks.`];
  return [
    `${inAll(strands, blocks)}.`,
    "",
    "Stops",
    ...stops.map(({ from, to, reason }) => `  ${printable(from)} | ${printable(to)}: ${printable(reason)}`),
    "",
    suggestions.length === 0
      ? "No small change was found that saves a stop."
      : "Changes that save a stop, best first",
    ...suggestions.map(
      ({ what, blocksSaved, strandsSaved }, n) =>
        `  ${n + 1}. ${printable(what)}: ${saved(blocksSaved, strandsSaved)}`,
    ),
  ];
}

const inAll = (strands: number, blocks: number): string =>
  `${counted(strands, "strand")} in ${counted(blocks, "block")}`;

/** `one block and two strands fewer`. */
function saved(blocks: number, strands: number): string {
  const parts = [counted(blocks, "block"), counted(strands, "strand")].filter((part) => part !== "");
  return `${parts.join(" and ")} fewer`;
}

const counted = (count: number, what: string): string =>
  count === 0 ? "" : `${count === 1 ? "one" : count} ${what}${count === 1 ? "" : "s"}`;
