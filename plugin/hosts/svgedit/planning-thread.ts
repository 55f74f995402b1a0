/**
 * The planner on a thread of the local server, which has the first plan of a drawing under way while the browser
 * still starts. It is kept in compiled form from the first picture on.
 */
import { join } from "node:path";
import { parentPort } from "node:worker_threads";
import { loadCompiled } from "../../../cli/compiled.ts";
import type { Asked, answerInBytes } from "./planning-program.ts";

const program = loadCompiled<{ answerInBytes: typeof answerInBytes }>(
  join(__dirname, "planning-program.cjs"),
  join(__dirname, "planning-program.cache"),
);
let isKept = program.isFromCache;

parentPort?.on("message", ({ id, request }: { readonly id: number; readonly request: Asked }) => {
  const bytes = program.exports.answerInBytes(request);
  parentPort?.postMessage({ id, bytes }, bytes === null ? [] : [bytes.buffer]);
  if (isKept || bytes === null || request.kind !== "look") return;
  isKept = true;
  program.keep();
});
