/**
 * `npm run bench`: how long planning takes, and against what.
 *
 *     npm run bench                    every emoji for time and memory; 200 of them by stage and against svgo
 *                                      and resvg in the same run; feathers and scales for growth; planning again
 *     npm run bench -- growth          only feathers and scales
 *     npm run bench -- replan          only planning again
 *     npm run bench -- batch           a drawing's files against its plan; the whole set by the batch command
 *     npm run bench -- panel           the browser editor's panel, in Chromium
 *     npm run bench -- menu            the crest from the desktop editor's menu
 *     npm run bench -- sequence F.sop  the ordering solver on instance files
 *     npm run bench -- --compare       as fast as the last release? exits with 1 where it is not
 *     npm run bench -- --renew         keeps the figures of today for the releases to come
 *
 * Of the 200, each is planned once to warm up and then timed. The checksum is over plans: it changes when one
 * of them does.
 */
import { spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import { Resvg } from "@resvg/resvg-js";
import { optimize } from "svgo";
import { tuneEngine } from "../../cli/engine.ts";
import { packageRoot } from "../../cli/package-root.ts";
import { VERSION } from "../../cli/version.ts";
import { readArtwork } from "../../core/artwork/read.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { serialisePlan } from "../../core/output/json.ts";
import { makePlan, sequenceOf } from "../../core/plan/make-plan.ts";
import { routeSequence } from "../../core/routing/route.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { stitcherFor } from "../../core/techniques/stitcher.ts";
import { type Drawing, readDrawing, spreadNames } from "../support/drawing-sets.ts";
import { median, quantile, textTable } from "../support/statistics.ts";
import { benchBatchFile, benchBatchWhole } from "./batch.ts";
import {
  ALLOWED_SLOWER,
  type Baseline,
  compareRatios,
  comparisonTable,
  isRegression,
  measureTimes,
  type Ratios,
  ratiosOf,
  type Times,
} from "./compare.ts";
import { benchGrowth } from "./growth.ts";
import { benchMenu } from "./menu.ts";
import { benchReplan } from "./replan.ts";
import { benchSequence } from "./sequence.ts";
import type { WholeSet } from "./whole-set.ts";

const settings = { ...DEFAULT_SETTINGS, widthMm: 80 };
const WARM_UP = 40;
const GROWTH = [200, 800, 3200, 5000];

function timed<T>(work: () => T): { ms: number; result: T } {
  const start = performance.now();
  const result = work();
  return { ms: performance.now() - start, result };
}

interface Timing {
  readonly name: string;
  readonly read: number;
  readonly order: number;
  readonly layOut: number;
  readonly route: number;
  readonly whole: number;
  readonly write: number;
  readonly svgo: number;
  readonly resvg: number;
}

function timeDrawing({ name, text }: Drawing): Timing {
  const whole = timed(() => makePlan(text, name, settings));
  const read = timed(() => readArtwork(text, name, settings));
  const order = timed(() => sequenceOf(read.result, settings).sequence);
  const sequence = order.result;
  const layOut = timed(() => sequence.pieces.map((piece) => stitcherFor(piece, settings)));
  const route = timed(() => routeSequence(sequence, layOut.result, [], settings));
  const write = timed(() => writeLayers(text, whole.result));
  return {
    name,
    read: read.ms,
    order: order.ms,
    layOut: layOut.ms,
    route: route.ms,
    whole: whole.ms,
    write: write.ms,
    svgo: timed(() => optimize(text)).ms,
    resvg: timed(() => new Resvg(text, { fitTo: { mode: "width", value: 512 } }).render()).ms,
  };
}

function benchEmoji(names: readonly string[]): void {
  const drawings = names.map((name) => readDrawing("emoji", name));
  for (const drawing of drawings.slice(0, WARM_UP)) timeDrawing(drawing);
  const timings = drawings.map(timeDrawing);
  const column = (pick: (t: Timing) => number) => timings.map(pick);
  const total = (pick: (t: Timing) => number) => column(pick).reduce((a, b) => a + b, 0);
  const share = (pick: (t: Timing) => number) =>
    `${((100 * total(pick)) / total((t) => t.whole)).toFixed(0)} %`;
  const row = (label: string, pick: (t: Timing) => number, note: string) => [
    label,
    median(column(pick)).toFixed(2),
    quantile(column(pick), 0.95).toFixed(2),
    Math.max(...column(pick)).toFixed(1),
    note,
  ];
  const rest = (t: Timing) => Math.max(0, t.whole - t.read - t.order - t.layOut - t.route);
  console.log(`\n${timings.length} emoji at ${settings.widthMm} mm, one core, in milliseconds\n`);
  console.log(
    textTable([
      ["stage", "median", "95 %", "worst", "of plan"],
      row("whole plan", (t) => t.whole, ""),
      row(
        "  read",
        (t) => t.read,
        share((t) => t.read),
      ),
      row(
        "  choose techniques, order, seams",
        (t) => t.order,
        share((t) => t.order),
      ),
      row(
        "  lay out techniques",
        (t) => t.layOut,
        share((t) => t.layOut),
      ),
      row(
        "  route",
        (t) => t.route,
        share((t) => t.route),
      ),
      row("  stitch, measure, findings", rest, share(rest)),
      row(
        "write layers (beyond the plan)",
        (t) => t.write,
        share((t) => t.write),
      ),
      row("svgo", (t) => t.svgo, ""),
      row("resvg, 512 px", (t) => t.resvg, ""),
    ]),
  );
  const ratio = (pick: (t: Timing) => number) => (total((t) => t.whole) / total(pick)).toFixed(1);
  console.log(`\nplan / svgo: ${ratio((t) => t.svgo)}   plan / resvg at 512 px: ${ratio((t) => t.resvg)}`);
  const bytes = drawings.slice(0, 50).map(({ text, name }) => serialisePlan(makePlan(text, name, settings)));
  console.log(`checksum of the first ${bytes.length} plans: ${checksum(bytes.join(""))}`);
}

const checksum = (text: string): string => bytesToHex(sha256(new TextEncoder().encode(text))).slice(0, 16);

/** The whole set in a process of its own, so that time and memory are those of planning alone. */
function benchWholeSet(): void {
  const { stdout, stderr, status } = spawnSync(
    process.execPath,
    [fileURLToPath(new URL("./whole-set.js", import.meta.url))],
    { encoding: "utf8", maxBuffer: 2 ** 26 },
  );
  if (status !== 0) throw new Error(stderr);
  const { times, slowest, peakMb } = JSON.parse(stdout) as WholeSet;
  console.log(`\n${times.length} emoji at ${settings.widthMm} mm, planned one after the other on one core\n`);
  console.log(
    textTable([
      ["measure", "value", "bar"],
      ["whole plan, median", `${median(times).toFixed(1)} ms`, "60 ms"],
      ["whole plan, 95 %", `${quantile(times, 0.95).toFixed(1)} ms`, ""],
      [`whole plan, worst (${slowest})`, `${Math.max(...times).toFixed(0)} ms`, "2000 ms"],
      ["peak memory", `${peakMb.toFixed(0)} MB`, "400 MB"],
    ]),
  );
}

/** So many processes are measured one after the other. */
const PROCESSES = 3;

/** Each tells its times to this one, which measures nothing itself. */
function measureRatios(): Ratios {
  const runs = Array.from({ length: PROCESSES }, (): Times => {
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      [fileURLToPath(import.meta.url), "--times"],
      { encoding: "utf8" },
    );
    if (status !== 0) throw new Error(stderr);
    return JSON.parse(stdout);
  });
  return ratiosOf(runs);
}

const BASELINE = join(packageRoot(), "tests", "bench", "baseline.json");

function renewBaseline(): void {
  const baseline: Baseline = { release: VERSION, ratios: measureRatios() };
  writeFileSync(BASELINE, `${JSON.stringify(baseline, null, 2)}\n`);
  console.log(`The figures of ${VERSION} are kept.`);
}

function compareWithBaseline(): void {
  const { release, ratios } = JSON.parse(readFileSync(BASELINE, "utf8")) as Baseline;
  const comparisons = compareRatios(ratios, measureRatios());
  console.log(comparisonTable(comparisons, release));
  const worse = comparisons.filter(isRegression);
  const most = `${100 * ALLOWED_SLOWER} %`;
  console.log(
    worse.length === 0
      ? `\nSpeed kept: nothing is more than ${most} slower.`
      : `\nSpeed lost: ${worse.length} of ${comparisons.length} more than ${most} slower, or gone.`,
  );
  if (worse.length > 0) process.exitCode = 1;
}

const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: { compare: { type: "boolean" }, renew: { type: "boolean" }, times: { type: "boolean" } },
});
// As the command line has it; but ratios are steadier where the engine compiles all that it can.
if (!values.times) tuneEngine();
if (values.times) {
  // One of the processes that `--compare` and `--renew` start.
  console.log(JSON.stringify(measureTimes()));
} else if (values.renew) {
  renewBaseline();
} else if (values.compare) {
  compareWithBaseline();
} else if (positionals[0] === "sequence") {
  benchSequence(positionals.slice(1));
} else if (positionals[0] === "panel") {
  // It looks into a page, and so is written against a browser's types: it runs from its source.
  spawnSync("npx", ["tsx", "tests/plugin/bench/panel.ts"], { stdio: "inherit" });
} else if (positionals[0] === "menu") {
  await benchMenu();
} else if (positionals[0] === "batch") {
  await benchBatchFile();
  benchBatchWhole();
} else if (positionals[0] === "replan") {
  benchReplan();
} else if (positionals[0] === "growth") {
  benchGrowth(GROWTH);
} else {
  benchWholeSet();
  benchEmoji(spreadNames("emoji", 200));
  benchGrowth(GROWTH);
  benchReplan();
}
