/** Judges the cases that it is told, one at a time, where a hang can be ended from outside. */
import { parentPort } from "node:worker_threads";
import { judge } from "./judge.ts";
import { fuzzCase } from "./mutate.ts";

parentPort?.on("message", (seed: number) => {
  parentPort?.postMessage(judge(fuzzCase(seed)));
});
