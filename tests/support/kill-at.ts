/**
 * Loaded before the program (`--import`): ends it by SIGKILL at the step of writing that TUCKLINE_KILL_AT counts to.
 * A step is a file that is written, of which then only half is, or a file that is renamed, which then is not.
 */
import { writeFileSync } from "node:fs";
import promises from "node:fs/promises";
import { syncBuiltinESMExports } from "node:module";

const killAt = Number(process.env.TUCKLINE_KILL_AT);
let steps = 0;
const isLast = (): boolean => ++steps === killAt;

function die(): never {
  process.kill(process.pid, "SIGKILL");
  // The signal comes at once; nothing more may happen until it does.
  for (;;);
}

const { writeFile, rename } = promises;
promises.writeFile = ((path: string, bytes: Uint8Array) => {
  if (!isLast()) return writeFile(path, bytes);
  writeFileSync(path, bytes.subarray(0, bytes.length >> 1));
  return die();
}) as typeof writeFile;
promises.rename = ((from: string, to: string) => (isLast() ? die() : rename(from, to))) as typeof rename;
syncBuiltinESMExports();
