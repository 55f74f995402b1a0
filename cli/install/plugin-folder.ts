/**
 * A plugin's own folder in an editor's folder of extensions: put there, replaced by another version, taken away.
 * A list in it names every file that was put there; nothing else is ever removed, and a folder without that list is
 * somebody else's and is left alone.
 */
import { chmod, readdir, readFile, rm, rmdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { CliError, type Io } from "../io.ts";
import { type Output, targetAt, whyUnwritable, writeOutputs } from "../output.ts";

/** The list, by its own name. */
const LIST = "installed.json";

export interface PluginFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly isExecutable?: boolean;
}

/** What a plugin's folder holds. */
export interface Installed {
  readonly version: string;
  /** Names of files, the list's own left out. */
  readonly files: readonly string[];
}

/**
 * Puts the files there, in place of those of an earlier version: all of them whole, or none. The list is written
 * with them, and what only the earlier version had goes last.
 *
 * @returns what was there before; null where nothing was
 * @throws CliError where the folder is not ours, or cannot be written
 */
export async function putPlugin(
  folder: string,
  files: readonly PluginFile[],
  version: string,
  io: Io,
): Promise<Installed | null> {
  const before = await installedIn(folder);
  if (before === null && (await namesIn(folder)).length > 0)
    throw new CliError(
      `${folder}: this folder holds files that Tuckline did not put there; move them away, or give another with --to`,
    );
  const names = files.map(({ name }) => name);
  // The list names the earlier files too, so that none is forgotten if this ends half way.
  const kept = before === null ? [] : before.files.filter((name) => !names.includes(name));
  const outputs: Output[] = [];
  for (const { name, bytes } of [...files, listFile({ version, files: [...names, ...kept] })])
    outputs.push({
      target: await targetAt(name, { inputs: [], force: true }, { ...io, cwd: folder }),
      bytes,
    });
  await writeOutputs(outputs, io);
  await attempt(folder, async () => {
    for (const { name, isExecutable } of files) if (isExecutable) await chmod(join(folder, name), 0o755);
    for (const name of kept) await rm(join(folder, name), { force: true });
  });
  if (kept.length > 0) {
    const { name, bytes } = listFile({ version, files: names });
    const target = await targetAt(name, { inputs: [], force: true }, { ...io, cwd: folder });
    await writeOutputs([{ target, bytes }], io);
  }
  return before;
}

/**
 * Removes what was put there, and the folder if nothing else is in it.
 *
 * @returns what it was, and what is still there; null where nothing was put there
 * @throws CliError where a file cannot be removed
 */
export async function takePlugin(
  folder: string,
): Promise<{ readonly was: Installed; readonly left: readonly string[] } | null> {
  const was = await installedIn(folder);
  if (was === null) return null;
  return attempt(folder, async () => {
    // The list goes last: what was begun can be ended.
    for (const name of [...was.files, LIST]) await rm(join(folder, name), { force: true });
    const left = await namesIn(folder);
    if (left.length === 0) await rmdir(folder);
    return { was, left };
  });
}

const listFile = (installed: Installed): PluginFile => ({
  name: LIST,
  bytes: Buffer.from(`${JSON.stringify(installed, null, 2)}\n`, "utf8"),
});

/** What the list in a folder says; null where there is none, or one that is not ours. */
async function installedIn(folder: string): Promise<Installed | null> {
  let read: Partial<Installed>;
  try {
    read = JSON.parse(await readFile(join(folder, LIST), "utf8"));
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOENT" || code === "ENOTDIR" || error instanceof SyntaxError) return null;
    throw new CliError(`${join(folder, LIST)}: it cannot be read (${code}); check its permissions`);
  }
  const { version, files } = read ?? {};
  return typeof version === "string" && Array.isArray(files) && files.every(isPlainName)
    ? { version, files }
    : null;
}

/** A name that stays in its folder, whoever wrote the list. */
const isPlainName = (name: unknown): name is string =>
  typeof name === "string" && /^[\w-]+(\.[\w-]+)*$/.test(name);

/** Every name in a folder; none where there is no such folder. */
async function namesIn(folder: string): Promise<string[]> {
  const found = await stat(folder).catch(() => null);
  if (found === null) return [];
  if (!found.isDirectory())
    throw new CliError(`${folder}: this is a file, not a folder; give another with --to`);
  return readdir(folder);
}

async function attempt<T>(folder: string, step: () => Promise<T>): Promise<T> {
  try {
    return await step();
  } catch (error) {
    if (error instanceof CliError) throw error;
    throw new CliError(`${folder}: ${whyUnwritable(error)}`);
  }
}
