/**
 * A program kept in compiled form. V8, the engine of Node, compiles a function when it is first called; what was
 * compiled in one run can be kept in a file and taken up in the next (`cachedData` of node:vm), which then starts
 * sooner. V8 refuses data of another version of itself, and of other options, but of the program it compares the
 * length alone, and it trusts the data: so the file begins with the SHA-256 of the program and the data together.
 *
 * Where the file is not there, cannot be used or cannot be written, the program runs all the same.
 */
import { createHash } from "node:crypto";
import { readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { Script } from "node:vm";

const HASH_BYTES = 32;

export interface Loaded<Exports> {
  readonly exports: Exports;
  /** Whether what an earlier run had compiled was taken up. */
  readonly isFromCache: boolean;
  /** Keeps what is compiled by now for later runs. */
  keep(): void;
}

/**
 * Loads a CommonJS program.
 *
 * @param program path of its file
 * @param cache path of the file that its compiled form is kept in
 */
export function loadCompiled<Exports>(program: string, cache: string): Loaded<Exports> {
  const text = readFileSync(program, "utf8");
  const cachedData = keptOf(text, cache);
  const script = new Script(`(function (module, exports, require) {${text}\n})`, {
    filename: program,
    ...(cachedData === undefined ? {} : { cachedData }),
  });
  const module = { exports: {} as Exports };
  script.runInThisContext()(module, module.exports, createRequire(program));
  return {
    exports: module.exports,
    isFromCache: cachedData !== undefined && script.cachedDataRejected === false,
    keep() {
      const data = script.createCachedData();
      writeWhole(cache, [hashOf(text, data), data]);
    },
  };
}

const hashOf = (text: string, data: Uint8Array): Buffer =>
  createHash("sha256").update(text).update(data).digest();

function keptOf(text: string, cache: string): Buffer | undefined {
  try {
    const bytes = readFileSync(cache);
    const data = bytes.subarray(HASH_BYTES);
    return bytes.subarray(0, HASH_BYTES).equals(hashOf(text, data)) ? data : undefined;
  } catch {
    return undefined;
  }
}

/** Others that start meanwhile find the file of before or the new one, never a part. */
function writeWhole(path: string, parts: readonly Buffer[]): void {
  const draft = `${path}.${process.pid}`;
  try {
    writeFileSync(draft, Buffer.concat(parts));
    renameSync(draft, path);
  } catch {
    rmSync(draft, { force: true });
  }
}
