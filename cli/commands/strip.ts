/** `tuckline strip`: takes everything that Tuckline added out of a drawing, and touches no other byte. */
import { strip as stripLayers } from "../../core/layers/strip.ts";
import { type Command, drawingName, drawingOptions, flagIn, nameBeside, wordIn } from "../command.ts";
import { readInput, withInput } from "../input.ts";
import { EXIT, emit } from "../io.ts";
import { drawingBytes, targetAt, writeOutputs } from "../output.ts";
import { printable } from "../table.ts";

const USAGE = `$0 strip <planned>

Take everything that Tuckline added out of a drawing: byte for byte back to the artwork.`;

export const strip: Command = {
  usage: "strip <planned>",
  summary: "take the layers out again, byte for byte back to the artwork",

  options: (yargs) =>
    drawingOptions(
      yargs.usage(USAGE).positional("planned", {
        type: "string",
        demandOption: true,
        describe: "the planned drawing: .svg or .svgz; - is standard input",
      }),
      "the artwork",
      "Without it: <planned>.stripped.svg",
    ).example("$0 strip heron-crest.planned.svg -o heron-crest.svg", "back to the artwork"),

  async run(values, io) {
    const planned = wordIn(values, "planned");
    const name = drawingName(values, planned, nameBeside(planned, "stripped"));
    const input = await readInput(planned, io);
    const force = flagIn(values, "force");
    const rules = flagIn(values, "in-place")
      ? { inputs: [], force, expected: input.version }
      : { inputs: [input], force };
    const target = await targetAt(name, rules, io);

    const artwork = withInput(input, stripLayers);
    await writeOutputs([{ target, bytes: drawingBytes(artwork, target, input) }], io);

    if (!flagIn(values, "quiet")) {
      const outcome = artwork === input.text ? "there was nothing to take out" : "back to the artwork";
      const toRead = target.path === undefined ? io.stderr : io.stdout;
      await emit(toRead, `${printable(input.shown)}: ${outcome}\nWritten: ${printable(target.shown)}\n`);
    }
    return EXIT.done;
  },
};
