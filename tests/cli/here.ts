/** A folder of its own for each test, and the command line run in it. */
import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Readable, Writable } from "node:stream";
import { afterEach, beforeEach } from "vitest";
import { run } from "../../cli/run.ts";

export interface Ran {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

export interface Here {
  /** The folder, as it is for the current test. */
  readonly folder: string;
  /** Runs the words of a command line, split at spaces. */
  run(words: string, options?: { stdin?: string | Uint8Array; debug?: boolean }): Promise<Ran>;
  write(name: string, content: string | Uint8Array): Promise<void>;
  bytes(name: string): Promise<Buffer>;
  text(name: string): Promise<string>;
  files(): Promise<string[]>;
}

/** To be called at the top of a test file. */
export function here(): Here {
  let folder = "";
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), "tuckline-"));
  });
  afterEach(() => rm(folder, { recursive: true, force: true }));
  const at = (name: string) => join(folder, name);

  return {
    get folder() {
      return folder;
    },
    async run(words, { stdin = "", debug = false } = {}) {
      const out = collector();
      const err = collector();
      const io = {
        stdin: Readable.from([Buffer.from(stdin)]),
        stdout: out.stream,
        stderr: err.stream,
        cwd: folder,
        debug,
      };
      const code = await run(words === "" ? [] : words.split(" "), io);
      return { code, stdout: out.text(), stderr: err.text() };
    },
    write: (name, content) => writeFile(at(name), content),
    bytes: (name) => readFile(at(name)),
    text: (name) => readFile(at(name), "utf8"),
    files: async () => (await readdir(folder)).sort(),
  };
}

function collector(): { stream: Writable; text(): string } {
  const chunks: Buffer[] = [];
  const stream = new Writable({
    write(chunk, _encoding, done) {
      chunks.push(Buffer.from(chunk));
      done();
    },
  });
  return { stream, text: () => Buffer.concat(chunks).toString() };
}
