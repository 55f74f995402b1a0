/**
 * The drawings that a session of the editor may touch: files whose names end in `.svg`, directly in one folder.
 * No path leads out of it, neither by `..` nor by a link.
 *
 * A version of a file is known by the SHA-256 of its bytes. Whoever writes says which version was read (or that
 * there was none), and nothing is written where the disk holds another. Writes wait for one another, so that of
 * two with the same version only the first is done.
 */
import { createHash } from "node:crypto";
import { lstat, readdir, realpath, stat } from "node:fs/promises";
import { basename, dirname, join, sep } from "node:path";
import { encode, inputFrom, readRaw } from "../input.ts";
import { CliError, type Io } from "../io.ts";
import { ChangedError, targetAt, writeOutputs } from "../output.ts";

export interface DrawingFile {
  readonly name: string;
  readonly text: string;
  readonly version: string;
}

export interface DrawingEntry {
  readonly name: string;
  readonly bytes: number;
  /** Milliseconds since 1970. */
  readonly modified: number;
}

export type Written =
  | { readonly kind: "written"; readonly version: string }
  /** The disk holds another version than the one that was read; `null`: the file is gone. */
  | { readonly kind: "changed"; readonly version: string | null };

/** A name that this folder has no drawing for. */
export class NameError extends CliError {}

/** More than this are not offered. */
const MOST_LISTED = 500;
const LONGEST_NAME = 200;

export class DrawingFolder {
  readonly path: string;
  readonly #io: Io;
  #lastWrite: Promise<unknown> = Promise.resolve();

  private constructor(path: string, io: Io) {
    this.path = path;
    this.#io = { ...io, cwd: path };
  }

  /** @throws CliError where there is no such folder */
  static async at(path: string, io: Io): Promise<DrawingFolder> {
    const real = await realpath(path).catch(() => {
      throw new CliError(`${path}: there is no such folder; name another`);
    });
    return new DrawingFolder(real, io);
  }

  /** Newest first. */
  async list(): Promise<DrawingEntry[]> {
    const entries: DrawingEntry[] = [];
    for (const name of await readdir(this.path).catch(() => [])) {
      if (whyNoName(name) !== undefined) continue;
      const found = await this.#inside(name)
        .then((path) => stat(path))
        .catch(() => undefined);
      if (found?.isFile()) entries.push({ name, bytes: found.size, modified: Math.round(found.mtimeMs) });
    }
    return entries
      .sort((a, b) => b.modified - a.modified || (a.name < b.name ? -1 : 1))
      .slice(0, MOST_LISTED);
  }

  /** @throws NameError for a name that is none of this folder's; CliError where the file cannot be read */
  async read(name: string): Promise<DrawingFile> {
    await this.#inside(name);
    const raw = await readRaw(name, this.#io);
    return { name, text: inputFrom(raw).text, version: versionOf(raw.bytes) };
  }

  /**
   * @param read the version that was read; `null`: there is to be no such file
   * @throws NameError for a name that is none of this folder's; CliError where it cannot be written
   */
  write(name: string, text: string, read: string | null): Promise<Written> {
    const write = this.#lastWrite.then(() => this.#writeNow(name, text, read));
    this.#lastWrite = write.catch(() => undefined);
    return write;
  }

  /** Resolves when nothing is being written any more. */
  async settled(): Promise<void> {
    await this.#lastWrite;
  }

  async #writeNow(name: string, text: string, read: string | null): Promise<Written> {
    await this.#inside(name);
    const before = await this.#onDisk(name);
    if ((before?.version ?? null) !== read) return { kind: "changed", version: before?.version ?? null };
    const bytes = encode(
      before?.encoding === "iso-8859-1" ? inLatin1(text) : text,
      before?.encoding ?? "utf-8",
    );
    const rules = { inputs: [], force: false, expected: before?.file ?? null };
    const target = await targetAt(name, rules, this.#io);
    try {
      await writeOutputs([{ target, bytes }], this.#io);
      return { kind: "written", version: versionOf(bytes) };
    } catch (error) {
      if (!(error instanceof ChangedError)) throw error;
      return { kind: "changed", version: (await this.#onDisk(name))?.version ?? null };
    }
  }

  async #onDisk(name: string) {
    if (await isMissing(join(this.path, name))) return undefined;
    const raw = await readRaw(name, this.#io);
    return { version: versionOf(raw.bytes), file: raw.version, encoding: inputFrom(raw).encoding };
  }

  /** The file's path, once it is sure that it lies in the folder. */
  async #inside(name: string): Promise<string> {
    const why = whyNoName(name);
    if (why !== undefined) throw new NameError(`${name}: ${why}`);
    const path = join(this.path, name);
    if (await isMissing(path)) return path;
    const real = await realpath(path).catch(() => undefined);
    if (real === undefined || dirname(real) !== this.path)
      throw new NameError(`${name}: this link leads out of the folder; open the file where it lies`);
    return path;
  }
}

/** Why a name is no drawing's; undefined where it may be one. */
export function whyNoName(name: string): string | undefined {
  if (name !== basename(name) || name.includes(sep) || /[/\\:\0]/.test(name))
    return "this is a path; give a name without folders";
  if (name.startsWith(".")) return "this name begins with a dot; choose another";
  if (!/\.svg$/i.test(name)) return "only drawings are opened and saved here; end the name in .svg";
  if (Buffer.byteLength(name) > LONGEST_NAME) return "this name is too long; choose a shorter one";
  return undefined;
}

const versionOf = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

const isMissing = (path: string): Promise<boolean> =>
  lstat(path).then(
    () => false,
    (error: NodeJS.ErrnoException) => error.code === "ENOENT",
  );

/** What ISO-8859-1 has no byte for becomes a reference, which reads as the same character. */
const inLatin1 = (text: string): string =>
  text.replace(/[^\0-\xff]/gu, (character) => `&#${character.codePointAt(0)};`);
