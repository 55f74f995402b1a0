/** `tuckline merge`: the reports of several batches, or of all shards of one, as one. */
import { resolve } from "node:path";
import type { Severity } from "../../core/findings.ts";
import { makeOutputFolder } from "../batch/folder.ts";
import { joinReports } from "../batch/report.ts";
import { readReports, writeReport } from "../batch/report-files.ts";
import { batchExitCode, batchSummary } from "../batch/summary.ts";
import { type Command, EXIT_CODES, flagIn, listIn, optionIn } from "../command.ts";
import { SEVERITIES } from "../findings.ts";
import { emit } from "../io.ts";

const USAGE = `$0 merge <folders..>

Join the reports of batches into one, with one index. Plans and thumbnails stay where they are; the index leads to them from where it lies. A shard that is missing is told of.`;

export const merge: Command = {
  usage: "merge <folders..>",
  summary: "join the reports of batches, or of the shards of one",

  options: (yargs) =>
    yargs
      .usage(USAGE)
      .positional("folders", {
        type: "string",
        demandOption: true,
        array: true,
        describe: "folders that batches have written to; shards may have shared one",
      })
      .option("out", {
        alias: "o",
        type: "string",
        requiresArg: true,
        demandOption: true,
        describe: "the folder for report and index.html; may be one of those joined",
      })
      .option("fail-on", {
        choices: SEVERITIES,
        requiresArg: true,
        default: "error",
        describe: "exit with 1 where a finding is this grave, a drawing failed or a shard is missing",
      })
      .option("quiet", { type: "boolean", describe: "print nothing" })
      .example("$0 merge part-1 part-2 part-3 --out .", "three shards as one")
      .epilogue(EXIT_CODES),

  async run(values, io) {
    const shown = optionIn(values, "out") as string;
    const target = resolve(io.cwd, shown);
    const read = listIn(values, "folders").map((folder) =>
      readReports(folder, resolve(io.cwd, folder), target, io),
    );
    const report = joinReports((await Promise.all(read)).flat());
    await makeOutputFolder(target, shown);
    const files = await writeReport(target, report);
    if (!flagIn(values, "quiet")) await emit(io.stdout, `${batchSummary(report, shown, files).join("\n")}\n`);
    return batchExitCode(report, optionIn(values, "fail-on") as Severity);
  },
};
