/**
 * The extension as a function: what Inkscape says in, a drawing and a word for the artist out. The drawing goes to
 * standard output, and takes the open one's place; without output that stays as it is. What goes to standard error
 * is shown in a window.
 */
import { readFile } from "node:fs/promises";
import { dirname, resolve } from "node:path";
import { CliError, emit, type Io } from "../../../cli/io.ts";
import { refuseSharedTargets, targetAt, writeOutputs } from "../../../cli/output.ts";
import { printable } from "../../../cli/table.ts";
import { ArtworkError } from "../../../core/errors.ts";
import { SettingsError } from "../../../core/settings-schema.ts";
import { ENTRY_FIELD, readArguments } from "./arguments.ts";
import { ENTRIES } from "./entries.ts";
import { type Files, type Outcome, Refusal } from "./entry.ts";
import { valuesOf } from "./fields.ts";
import { REFUSALS, SAYS } from "./texts.ts";

/**
 * @param words what the editor calls the extension with
 * @param documentPath the open drawing's file, where it has one
 * @returns 0 done, 1 nothing was done and the artist is told why; never rejects
 */
export async function runExtension(
  words: readonly string[],
  io: Io,
  documentPath: string | undefined,
): Promise<0 | 1> {
  try {
    const { svg, message, files } = await outcomeOf(words);
    const saved = files === undefined ? undefined : await writeFiles(files, documentPath, io);
    const said = message ?? saved;
    if (svg !== undefined) await emit(io.stdout, svg);
    if (said !== undefined) await emit(io.stderr, `${said}\n`);
    return 0;
  } catch (error) {
    await emit(io.stderr, `Tuckline: ${printable(reasonOf(error))}\n`);
    return 1;
  }
}

async function outcomeOf(words: readonly string[]): Promise<Outcome> {
  const { values, selection, nodes, file } = readArguments(words);
  const entry = ENTRIES.find(({ name }) => name === values[ENTRY_FIELD]);
  if (entry === undefined || file === undefined) throw new Refusal(REFUSALS.noSuchEntry);
  const svg = await readFile(file, "utf8");
  return entry.run({ svg, values: valuesOf(entry.fields, values), selection, nodes });
}

/** Writes all files or none. @returns what the artist is told of it */
async function writeFiles(
  { folder, isTold, files }: Files,
  documentPath: string | undefined,
  io: Io,
): Promise<string | undefined> {
  if (folder === "" && !documentPath) throw new Refusal(REFUSALS.noFolder);
  const beside = documentPath ? dirname(documentPath) : io.cwd;
  const place = { ...io, cwd: resolve(beside, folder) };
  const rules = { inputs: [], force: false };
  const targets = await Promise.all(files.map(({ name }) => targetAt(name, rules, place)));
  refuseSharedTargets(targets);
  await writeOutputs(
    targets.map((target, k) => ({ target, bytes: files[k].bytes })),
    place,
  );
  if (!isTold) return undefined;
  return SAYS.saved(
    files.map(({ name }) => name),
    place.cwd,
  );
}

function reasonOf(error: unknown): string {
  if (error instanceof Refusal || error instanceof ArtworkError || error instanceof SettingsError)
    return error.message;
  if (error instanceof CliError) return error.message.replace(/^tuckline: /, "");
  return SAYS.unexpected(error instanceof Error ? `${error.name}: ${error.message}` : String(error));
}
