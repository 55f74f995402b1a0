/** `tuckline batch`: plans every drawing that the patterns name, and reports on all of them. */
import { availableParallelism } from "node:os";
import { resolve } from "node:path";
import type { Severity } from "../../core/findings.ts";
import type { SettingsSource } from "../../core/settings-cascade.ts";
import { findDrawings } from "../batch/drawings.ts";
import { makeOutputFolder, outputFolders } from "../batch/folder.ts";
import { showProgress } from "../batch/progress.ts";
import { reportOf } from "../batch/report.ts";
import { writeReport } from "../batch/report-files.ts";
import { type BatchRequest, boxFrom, FORMATS, formatsFrom, PRESET_FORMATS } from "../batch/request.ts";
import { runBatch } from "../batch/run-batch.ts";
import { isInShard, shardFrom } from "../batch/shard.ts";
import { batchExitCode, batchSummary } from "../batch/summary.ts";
import { type Command, flagIn, listIn, optionIn, type Values } from "../command.ts";
import { CliError, emit, type Io } from "../io.ts";
import { fabricIn } from "../picture.ts";
import { readSettings, readThreads, refuseSharedInput, sewingOptions } from "../planning.ts";
import { sourcesOf } from "../settings.ts";

const USAGE = `$0 batch <drawings..>

Plan many drawings. What a batch has done it does not do again: stopped at any moment, it goes on where it was; a drawing or a setting that has changed is planned anew. The folder holds what the last batch asked for.`;

const PRESET_SECONDS = 120;

export const batch: Command = {
  usage: "batch <drawings..>",
  summary: "plan many drawings, in parallel, with a report on all of them",

  options: (yargs) =>
    sewingOptions(
      yargs
        .usage(USAGE)
        .positional("drawings", {
          type: "string",
          demandOption: true,
          array: true,
          describe: "files, folders, or patterns in quotes; one that begins with ! leaves out",
        })
        .option("out", {
          alias: "o",
          type: "string",
          requiresArg: true,
          demandOption: true,
          describe: "the folder for plans, thumbnails, report and index.html",
        })
        .option("fit", {
          type: "string",
          requiresArg: true,
          describe:
            "sew each (of a sheet, each copy) as large as goes into width x height in mm, as in 90x60",
        })
        .option("formats", {
          type: "string",
          requiresArg: true,
          default: PRESET_FORMATS,
          describe: `what to write of each, with commas between: ${Object.keys(FORMATS).join(", ")}`,
        })
        .option("fabric", {
          type: "string",
          requiresArg: true,
          describe: "the fabric's colour in pictures, as in CSS: #14202b, navy",
        })
        .option("jobs", {
          type: "string",
          requiresArg: true,
          describe: "so many drawings at a time; without it as many as the machine has cores",
        })
        .option("shard", {
          type: "string",
          requiresArg: true,
          describe: "plan only part I of N, split by name, the same on every machine; as in 2/8",
        })
        .option("file-seconds", {
          type: "string",
          requiresArg: true,
          default: String(PRESET_SECONDS),
          describe: "give up on a drawing that takes longer to plan",
        })
        .option("redo", { type: "boolean", describe: "plan again what is done already" })
        .option("quiet", { type: "boolean", describe: "print failures only" })
        .example(
          "$0 batch 'clipart/**/*.svg' --out sewn --fit 90x60",
          "each as large as goes into 90 × 60 mm",
        )
        .example("$0 batch clipart --out sewn --shard 2/8", "the second of eight parts; see tuckline merge"),
      "error",
    ),

  async run(values, io) {
    const shown = optionIn(values, "out") as string;
    const folder = resolve(io.cwd, shown);
    const typedShard = optionIn(values, "shard");
    const shard = typedShard === undefined ? undefined : shardFrom(typedShard);
    const threads = numberIn(values, "jobs", 1, 256, true) ?? availableParallelism();
    const secondsPerDrawing = numberIn(values, "file-seconds", 0.1, 86_400, false) ?? PRESET_SECONDS;
    const request = await requestIn(values, io);
    const all = await findDrawings(listIn(values, "drawings"), outputFolders(folder), io);
    const drawings = shard === undefined ? all : all.filter(({ name }) => isInShard(name, shard));
    await makeOutputFolder(folder, shown);

    const quiet = flagIn(values, "quiet");
    const progress = showProgress(io.stderr, drawings.length, () => performance.now(), quiet);
    const options = { folder, threads, secondsPerDrawing, redo: flagIn(values, "redo") };
    const { entries, kept } = await runBatch(drawings, request, options, progress, io);
    progress.close();

    const files = await writeReport(folder, reportOf(entries, shard), shard);
    // A shard is done when its own drawings are: those of other shards are asked for by `merge`.
    const own = reportOf(entries);
    if (!quiet) await emit(io.stdout, `${batchSummary(own, shown, files, kept).join("\n")}\n`);
    return batchExitCode(own, optionIn(values, "fail-on") as Severity);
  },
};

async function requestIn(values: Values, io: Io): Promise<BatchRequest> {
  const typedBox = optionIn(values, "fit");
  if (typedBox !== undefined && optionIn(values, "width") !== undefined)
    throw new CliError("tuckline: --width and --fit contradict one another; give one of the two");
  refuseSharedInput({ settings: optionIn(values, "settings"), threads: optionIn(values, "threads") });
  const given = await readSettings(values, io);
  const { below, above } = sourcesOf(given);
  const list = await readThreads(values, io);
  return {
    settings: given.effective.settings,
    below: valuesIn(below),
    above: valuesIn(above),
    threads: list?.threads,
    fit: typedBox === undefined ? undefined : boxFrom(typedBox),
    formats: formatsFrom(optionIn(values, "formats") ?? PRESET_FORMATS),
    fabricColour: fabricIn(values),
  };
}

const valuesIn = (sources: readonly SettingsSource[]): SettingsSource["values"] =>
  Object.fromEntries(sources.flatMap(({ values }) => Object.entries(values)));

function numberIn(
  values: Values,
  name: string,
  min: number,
  max: number,
  whole: boolean,
): number | undefined {
  const typed = optionIn(values, name);
  if (typed === undefined) return undefined;
  const value = /^\d+(\.\d+)?$/.test(typed) ? Number(typed) : Number.NaN;
  if (value >= min && value <= max && (!whole || Number.isInteger(value))) return value;
  const what = whole ? "a whole number" : "a number";
  throw new CliError(`tuckline: --${name} is "${typed}"; give ${what} from ${min} to ${max}`);
}
