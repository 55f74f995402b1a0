/**
 * Writing outputs: all of them whole, or none at all. Every file is first written beside its place and flushed
 * to the disk; only when all are there do they take their places, each by one rename. If one of those fails,
 * those before it are put back. A signal that asks for the end meanwhile waits for it.
 *
 * A target is where an output goes. It is looked at before anything is planned, so that a wrong name costs no
 * time.
 */
import { constants as fsConstants, type Stats } from "node:fs";
import {
  copyFile,
  link,
  mkdir,
  open,
  realpath,
  rename,
  rmdir,
  stat,
  unlink,
  writeFile,
} from "node:fs/promises";
import { dirname, extname, join, resolve } from "node:path";
import { gzipSync } from "node:zlib";
import { encode, type Input, identityOf, versionOf } from "./input.ts";
import { CliError, emit, type Io, STANDARD } from "./io.ts";
import { printable } from "./table.ts";

export interface Target {
  /** As typed, for messages. */
  readonly shown: string;
  /** Where it lies, links resolved; undefined for standard output. */
  readonly path: string | undefined;
  /** What lies there now. */
  readonly existing: Stats | undefined;
  /** What must lie there still when it is replaced: a version, or `null` for nothing at all. */
  readonly expected?: string | null | undefined;
}

export interface TargetRules {
  /** Files that are kept. */
  readonly inputs: readonly Pick<Input, "identity">[];
  /** Replace a write-protected file. */
  readonly force: boolean;
  /** The version of the file that was read and is written over; `null`: there was no such file, nor may there be. */
  readonly expected?: string | null | undefined;
}

/** A file is another one than was read: its message says so of itself. */
export class ChangedError extends CliError {}

export interface Output {
  readonly target: Target;
  readonly bytes: Uint8Array;
}

/** @throws CliError where an output must not or cannot go there */
export async function targetAt(shown: string, rules: TargetRules, io: Io): Promise<Target> {
  if (shown === STANDARD) return { shown: "standard output", path: undefined, existing: undefined };
  const named = resolve(io.cwd, shown);
  const existing = await statOf(named, shown);
  // A link stays a link: what it points to is replaced. A pipe has no path of its own.
  const path = existing?.isFile() ? await realpath(named) : named;
  if (existing?.isDirectory()) throw new CliError(`${shown}: this is a folder; name a file in it`);
  const isInput =
    existing !== undefined && rules.inputs.some((input) => input.identity === identityOf(existing));
  if (isInput)
    throw new CliError(
      `${shown}: this is an input, and inputs are kept; name another output or say --in-place`,
    );
  if (existing?.isFile() && (existing.mode & 0o222) === 0 && !rules.force)
    throw new CliError(`${shown}: this file is write-protected; name another output or say --force`);
  return { shown, path, existing, expected: rules.expected };
}

/** @throws CliError where two outputs have one target */
export function refuseSharedTargets(targets: readonly Target[]): void {
  const seen = new Set<string | undefined>();
  for (const { path, shown } of targets) {
    if (seen.has(path))
      throw new CliError(`${shown}: two outputs cannot go to one place; name another for one of them`);
    seen.add(path);
  }
}

async function statOf(path: string, shown: string): Promise<Stats | undefined> {
  try {
    return await stat(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOENT") return undefined;
    throw new CliError(`${shown}: ${whyUnwritable(error)}`);
  }
}

/**
 * Files are written beside their places; then what is passed on (standard output, devices) is sent, which
 * cannot be taken back; then the files take their places. A folder that is missing is made.
 *
 * @throws CliError where one cannot be written; then every file is as it was before
 */
export async function writeOutputs(outputs: readonly Output[], io: Io): Promise<void> {
  const uncut = io.uncut ?? ((step) => step());
  return uncut(() => writeAll(outputs, io));
}

async function writeAll(outputs: readonly Output[], io: Io): Promise<void> {
  const files = outputs.filter(({ target }) => isFile(target));
  const staged: Staged[] = [];
  const folders: string[] = [];
  try {
    for (const output of files) staged.push(await stage(output, folders));
    for (const output of outputs) if (!isFile(output.target)) await passOn(output, io);
    await putInPlace(staged);
  } catch (error) {
    for (const { temporary } of staged) await unlink(temporary).catch(ignore);
    for (const folder of folders.reverse()) await rmdir(folder).catch(ignore);
    throw error;
  }
}

/** A device or a pipe (/dev/null) is written to, never replaced by a file. */
const isFile = ({ path, existing }: Target): boolean =>
  path !== undefined && (existing === undefined || existing.isFile());

async function passOn({ target, bytes }: Output, io: Io): Promise<void> {
  if (target.path === undefined) return emit(io.stdout, bytes);
  await attempt(target, writeFile(target.path, bytes));
}

/** A file that is written but not yet in its place. */
interface Staged {
  readonly target: Target;
  readonly path: string;
  readonly temporary: string;
}

async function stage({ target, bytes }: Output, folders: string[]): Promise<Staged> {
  const path = target.path as string;
  await attempt(target, makeFolder(dirname(path), folders));
  const temporary = beside(path, "part");
  try {
    await attempt(target, writeWhole(temporary, bytes, target.existing?.mode));
  } catch (error) {
    await unlink(temporary).catch(ignore);
    throw error;
  }
  return { target, path, temporary };
}

async function writeWhole(path: string, bytes: Uint8Array, mode: number | undefined): Promise<void> {
  const file = await open(path, "wx");
  try {
    await file.writeFile(bytes);
    if (mode !== undefined) await file.chmod(mode & 0o777);
    await file.sync();
  } finally {
    await file.close();
  }
}

/**
 * Makes a folder and those above it; those made are added to `folders`, outermost first. One by one: Node's
 * recursive mkdir never ends in a folder that forbids making any with ENOENT, as those of the kernel do.
 */
async function makeFolder(folder: string, folders: string[]): Promise<void> {
  const missing: string[] = [];
  for (let each = folder; !(await exists(each)); each = dirname(each)) missing.push(each);
  for (const each of missing.reverse()) {
    await mkdir(each);
    folders.push(each);
  }
}

const exists = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

/** Every temporary file takes its place; where one fails, those before it are put back. */
async function putInPlace(staged: readonly Staged[]): Promise<void> {
  const undo: { readonly old: string; readonly run: () => Promise<void> }[] = [];
  const kept = new Set<string>();
  try {
    for (const each of staged) {
      const { target, path } = each;
      await requireUnchanged(each);
      // One alone either takes its place or does not: nothing to put back.
      if (staged.length > 1) {
        const old = beside(path, "old");
        const isKept = await attempt(target, keepCopy(path, old));
        if (isKept) kept.add(old);
        undo.push({ old, run: () => (isKept ? rename(old, path) : unlink(path)) });
      }
      await takePlace(each).catch((error) => {
        undo.pop();
        throw error;
      });
    }
  } catch (error) {
    // What cannot be put back stays beside its place.
    for (const { old, run } of undo.reverse()) await run().catch(() => kept.delete(old));
    throw error;
  } finally {
    for (const old of kept) await unlink(old).catch(ignore);
  }
}

/** @throws ChangedError where another program has written the file since it was read */
async function requireUnchanged({ target, path }: Staged): Promise<void> {
  const { expected, shown } = target;
  if (expected === undefined) return;
  const now = await statOf(path, shown);
  if ((now === undefined ? null : versionOf(now)) !== expected) throw changed(shown);
}

const changed = (shown: string): ChangedError =>
  new ChangedError(`${shown}: another program has changed it since it was read; do this again`);

/** Where there is to be no such file, by a second name, which never replaces one; else by a rename. */
async function takePlace({ target, path, temporary }: Staged): Promise<void> {
  if (target.expected === null) {
    try {
      await link(temporary, path);
      return await unlink(temporary).catch(ignore);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === "EEXIST") throw changed(target.shown);
      // The file system knows no second names.
    }
  }
  await attempt(target, rename(temporary, path));
}

/**
 * A second name for the file; a copy where the file system knows no second names.
 *
 * @returns whether there is such a file
 */
async function keepCopy(path: string, old: string): Promise<boolean> {
  try {
    await link(path, old).catch(() => copyFile(path, old, fsConstants.COPYFILE_EXCL));
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return false;
    throw error;
  }
}

/** Unique in this process by the count, among processes by the process, among machines by chance. */
let temporaries = 0;
const beside = (path: string, what: string): string =>
  join(dirname(path), `.tuckline-${process.pid}-${++temporaries}.${what}`);

const ignore = (): void => undefined;

async function attempt<T>(target: Target, step: Promise<T>): Promise<T> {
  try {
    return await step;
  } catch (error) {
    throw new CliError(`${target.shown}: ${whyUnwritable(error)}`);
  }
}

export function whyUnwritable(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === "EACCES" || code === "EPERM" || code === "EROFS")
    return "this folder may not be written to; name an output elsewhere";
  if (code === "ENOTDIR" || code === "EEXIST")
    return "a part of this path is a file, not a folder; name an output elsewhere";
  if (code === "ENAMETOOLONG") return "this name is too long; choose a shorter one";
  if (code === "EFBIG") return "it is larger than files may be here; name an output elsewhere";
  if (code === "ENOSPC" || code === "EDQUOT") return "the disk is full; make room and try again";
  return `it cannot be written (${code ?? (error as Error).message}); check the disk and the name`;
}

/** More names than this are not told one by one. */
const MOST_NAMED = 8;

/** `Written: crest.svg, crest.json`; of a long sequence the first names and the last. */
export function written(targets: readonly Target[]): string {
  const names = targets.map(({ shown }) => printable(shown));
  const told = names.length > MOST_NAMED ? [...names.slice(0, 3), "…", ...names.slice(-1)] : names;
  return `Written: ${told.join(", ")}`;
}

/** A drawing's bytes in the encoding that it came in; gzipped where the output's name or the input it replaces is. */
export function drawingBytes(svgText: string, target: Target, input: Input): Uint8Array {
  const bytes = encode(svgText, input.encoding);
  const replacesInput = target.path !== undefined && target.path === input.path;
  const gzip = replacesInput ? input.gzipped : extname(target.path ?? "").toLowerCase() === ".svgz";
  return gzip ? gzipSync(bytes) : bytes;
}
