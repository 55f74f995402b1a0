/** `tuckline check`: plans the artwork, writes nothing, and says what was found. */
import { makePlan } from "../../core/plan/make-plan.ts";
import { type Command, flagIn } from "../command.ts";
import { bySeverity, findingLines, reaches } from "../findings.ts";
import { withInput } from "../input.ts";
import { EXIT, emit } from "../io.ts";
import { planningOptions, readRequest } from "../planning.ts";

const USAGE = `$0 check <artwork>

Plan a drawing, write nothing, and list what was found: the gravest first, each with its place and its remedy.`;

export const check: Command = {
  usage: "check <artwork>",
  summary: "say what to look at before sewing; write nothing",

  options: (yargs) =>
    planningOptions(yargs.usage(USAGE), "warning")
      .option("json", { type: "boolean", describe: "print the findings as JSON" })
      .example("$0 check heron-crest.svg --width 80", "sewn 80 mm wide")
      .example("$0 check heron-crest.svg --recipe knit", "sewn on fabric that stretches")
      .example("$0 check heron-crest.svg --fail-on error", "exit with 1 for errors only"),

  async run(values, io) {
    const { input, settings, threads, failOn } = await readRequest(values, io);
    const { findings } = withInput(input, (text) => makePlan(text, input.name, settings, threads));
    const text = flagIn(values, "json")
      ? JSON.stringify(bySeverity(findings), null, 2)
      : findingLines(findings).join("\n");
    await emit(io.stdout, `${text}\n`);
    return reaches(findings, failOn) ? EXIT.findings : EXIT.done;
  },
};
