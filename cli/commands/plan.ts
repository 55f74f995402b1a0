/** `tuckline plan`: artwork in; planned layers and whatever else is asked for out; a summary to read. */
import { writeLayers } from "../../core/layers/write.ts";
import { WRITERS } from "../../core/output/writers.ts";
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
  written,
} from "../output.ts";
import { pictureBytes, pictureOptions, pictureRequest } from "../picture.ts";
import { planningOptions, readRequest } from "../planning.ts";
import { summaryLines } from "../summary.ts";

const USAGE = `$0 plan <artwork>

Plan the sewing of a drawing. What the artist drew is never altered: the plan is added as layers after it, and $0 strip takes them out again.`;

export const plan: Command = {
  usage: "plan <artwork>",
  summary: "plan the sewing of a drawing and write it back as layers",

  options: (yargs) => {
    const drawing = drawingOptions(
      yargs.usage(USAGE),
      "the planned drawing",
      "Without any output named: <artwork>.planned.svg",
    );
    const outputs = WRITERS.reduce(
      (options, { name, ending, describe }) =>
        options.option(name, {
          type: "string",
          requiresArg: true,
          describe: `write ${describe} (.${ending})`,
        }),
      drawing,
    );
    const pictures = pictureOptions(outputs)
      .example("$0 plan heron-crest.svg --width 80", "sewn 80 mm wide")
      .example("$0 plan heron-crest.svg -o crest.svg --json crest.json", "layers and JSON")
      .example("$0 plan heron-crest.svg --machine crest.dst --sheet crest.html", "to the machine")
      .example("$0 plan heron-crest.svg --picture crest.png --dpi 300", "a picture only")
      .example("$0 plan heron-crest.svg --recipe pile", "sewn on a towel")
      .example("$0 plan heron-crest.svg --patch circle --sheet-of 2x3", "six round patches on one hoop")
      .example("$0 plan heron-crest.svg --threads club.csv --max-threads 6", "in six threads of a list")
      .example("$0 plan heron-crest.svg --set pullMm=0.3 --set tieCount=4", "other settings");
    return planningOptions(pictures, "error");
  },

  /** Everything is computed before anything is written. */
  async run(values, io) {
    const artwork = wordIn(values, "artwork");
    const formats = WRITERS.flatMap((writer) => {
      const name = optionIn(values, writer.name);
      return name === undefined ? [] : [{ writer, name }];
    });
    const pictures = pictureRequest(values);
    const onlyOthers = formats.length > 0 || pictures.names.length > 0;
    const drawing = drawingName(values, artwork, onlyOthers ? undefined : nameBeside(artwork, "planned"));
    const { input, inputs, settings, threads, failOn } = await readRequest(values, io);

    const force = flagIn(values, "force");
    const at = (name: string) => targetAt(name, { inputs, force }, io);
    const drawingRules = flagIn(values, "in-place")
      ? { inputs: inputs.slice(1), force, expected: input.version }
      : { inputs, force };
    const targets = {
      drawing: drawing === undefined ? undefined : await targetAt(drawing, drawingRules, io),
      formats: await Promise.all(formats.map(({ name }) => at(name))),
      pictures: await Promise.all(pictures.names.map((name) => at(name))),
    };
    const given: readonly Target[] = [
      ...(targets.drawing ? [targets.drawing] : []),
      ...targets.formats,
      ...targets.pictures,
    ];
    refuseSharedTargets(given);

    const planned = withInput(input, (text) => makePlan(text, input.name, settings, threads));
    const outputs: Output[] = [];
    if (targets.drawing) {
      const layered = withInput(input, (text) => writeLayers(text, planned));
      outputs.push({ target: targets.drawing, bytes: drawingBytes(layered, targets.drawing, input) });
    }
    const { fabricColour } = pictures;
    const options = fabricColour === undefined ? {} : { fabricColour };
    for (const [k, target] of targets.formats.entries())
      outputs.push({ target, bytes: Buffer.from(formats[k].writer.write(planned, options)) });
    for (const [k, bytes] of (await pictureBytes(planned, pictures)).entries())
      outputs.push({ target: targets.pictures[k], bytes });
    await writeOutputs(outputs, io);

    if (!flagIn(values, "quiet")) {
      const toRead = given.some(({ path }) => path === undefined) ? io.stderr : io.stdout;
      await emit(toRead, [...summaryLines(planned, input.shown, artwork), "", written(given), ""].join("\n"));
    }
    return reaches(planned.findings, failOn) ? EXIT.findings : EXIT.done;
  },
};
