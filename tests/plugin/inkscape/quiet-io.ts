/** Streams for what is run inside a test: nothing to read, and what is written is kept. */
import { Readable, Writable } from "node:stream";
import type { Io } from "../../../cli/io.ts";

export interface KeptIo extends Io {
  readonly said: { readonly out: string; readonly err: string };
}

export function quietIo(cwd: string): KeptIo {
  const said = { out: "", err: "" };
  const keep = (name: "out" | "err"): Writable =>
    new Writable({
      write(chunk, _encoding, done) {
        said[name] += chunk;
        done();
      },
    });
  return { stdin: Readable.from([]), stdout: keep("out"), stderr: keep("err"), cwd, said };
}
