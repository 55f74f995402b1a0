/**
 * The desktop editor's menu: the installed plugin plans the crest, as the editor starts it, from the start of its
 * program to the finished drawing. Runs after the first, which keeps what it compiled; a rest before each, since an
 * artist looks at a plan before the next.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { packageRoot } from "../../cli/package-root.ts";
import { median, textTable } from "../support/statistics.ts";

const RUNS = 15;
const REST_MS = 1500;
const CREST = join(packageRoot(), "fixtures", "heron-crest.svg");
const COMMAND = join(packageRoot(), "build", "bin", "tuckline.js");

/** Prints how long a plan from the menu takes, and how much of that is the start of Node. */
export async function benchMenu(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "tuckline-menu-"));
  try {
    timeOf(process.execPath, [COMMAND, "install", "inkscape", "--to", folder]);
    const plan = () => timeOf("sh", [join(folder, "tuckline", "tuckline.sh"), "--entry=plan", CREST]);
    const start = () => timeOf(process.execPath, ["-e", "0"]);
    for (let k = 0; k < 2; k++) plan();
    const times: { whole: number; start: number }[] = [];
    for (let k = 0; k < RUNS; k++) {
      await setTimeout(REST_MS);
      times.push({ whole: plan(), start: start() });
    }
    const row = (label: string, of: readonly number[], bar: string) => [
      label,
      ...[Math.min(...of), median(of), Math.max(...of)].map((ms) => `${ms.toFixed(0)} ms`),
      bar,
    ];
    console.log(`\nThe crest planned from the desktop editor's menu, ${RUNS} times\n`);
    console.log(
      textTable([
        ["from its start to the planned drawing", "least", "median", "worst", "bar"],
        row(
          "whole",
          times.map(({ whole }) => whole),
          "",
        ),
        row(
          "  Node's start, with nothing to run",
          times.map((time) => time.start),
          "",
        ),
        row(
          "  our own time",
          times.map((time) => time.whole - time.start),
          "1500 ms",
        ),
      ]),
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function timeOf(command: string, args: readonly string[]): number {
  const start = performance.now();
  const { status, stderr } = spawnSync(command, args, { encoding: "utf8", maxBuffer: 2 ** 28 });
  if (status !== 0) throw new Error(stderr);
  return performance.now() - start;
}
