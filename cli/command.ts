/**
 * What a command is: how it is called, its help, its options, and what it does. The values that yargs hands on
 * are read by the functions below, which refuse an option that is given twice.
 */
import type { Argv } from "yargs";
import { CliError, type ExitCode, type Io, STANDARD } from "./io.ts";

export interface Command {
  /** The name and what must follow it: `strip <planned>`. */
  readonly usage: string;
  /** One line of the list of commands. */
  readonly summary: string;
  options(yargs: Argv): Argv;
  /** @throws CliError on bad usage, unreadable input, or outputs that cannot be written */
  run(values: Values, io: Io): Promise<ExitCode>;
}

export type Values = Readonly<Record<string, unknown>>;

/** The value of an option that takes one; undefined where it is not given. */
export function optionIn(values: Values, name: string): string | undefined {
  const value = values[name];
  if (Array.isArray(value)) throw givenTwice(name);
  if (value === "") throw new CliError(`tuckline: --${name} needs a value; give one or leave it out`);
  return value as string | undefined;
}

/** The word that must follow the command. yargs hands on `-` as an empty one; truly empty ones were refused before. */
export const wordIn = (values: Values, name: string): string => (values[name] as string) || STANDARD;

export function flagIn(values: Values, name: string): boolean {
  const value = values[name];
  if (Array.isArray(value)) throw givenTwice(name);
  return value === true;
}

/** The values of an option that may be given again. */
export const listIn = (values: Values, name: string): readonly string[] =>
  (values[name] as readonly string[] | undefined) ?? [];

const givenTwice = (name: string): CliError =>
  new CliError(`tuckline: --${name} is given twice; give it once`);

/** Options of every command that writes a drawing. */
export const drawingOptions = (yargs: Argv, drawing: string, preset: string): Argv =>
  yargs
    .option("out", {
      alias: "o",
      type: "string",
      requiresArg: true,
      describe: `write ${drawing} there; - is standard output. ${preset}`,
    })
    .option("in-place", { type: "boolean", describe: `write ${drawing} over the input` })
    .option("force", { type: "boolean", describe: "replace write-protected outputs too" })
    .option("quiet", { type: "boolean", describe: "print no summary" });

/**
 * Where the drawing is to go: over the input, to what `--out` names, else to `preset`.
 *
 * @throws CliError where the options contradict one another
 */
export function drawingName<Preset>(values: Values, input: string, preset: Preset): string | Preset {
  const out = optionIn(values, "out");
  if (!flagIn(values, "in-place")) return out ?? preset;
  if (out !== undefined)
    throw new CliError("tuckline: --in-place and --out contradict one another; give one of the two");
  if (input === STANDARD)
    throw new CliError("tuckline: standard input cannot be written in place; give --out");
  return input;
}

/**
 * The output's name where none is given: beside the input, `crest.svg` → `crest.planned.svg`, and from a
 * planned drawing `crest.planned.svg` → `crest.stripped.svg`. Standard input goes to standard output.
 */
export const nameBeside = (input: string, what: "planned" | "stripped"): string =>
  input === STANDARD
    ? STANDARD
    : `${input.replace(/\.svgz?$/i, "").replace(/\.(planned|stripped)$/, "")}.${what}.svg`;

export const EXIT_CODES =
  "Exit codes: 0 done, 1 done with findings at or above --fail-on, 2 bad usage or unreadable input.";
