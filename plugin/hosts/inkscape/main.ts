/** What Inkscape starts. */
import { runExtension } from "./run.ts";

const io = { stdin: process.stdin, stdout: process.stdout, stderr: process.stderr, cwd: process.cwd() };
for (const stream of [io.stdout, io.stderr]) stream.on("error", () => undefined);

runExtension(process.argv.slice(2), io, process.env.DOCUMENT_PATH).then((code) => {
  process.exitCode = code;
});
