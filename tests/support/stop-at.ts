/**
 * Loaded before the program (`--import`): sends it TUCKLINE_SIGNAL at the step of writing that TUCKLINE_STOP_AT
 * counts to. A step is a file that is written (half of it, then), linked, renamed or taken away. SIGKILL comes
 * before the step is done; after any other signal the step is done, as it would be.
 */
import promises, { type FileHandle } from "node:fs/promises";
import { syncBuiltinESMExports } from "node:module";

const stopAt = Number(process.env.TUCKLINE_STOP_AT);
const signal = process.env.TUCKLINE_SIGNAL ?? "SIGKILL";
let steps = 0;

function step(): void {
  if (++steps !== stopAt) return;
  process.kill(process.pid, signal);
  // SIGKILL comes at once; nothing more may happen until it does.
  while (signal === "SIGKILL");
}

const { open, link, rename, unlink } = promises;
promises.open = (async (path: string, flags: string, ...rest) => {
  const file = await open(path, flags, ...rest);
  if (flags !== "wx") return file;
  const { writeFile } = file;
  file.writeFile = (async (bytes: Uint8Array) => {
    if (steps + 1 === stopAt) await file.write(bytes.subarray(0, bytes.length >> 1), 0, bytes.length >> 1, 0);
    step();
    await file.truncate(0);
    return writeFile.call(file, bytes);
  }) as FileHandle["writeFile"];
  return file;
}) as typeof open;
promises.link = async (from, to) => {
  step();
  return link(from, to);
};
promises.rename = async (from, to) => {
  step();
  return rename(from, to);
};
promises.unlink = async (path) => {
  step();
  return unlink(path);
};
syncBuiltinESMExports();
