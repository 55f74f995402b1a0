/**
 * How planning grows with the number of pieces: fans of overlapping feathers, and rows of overlapping scales in one
 * colour and in two. Each size is planned in a process of its own, so that its peak memory is its own. Time is
 * given twice: as the clock has it, and as the processor spent it, which other work on the machine hardly changes.
 *
 * Run by itself with a kind and a count, it plans that and prints one line of JSON.
 */
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { tuneEngine } from "../../cli/engine.ts";
import { readArtwork } from "../../core/artwork/read.ts";
import { NO_MARKS } from "../../core/artwork/types.ts";
import { planArtwork } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { fanOfFeathers } from "../support/fans.ts";
import { rowsOfScales } from "../support/scales.ts";
import { textTable } from "../support/statistics.ts";

const KINDS: Readonly<Record<string, (count: number) => string>> = {
  "fan of feathers": fanOfFeathers,
  "scales, one colour": (count) => rowsOfScales(count, 1),
  "scales, rows of two colours": (count) => rowsOfScales(count, 2),
};
/** Planned first, so that the compiler has seen the code. */
const WARM_UP = 200;

interface Grown {
  readonly ms: number;
  readonly cpuMs: number;
  readonly strands: number;
  readonly bound: number;
  readonly peakMb: number;
}

/** Plans every kind at every size and prints a table of each. */
export function benchGrowth(counts: readonly number[]): void {
  for (const kind of Object.keys(KINDS)) {
    const rows = counts.map((count) => ({ count, ...planApart(kind, count) }));
    console.log(`\nGrowth: ${kind} (bars: 5,000 under 10 s, n^1.2 from size to size, 1000 MB)\n`);
    console.log(
      textTable([
        ["pieces", "ms", "processor ms", "strands", "bound", "growth", "peak MB"],
        ...rows.map((row, k) => [
          String(row.count),
          row.ms.toFixed(0),
          row.cpuMs.toFixed(0),
          String(row.strands),
          String(row.bound),
          k === 0 ? "" : `n^${exponent(rows[k - 1], row).toFixed(2)}`,
          row.peakMb.toFixed(0),
        ]),
      ]),
    );
  }
}

/** The power of the count with which processor time grows. */
const exponent = (a: Grown & { count: number }, b: Grown & { count: number }): number =>
  Math.log(b.cpuMs / a.cpuMs) / Math.log(b.count / a.count);

function planApart(kind: string, count: number): Grown {
  const { stdout, stderr, status } = spawnSync(
    process.execPath,
    [fileURLToPath(new URL("./growth.js", import.meta.url)), kind, String(count)],
    { encoding: "utf8" },
  );
  if (status !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as Grown;
}

function planOnce(text: string): Grown {
  const before = process.cpuUsage();
  const start = performance.now();
  const { metrics } = planArtwork(
    readArtwork(text, "growth.svg", DEFAULT_SETTINGS),
    NO_MARKS,
    DEFAULT_SETTINGS,
  );
  const ms = performance.now() - start;
  const { user, system } = process.cpuUsage(before);
  return {
    ms,
    cpuMs: (user + system) / 1000,
    strands: metrics.strands,
    bound: metrics.strandsLowerBound,
    peakMb: process.resourceUsage().maxRSS / 1024,
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  // As the command line has it.
  tuneEngine();
  const [kind, count] = process.argv.slice(2);
  planOnce(KINDS[kind](WARM_UP));
  process.stdout.write(JSON.stringify(planOnce(KINDS[kind](Number(count)))));
}
