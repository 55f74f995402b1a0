/** What `plan` and `check` have in common: the artwork and the settings that it is planned with. */
import type { Argv } from "yargs";
import type { Severity } from "../core/findings.ts";
import { DEFAULT_SETTINGS, type Settings } from "../core/settings.ts";
import { rangeOf, SETTING_NAMES, SETTINGS_TABLE } from "../core/settings-schema.ts";
import { EXIT_CODES, listIn, optionIn, type Values, wordIn } from "./command.ts";
import { SEVERITIES } from "./findings.ts";
import { type Input, readInput } from "./input.ts";
import { CliError, type Io, STANDARD } from "./io.ts";
import { settingsFrom } from "./settings.ts";

export const planningOptions = (yargs: Argv, failOn: Severity): Argv =>
  yargs
    .positional("artwork", {
      type: "string",
      demandOption: true,
      describe: "the drawing: .svg or .svgz; - is standard input",
    })
    .option("width", {
      type: "string",
      requiresArg: true,
      describe: "sewn width in mm; without it the drawing's own size",
    })
    .option("order", {
      choices: ["paint"],
      requiresArg: true,
      describe: "what is painted later is sewn later",
    })
    .option("settings", { type: "string", requiresArg: true, describe: "read settings from a JSON file" })
    .option("set", {
      type: "string",
      array: true,
      requiresArg: true,
      describe: "one setting, as name=value; may be given again",
    })
    .option("fail-on", {
      choices: SEVERITIES,
      requiresArg: true,
      default: failOn,
      describe: "exit with 1 where a finding is this grave",
    })
    .epilogue(`${settingsHelp()}\n\n${EXIT_CODES}`);

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
  readonly failOn: Severity;
}

export async function readRequest(values: Values, io: Io): Promise<Request> {
  const artwork = wordIn(values, "artwork");
  const settingsFile = optionIn(values, "settings");
  if (artwork === STANDARD && settingsFile === STANDARD)
    throw new CliError(
      "tuckline: artwork and settings cannot both come from standard input; name a file for one",
    );
  const file = settingsFile === undefined ? undefined : await readInput(settingsFile, io);
  const settings = settingsFrom({
    file,
    set: listIn(values, "set"),
    width: optionIn(values, "width"),
    order: optionIn(values, "order"),
  });
  const input = await readInput(artwork, io);
  return {
    input,
    inputs: file ? [input, file] : [input],
    settings,
    failOn: optionIn(values, "fail-on") as Severity,
  };
}
