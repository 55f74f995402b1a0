/**
 * Reading an input: a file or standard input, plain or gzipped (svgz), as UTF-8, as UTF-16 with a byte order
 * mark, or as ISO-8859-1 where the file declares it. The text keeps its byte order mark, so that encoding it
 * again gives back the same bytes.
 */
import { constants as fsConstants, type Stats } from "node:fs";
import { open, realpath } from "node:fs/promises";
import { basename, resolve } from "node:path";
import { gunzipSync } from "node:zlib";
import { ArtworkError } from "../core/errors.ts";
import { CliError, type Io, STANDARD } from "./io.ts";

/** No drawing comes near this; a gzip bomb of a few kilobytes passes it. */
const MAX_INPUT_BYTES = 64 * 1024 * 1024;

export type Encoding = "utf-8" | "utf-16le" | "utf-16be" | "iso-8859-1";

/** What was read, as it is: text or not. */
export interface RawInput {
  /** As typed, for messages. */
  readonly shown: string;
  /** The file's own name, which goes into the plan: the same wherever the file lies. */
  readonly name: string;
  readonly bytes: Buffer;
  /** The file with links resolved; undefined for standard input. */
  readonly path: string | undefined;
  /** Device and inode: equal for two names of one file. */
  readonly identity: string | undefined;
  /** Another one once the file is written anew. */
  readonly version?: string;
}

export interface Input extends Omit<RawInput, "bytes"> {
  readonly text: string;
  readonly encoding: Encoding;
  readonly gzipped: boolean;
}

/** @throws CliError where the file cannot be read or is no text */
export const readInput = async (shown: string, io: Io): Promise<Input> => inputFrom(await readRaw(shown, io));

/** @throws CliError where the file cannot be read */
export async function readRaw(shown: string, io: Io): Promise<RawInput> {
  if (shown !== STANDARD) return { shown, name: basename(shown), ...(await readFile(shown, io)) };
  const name = "standard input";
  return { shown: name, name, bytes: await readAll(io, name), path: undefined, identity: undefined };
}

/**
 * What the bytes say as text.
 *
 * @throws CliError where they are no text
 */
export function inputFrom({ bytes, ...file }: RawInput): Input {
  const gzipped = bytes[0] === 0x1f && bytes[1] === 0x8b;
  return { ...file, ...decode(gzipped ? gunzip(bytes, file.shown) : bytes, file.shown), gzipped };
}

export const identityOf = (stats: Stats): string => `${stats.dev}:${stats.ino}`;

export const versionOf = (stats: Stats): string => `${identityOf(stats)}:${stats.size}:${stats.mtimeMs}`;

async function readFile(
  shown: string,
  io: Io,
): Promise<{ bytes: Buffer; path: string; identity: string; version: string }> {
  const path = resolve(io.cwd, shown);
  try {
    // Without O_NONBLOCK, opening a named pipe that nobody writes to would wait for ever.
    const file = await open(path, fsConstants.O_RDONLY | (fsConstants.O_NONBLOCK ?? 0));
    try {
      const stats = await file.stat();
      if (stats.isDirectory()) throw new CliError(`${shown}: this is a folder; name a file in it`);
      if (!stats.isFile()) throw new CliError(`${shown}: this is not a file; pipe it in and name it -`);
      if (stats.size > MAX_INPUT_BYTES) throw tooBig(shown);
      const bytes = await file.readFile();
      return { bytes, path: await realpath(path), identity: identityOf(stats), version: versionOf(stats) };
    } finally {
      await file.close();
    }
  } catch (error) {
    throw error instanceof CliError ? error : new CliError(`${shown}: ${whyUnreadable(error)}`);
  }
}

function whyUnreadable(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === "ENOENT" || code === "ENOTDIR") return "there is no such file; check the name and the folder";
  if (code === "EACCES" || code === "EPERM") return "this file may not be read; change its permissions";
  if (code === "EISDIR") return "this is a folder; name a file in it";
  return `it cannot be read (${code ?? (error as Error).message}); check the disk and the name`;
}

async function readAll(io: Io, shown: string): Promise<Buffer> {
  const chunks: Buffer[] = [];
  let size = 0;
  try {
    for await (const chunk of io.stdin) {
      size += chunk.length;
      if (size > MAX_INPUT_BYTES) throw tooBig(shown);
      chunks.push(chunk);
    }
  } catch (error) {
    throw error instanceof CliError ? error : new CliError(`${shown}: ${whyUnreadable(error)}`);
  }
  return Buffer.concat(chunks);
}

function gunzip(bytes: Buffer, shown: string): Buffer {
  try {
    return gunzipSync(bytes, { maxOutputLength: MAX_INPUT_BYTES });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ERR_BUFFER_TOO_LARGE") throw tooBig(shown);
    throw new CliError(`${shown}: its gzip compression is damaged; save the drawing again`);
  }
}

const tooBig = (shown: string): CliError =>
  new CliError(`${shown}: more than ${MAX_INPUT_BYTES / 1024 / 1024} MB; simplify the drawing`);

function decode(bytes: Buffer, shown: string): { text: string; encoding: Encoding } {
  const encoding = markedEncoding(bytes);
  try {
    return { text: new TextDecoder(encoding, { fatal: true, ignoreBOM: true }).decode(bytes), encoding };
  } catch {
    if (declaresLatin1(bytes)) return { text: bytes.toString("latin1"), encoding: "iso-8859-1" };
    const { line, column } = firstBadPlace(bytes, encoding);
    const label = encoding.toUpperCase();
    throw new CliError(`${shown}:${line}:${column}: this is not ${label} text; save the drawing in UTF-8`);
  }
}

/** The encoding by the byte order mark: without one XML is UTF-8 unless it says otherwise (XML 1.0, appendix F). */
function markedEncoding(bytes: Buffer): Encoding {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return "utf-16le";
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return "utf-16be";
  return "utf-8";
}

const declaresLatin1 = (bytes: Buffer): boolean =>
  /^<\?xml[^>]*encoding\s*=\s*["']iso-8859-1["']/i.test(bytes.toString("latin1", 0, 200));

/** Where decoding leniently first puts the replacement character: good enough to find the place by. */
function firstBadPlace(bytes: Buffer, encoding: Encoding): { line: number; column: number } {
  const text = new TextDecoder(encoding, { ignoreBOM: true }).decode(bytes);
  return placeOf(text, Math.max(0, text.indexOf("\ufffd")));
}

/** Line and column, both from 1, of an offset into a text. */
export function placeOf(text: string, offset: number): { line: number; column: number } {
  const before = text.slice(0, offset).split(/\r\n|\r|\n/);
  return { line: before.length, column: before[before.length - 1].length + 1 };
}

/** The bytes of a text in an input's own encoding. */
export function encode(text: string, encoding: Encoding): Buffer {
  if (encoding === "utf-8") return Buffer.from(text, "utf8");
  if (encoding === "iso-8859-1") return Buffer.from(text, "latin1");
  const bytes = Buffer.from(text, "utf16le");
  return encoding === "utf-16le" ? bytes : bytes.swap16();
}

/**
 * Runs a step of core on an input; where core finds nothing to be done with it, says so of this file.
 *
 * @throws CliError `crest.svg:12:5: what is wrong; what to do`
 */
export const withInput = <T>(input: Input, step: (text: string) => T): T =>
  ofFile(input.shown, () => step(input.text));

/** The same for a step that takes no text. */
export function ofFile<T>(shown: string, step: () => T): T {
  try {
    return step();
  } catch (error) {
    if (!(error instanceof ArtworkError)) throw error;
    const place = [shown, error.line, error.column].filter((part) => part !== undefined).join(":");
    throw new CliError(`${place}: ${error.message}`);
  }
}
