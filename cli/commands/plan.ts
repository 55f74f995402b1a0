/** `tuckline plan`: artwork in; planned layers, plan as JSON and picture out; a summary to read. */
import { writeLayers } from "../../core/layers/write.ts";
import { serialisePlan } from "../../core/output/json.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import {
  type Command,
  drawingName,
  drawingOptions,
  flagIn,
  nameBeside,
  optionIn,
  wordIn,
} from "../command.ts";
import { reaches } from "../findings.ts";
import { withInput } from "../input.ts";
import { EXIT, emit } from "../io.ts";
import {
  drawingBytes,
  type Output,
  refuseSharedTargets,
  type Target,
  targetAt,
  writeOutputs,
} from "../output.ts";
import { pictureBytes, refuseOtherPictures } from "../picture.ts";
import { planningOptions, readRequest } from "../planning.ts";
import { summaryLines } from "../summary.ts";
import { printable } from "../table.ts";

const USAGE = `$0 plan <artwork>

Plan the sewing of a drawing. What the artist drew is never altered: the plan is added as layers after it, and $0 strip takes them out again.`;

export const plan: Command = {
  usage: "plan <artwork>",
  summary: "plan the sewing of a drawing and write it back as layers",

  options: (yargs) => {
    const outputs = drawingOptions(
      yargs.usage(USAGE),
      "the planned drawing",
      "Without any output named: <artwork>.planned.svg",
    )
      .option("json", { type: "string", requiresArg: true, describe: "write the plan as JSON there" })
      .option("picture", {
        type: "string",
        requiresArg: true,
        describe: "draw how it will look when sewn, as .png or .svg",
      })
      .example("$0 plan heron-crest.svg --width 80", "sewn 80 mm wide")
      .example("$0 plan heron-crest.svg -o crest.svg --json crest.json", "layers and JSON")
      .example("$0 plan heron-crest.svg --picture crest.png", "a picture only")
      .example("$0 plan heron-crest.svg --recipe pile", "sewn on a towel")
      .example("$0 plan heron-crest.svg --threads club.csv --max-threads 6", "in six threads of a list")
      .example("$0 plan heron-crest.svg --set pullMm=0.3 --set tieCount=4", "other settings");
    return planningOptions(outputs, "error");
  },

  /** Everything is computed before anything is written. */
  async run(values, io) {
    const artwork = wordIn(values, "artwork");
    const names = {
      json: optionIn(values, "json"),
      picture: optionIn(values, "picture"),
    };
    const onlyOthers = names.json !== undefined || names.picture !== undefined;
    const drawing = drawingName(values, artwork, onlyOthers ? undefined : nameBeside(artwork, "planned"));
    if (names.picture !== undefined) refuseOtherPictures(names.picture);
    const { input, inputs, settings, threads, failOn } = await readRequest(values, io);

    const inPlace = flagIn(values, "in-place");
    const force = flagIn(values, "force");
    const at = async (name: string | undefined, kept = inputs) =>
      name === undefined ? undefined : targetAt(name, { inputs: kept, force }, io);
    const targets = {
      drawing: await at(drawing, inPlace ? inputs.slice(1) : inputs),
      json: await at(names.json),
      picture: await at(names.picture),
    };
    const given = Object.values(targets).filter((target) => target !== undefined);
    refuseSharedTargets(given);

    const planned = withInput(input, (text) => makePlan(text, input.name, settings, threads));
    const outputs: Output[] = [];
    if (targets.drawing) {
      const layered = withInput(input, (text) => writeLayers(text, planned));
      outputs.push({ target: targets.drawing, bytes: drawingBytes(layered, targets.drawing, input) });
    }
    if (targets.json)
      outputs.push({ target: targets.json, bytes: Buffer.from(serialisePlan(planned), "utf8") });
    if (targets.picture)
      outputs.push({ target: targets.picture, bytes: await pictureBytes(planned, targets.picture.shown) });
    await writeOutputs(outputs, io);

    if (!flagIn(values, "quiet")) {
      const toRead = given.some(({ path }) => path === undefined) ? io.stderr : io.stdout;
      await emit(toRead, [...summaryLines(planned, input.shown, artwork), "", written(given), ""].join("\n"));
    }
    return reaches(planned.findings, failOn) ? EXIT.findings : EXIT.done;
  },
};

const written = (targets: readonly Target[]): string =>
  `Written: ${targets.map(({ shown }) => printable(shown)).join(", ")}`;
