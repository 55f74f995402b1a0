/** What Inkscape starts: the program beside it, in compiled form from its second plan on. */
import { join } from "node:path";
import { loadCompiled } from "../../../cli/compiled.ts";
import { tuneEngine } from "../../../cli/engine.ts";
import { ENTRY_FIELD, readArguments } from "./arguments.ts";
import { CACHE, PROGRAM } from "./program.ts";
import type { runExtension } from "./run.ts";

/** The entry that comes to most of the program. */
const FULLEST = "plan";

tuneEngine();

const io = { stdin: process.stdin, stdout: process.stdout, stderr: process.stderr, cwd: process.cwd() };
for (const stream of [io.stdout, io.stderr]) stream.on("error", () => undefined);

const words = process.argv.slice(2);
const program = loadCompiled<{ runExtension: typeof runExtension }>(
  join(__dirname, PROGRAM),
  join(__dirname, CACHE),
);
program.exports.runExtension(words, io, process.env.DOCUMENT_PATH).then((code) => {
  process.exitCode = code;
  if (code === 0 && !program.isFromCache && readArguments(words).values[ENTRY_FIELD] === FULLEST)
    program.keep();
});
