/** What `plan` and `check` have in common: the artwork and the settings that it is planned with. */
import type { Argv } from "yargs";
import type { Severity } from "../core/findings.ts";
import { RECIPE_NAMES } from "../core/recipes/fabrics.ts";
import { DEFAULT_SETTINGS, type Settings } from "../core/settings.ts";
import type { EffectiveSettings } from "../core/settings-cascade.ts";
import { settingsInDrawing } from "../core/settings-in-drawing.ts";
import { rangeOf, SETTING_NAMES, SETTINGS_TABLE } from "../core/settings-schema.ts";
import { readThreadList, ThreadListError } from "../core/threads/read-thread-list.ts";
import type { Thread } from "../core/threads/types.ts";
import { EXIT_CODES, listIn, optionIn, type Values, wordIn } from "./command.ts";
import { SEVERITIES } from "./findings.ts";
import { type Input, readInput, withInput } from "./input.ts";
import { CliError, type Io, STANDARD } from "./io.ts";
import { type GivenSettings, OPTION_NAMES, settingsFrom } from "./settings.ts";

export const planningOptions = (yargs: Argv, failOn: Severity): Argv =>
  sewingOptions(
    yargs.positional("artwork", {
      type: "string",
      demandOption: true,
      describe: "the drawing: .svg or .svgz; - is standard input",
    }),
    failOn,
  );

/** The options of every command that plans, whatever it is that it plans. */
export const sewingOptions = (yargs: Argv, failOn: Severity): Argv =>
  settingsOptions(yargs)
    .option("threads", {
      type: "string",
      requiresArg: true,
      describe: "take threads from a CSV file with the columns name, code and hex",
    })
    .option("fail-on", {
      choices: SEVERITIES,
      requiresArg: true,
      default: failOn,
      describe: "exit with 1 where a finding is this grave",
    })
    .epilogue(`${settingsHelp()}\n\n${EXIT_CODES}`);

/** The options that settings are given by. */
export const settingsOptions = (yargs: Argv): Argv =>
  yargs
    .option("width", {
      type: "string",
      requiresArg: true,
      describe: "sewn width in mm; without it the drawing's own size",
    })
    .option("order", {
      choices: ["paint", "regroup"],
      requiresArg: true,
      describe: "paint: as painted; regroup: fewest colour blocks, then strands, that overlaps allow",
    })
    .option("blend", {
      choices: ["never", "seams"],
      requiresArg: true,
      describe: "seams: where nothing hides the thread, follow seams between finished pieces of its colour",
    })
    .option("keep", {
      type: "string",
      requiresArg: true,
      describe: "layers whose own order regroup keeps, with commas between",
    })
    .option("from", {
      choices: ["anywhere", "centre"],
      requiresArg: true,
      describe: "centre: regroup works from the middle outwards, as for caps",
    })
    .option("recipe", {
      choices: RECIPE_NAMES,
      requiresArg: true,
      describe: "the kind of fabric; see tuckline recipes",
    })
    .option("patch", {
      choices: ["none", "silhouette", "circle", "rounded", "shield", "outline"],
      requiresArg: true,
      describe: "make it a patch of this shape with a satin edge; --width is the patch's then",
    })
    .option("sheet-of", {
      type: "string",
      requiresArg: true,
      describe: "copies on one hoop, across and down, as 3x4",
    })
    .option("max-threads", {
      type: "string",
      requiresArg: true,
      describe: "at most so many threads; colours that are near share one",
    })
    .option("settings", { type: "string", requiresArg: true, describe: "read settings from a JSON file" })
    .option("set", {
      type: "string",
      array: true,
      requiresArg: true,
      describe: "one setting, as name=value; may be given again",
    });

/** The table of settings as the end of a help page. A tab begins the second column. */
function settingsHelp(): string {
  const lines = SETTING_NAMES.map((name) => {
    const preset = JSON.stringify(DEFAULT_SETTINGS[name]);
    return `${name} \t${SETTINGS_TABLE[name].help} (${rangeOf(name)}; default ${preset})`;
  });
  return ["Settings, for --settings and --set:", ...lines].join("\n");
}

export interface Request {
  readonly input: Input;
  /** Every file that was read, the artwork first: none of them may be written over. */
  readonly inputs: readonly Input[];
  readonly settings: Settings;
  /** The list to take threads from; undefined where none is given. */
  readonly threads: readonly Thread[] | undefined;
  readonly failOn: Severity;
}

export async function readRequest(values: Values, io: Io): Promise<Request> {
  const artwork = wordIn(values, "artwork");
  refuseSharedInput({
    artwork,
    settings: optionIn(values, "settings"),
    threads: optionIn(values, "threads"),
  });
  const given = await readSettings(values, io);
  const list = await readThreads(values, io);
  const input = await readInput(artwork, io);
  const { file } = given;
  const effective = settingsFrom({ ...given, drawn: withInput(input, settingsInDrawing).values });
  return {
    input,
    inputs: [input, file, list?.file].filter((one) => one !== undefined),
    settings: effective.settings,
    threads: list?.threads,
    failOn: optionIn(values, "fail-on") as Severity,
  };
}

/** What the options give as settings, the file among them, and what holds where no drawing has a say. */
export async function readSettings(
  values: Values,
  io: Io,
): Promise<GivenSettings & { readonly effective: EffectiveSettings }> {
  const name = optionIn(values, "settings");
  const file = name === undefined ? undefined : await readInput(name, io);
  const options = Object.fromEntries(OPTION_NAMES.map((option) => [option, optionIn(values, option)]));
  const given = { file, set: listIn(values, "set"), options };
  return { ...given, effective: settingsFrom(given) };
}

/** The list to take threads from, and its file; undefined where none is given. */
export async function readThreads(
  values: Values,
  io: Io,
): Promise<{ threads: Thread[]; file: Input } | undefined> {
  const name = optionIn(values, "threads");
  if (name === undefined) return undefined;
  const file = await readInput(name, io);
  return { threads: threadsIn(file), file };
}

/** @throws CliError where two inputs are to come from standard input */
export function refuseSharedInput(inputs: Readonly<Record<string, string | undefined>>): void {
  const [one, other] = Object.keys(inputs).filter((name) => inputs[name] === STANDARD);
  if (other !== undefined)
    throw new CliError(
      `tuckline: ${one} and ${other} cannot both come from standard input; name a file for one`,
    );
}

function threadsIn(file: Input): Thread[] {
  try {
    return readThreadList(file.text);
  } catch (error) {
    if (!(error instanceof ThreadListError)) throw error;
    throw new CliError(`${file.shown}:${error.line}: ${error.message}`);
  }
}
