/** `tuckline inspect`: what is in a drawing, a planned drawing, a plan as JSON, or a machine file. */
import { inspectDrawing, inspectPlan } from "../../core/output/inspection.ts";
import { machineDrawing } from "../../core/output/machine-drawing.ts";
import { isMachineFile, type MachineDesign, readMachineFile } from "../../core/output/machine-reader.ts";
import { framed } from "../../core/output/picture.ts";
import { type Command, flagIn, optionIn, type Values, wordIn } from "../command.ts";
import { inputFrom, ofFile, type RawInput, readRaw, withInput } from "../input.ts";
import { inspectionLines, machineLines, machineRecord } from "../inspection.ts";
import { CliError, EXIT, emit, type Io } from "../io.ts";
import { parseJson, withoutMark } from "../json.ts";
import { refuseSharedTargets, targetAt, writeOutputs, written } from "../output.ts";
import { type PictureRequest, pictureBytes, pictureOptions, pictureRequest } from "../picture.ts";

const USAGE = `$0 inspect <file>

Show the size of a drawing or a plan, and its pieces in sewing order. Read a machine file back, and draw what it will sew.`;

export const inspect: Command = {
  usage: "inspect <file>",
  summary: "show what is in a drawing, a plan or a machine file",

  options: (yargs) =>
    pictureOptions(
      yargs
        .usage(USAGE)
        .positional("file", {
          type: "string",
          demandOption: true,
          describe: "a drawing (.svg, .svgz), a plan (.json), a machine file (.dst); - is standard input",
        })
        .option("json", { type: "boolean", describe: "print it as JSON" })
        .option("out", {
          alias: "o",
          type: "string",
          requiresArg: true,
          describe: "of a machine file: write its stitches as an SVG drawing there; - is standard output",
        })
        .option("force", { type: "boolean", describe: "replace write-protected outputs too" }),
    )
      .example("$0 inspect heron-crest.planned.svg", "its pieces in sewing order")
      .example("$0 inspect crest.dst --picture crest.png", "how a machine file will look when sewn"),

  async run(values, io) {
    const pictures = pictureRequest(values);
    const raw = await readRaw(wordIn(values, "file"), io);
    if (isMachineFile(raw.bytes)) return inspectMachineFile(raw, pictures, values, io);
    if (optionIn(values, "out") !== undefined || pictures.names.length > 0)
      throw new CliError(
        `${raw.shown}: inspect draws machine files only; for a drawing say tuckline plan with --out or --picture`,
      );
    const input = inputFrom(raw);
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

/** Of bare fabric around the stitches of a machine file, which knows no page. */
const MARGIN_MM = 2;

async function inspectMachineFile(raw: RawInput, pictures: PictureRequest, values: Values, io: Io) {
  const out = optionIn(values, "out");
  const rules = { inputs: [raw], force: flagIn(values, "force") };
  const names = [...(out === undefined ? [] : [out]), ...pictures.names];
  const targets = await Promise.all(names.map((name) => targetAt(name, rules, io)));
  refuseSharedTargets(targets);

  const design: MachineDesign = ofFile(raw.shown, () => readMachineFile(raw.bytes));
  const shown = framed(design, MARGIN_MM);
  const drawing = machineDrawing({ ...design, ...shown });
  const files = [
    ...(out === undefined ? [] : [Buffer.from(drawing, "utf8")]),
    ...(await pictureBytes(shown, pictures)),
  ];
  await writeOutputs(
    targets.map((target, k) => ({ target, bytes: files[k] })),
    io,
  );

  const told = flagIn(values, "json")
    ? [JSON.stringify(machineRecord(design), null, 2)]
    : [...machineLines(design, raw.shown), ...(targets.length > 0 ? ["", written(targets)] : [])];
  const toRead = targets.some(({ path }) => path === undefined) ? io.stderr : io.stdout;
  await emit(toRead, `${told.join("\n")}\n`);
  return EXIT.done;
}
