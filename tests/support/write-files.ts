/**
 * A program that writes files as every command does, and nothing else, so that it starts ten times as fast as the
 * whole: `write-files LETTER NAMES…` fills each with so many of that letter.
 */
import { CliError, type Io } from "../../cli/io.ts";
import { targetAt, writeOutputs } from "../../cli/output.ts";

/** Longer than a small file system has room for. */
const LENGTH = 50_000;

const { stdin, stdout, stderr } = process;
const io: Io = { stdin, stdout, stderr, cwd: process.cwd() };
const [letter, ...names] = process.argv.slice(2);
try {
  const targets = await Promise.all(names.map((name) => targetAt(name, { inputs: [], force: false }, io)));
  const bytes = Buffer.from(letter.repeat(LENGTH));
  await writeOutputs(
    targets.map((target) => ({ target, bytes })),
    io,
  );
} catch (error) {
  if (!(error instanceof CliError)) throw error;
  stderr.write(`${error.message}\n`);
  process.exitCode = 2;
}
