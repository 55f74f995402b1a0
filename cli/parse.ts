/** Words into a command to run or a text to show. It runs nothing itself. */
import yargs, { type Argv } from "yargs";
import { nearestName } from "../core/nearest-name.ts";
import { type Command, EXIT_CODES } from "./command.ts";
import { batch } from "./commands/batch.ts";
import { check } from "./commands/check.ts";
import { edit } from "./commands/edit.ts";
import { explain } from "./commands/explain.ts";
import { inspect } from "./commands/inspect.ts";
import { install } from "./commands/install.ts";
import { merge } from "./commands/merge.ts";
import { plan } from "./commands/plan.ts";
import { recipes } from "./commands/recipes.ts";
import { settings } from "./commands/settings.ts";
import { strip } from "./commands/strip.ts";
import { uninstall } from "./commands/uninstall.ts";
import { CliError, type ExitCode, type Io } from "./io.ts";
import { VERSION } from "./version.ts";

type Run = (io: Io) => Promise<ExitCode>;

export type Parsed =
  | { readonly kind: "run"; readonly run: Run }
  | { readonly kind: "show"; readonly text: string }
  /** Nothing was asked for: help is shown, as an error. */
  | { readonly kind: "help"; readonly text: string };

const COMMANDS: readonly Command[] = [
  plan,
  strip,
  inspect,
  check,
  explain,
  edit,
  batch,
  merge,
  recipes,
  settings,
  install,
  uninstall,
];

const USAGE = `Tuckline turns layered SVG artwork into a plan that an embroidery machine can sew without needless stops, and writes that plan back as SVG layers. Lengths are in millimetres.

Usage: $0 <command>`;

/** What yargs would say otherwise; `inOurWords` adds what to do. */
const OWN_WORDS = {
  "Not enough arguments following: %s": 'the option "%s" needs a value',
  "Invalid values:": "this cannot be chosen:",
  "Argument: %s, Given: %s, Choices: %s": "--%s is %s; the choices are %s",
};

/**
 * @param words what follows the program's name
 * @param columns the width that help is wrapped to
 * @throws CliError on unknown commands and options and on missing values
 */
export function parseWords(words: readonly string[], columns: number): Parsed {
  if (words.includes(""))
    throw new CliError("tuckline: one of the arguments is empty; leave it out or give it a value");
  let text = "";
  let failure: string | undefined;
  try {
    grammar(columns, (run) => {
      throw new Chosen(run);
    }).parse(words, (error: Error | undefined | null, _values: unknown, output: string) => {
      text = output;
      failure = error?.message;
    });
  } catch (thrown) {
    if (thrown instanceof Chosen) return { kind: "run", run: thrown.run };
    throw thrown;
  }
  if (words.length === 0) return { kind: "help", text: text.slice(0, text.lastIndexOf("\n\n")) };
  if (failure !== undefined) throw new CliError(`tuckline: ${inOurWords(failure, words, text)}`);
  return { kind: "show", text };
}

/** Thrown out of the parser as soon as a command is known: it would go on to lay out a page of help for nothing. */
class Chosen {
  readonly run: Run;
  constructor(run: Run) {
    this.run = run;
  }
}

function grammar(columns: number, choose: (run: Run) => never): Argv {
  const start = yargs()
    .scriptName("tuckline")
    .usage(USAGE)
    .parserConfiguration({
      "boolean-negation": false,
      "camel-case-expansion": false,
      "dot-notation": false,
      "greedy-arrays": false,
      "parse-numbers": false,
      "parse-positional-numbers": false,
      "short-option-groups": false,
    })
    .exitProcess(false)
    .detectLocale(false)
    .updateStrings(OWN_WORDS)
    .wrap(columns)
    .strict()
    .recommendCommands()
    .demandCommand(1, "name a command")
    .example("$0 plan heron-crest.svg", "write heron-crest.planned.svg beside it")
    .example("$0 plan heron-crest.svg --width 80 -o crest-80.svg", "sewn 80 mm wide")
    .example("$0 edit heron-crest.svg", "draw and plan in the browser")
    .example("$0 check heron-crest.svg", "what to look at before sewing")
    .example("$0 explain heron-crest.svg", "why the machine stops, and what would save a stop")
    .example("$0 batch clipart --out sewn", "plan a whole folder of drawings")
    .example("$0 recipes", "what suits which fabric")
    .example("$0 inspect heron-crest.planned.svg", "its pieces in sewing order")
    .example("$0 strip heron-crest.planned.svg -o heron-crest.svg", "back to the artwork")
    .example("$0 install inkscape", "into the menu of the desktop editor")
    .epilogue(`${EXIT_CODES}\n\nMore about a command: tuckline plan --help`)
    .describe("help", "show this help")
    .version("version", "show the version", VERSION);
  return COMMANDS.reduce(
    (parser, { usage, summary, options, run }) =>
      parser.command(usage, summary, options, (values) => choose((io) => run(values, io))),
    start,
  );
}

const nameOf = ({ usage }: Command): string => usage.split(" ")[0];

/** What yargs says is wrong, in our words, with what to do. `help` is the page of what was understood so far. */
function inOurWords(failure: string, words: readonly string[], help: string): string {
  const names = COMMANDS.map(nameOf);
  const given = words.find((word) => !word.startsWith("-"));
  const see = given !== undefined && names.includes(given) ? `tuckline ${given} --help` : "tuckline --help";
  if (given !== undefined && !names.includes(given)) {
    const near = nearestName(given, names);
    const hint = near === undefined ? `the commands are ${names.join(", ")}` : `did you mean ${near}?`;
    return `there is no command "${given}"; ${hint}`;
  }
  const usage = COMMANDS.find((command) => nameOf(command) === given)?.usage ?? "";
  if (failure.startsWith("Not enough non-option"))
    return `name ${usage.includes("<editor>") ? "an editor" : "a file to work on"}; see ${see}`;
  const [unknown] = /^Unknown arguments?: (.*)$/s.exec(failure)?.[1].split(", ") ?? [];
  if (unknown === undefined) return `${failure.replace(/\s*\n\s*/g, " ")}; see ${see}`;
  if (!isOption(unknown, words)) return `"${unknown}" is one argument too many; see ${see}`;
  const options = [...help.matchAll(/--([a-z][a-z-]*)/g)].map(([, name]) => name);
  const near = nearestName(unknown, options);
  return `there is no option "${unknown}"; ${near === undefined ? `see ${see}` : `did you mean --${near}?`}`;
}

const isOption = (name: string, words: readonly string[]): boolean =>
  words.some((word) => word.startsWith("-") && word.replace(/^--?/, "").split("=")[0] === name);
