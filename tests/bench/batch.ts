/**
 * What a batch costs. Beside its plan a drawing needs its layers, JSON, stitch file, run sheet and thumbnail, all
 * written to disk: how much of its time is that? And the whole set as a user would run it, on two cores: time, peak
 * memory of the process with all its workers, files that are missing.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { planDrawing } from "../../cli/batch/plan-drawing.ts";
import { type BatchRequest, formatsFrom, PRESET_FORMATS } from "../../cli/batch/request.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import {
  DRAWING_SETS,
  type Drawing,
  drawingNames,
  readDrawing,
  spreadNames,
} from "../support/drawing-sets.ts";
import { median, quantile, textTable } from "../support/statistics.ts";

const settings = { ...DEFAULT_SETTINGS, widthMm: 80 };
const request: BatchRequest = {
  settings,
  below: {},
  above: {},
  threads: undefined,
  fit: undefined,
  formats: formatsFrom(PRESET_FORMATS),
  fabricColour: undefined,
};
const SAMPLE = 200;
const WARM_UP = 40;

/** Of each drawing the processor time of its plan alone, and of all that a batch does for it. */
export async function benchBatchFile(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "tuckline-bench-"));
  try {
    const drawings = spreadNames("emoji", SAMPLE).map((name) => readDrawing("emoji", name));
    for (const drawing of drawings.slice(0, WARM_UP)) await timeDrawing(drawing, folder);
    const timings: Timing[] = [];
    for (const drawing of drawings) timings.push(await timeDrawing(drawing, folder));
    printFiles(timings);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

interface Timing {
  readonly planMs: number;
  readonly fileMs: number;
}

async function timeDrawing({ name, text }: Drawing, folder: string): Promise<Timing> {
  const bytes = Buffer.from(text, "utf8");
  const beforePlan = process.cpuUsage();
  makePlan(text, name, settings);
  const planMs = spentSince(beforePlan);
  const beforeFile = process.cpuUsage();
  const result = await planDrawing({ shown: name, fileName: name, bytes }, request);
  if (result.status !== "planned") throw new Error(`${name}: ${result.message}`);
  for (const [format, output] of Object.entries(result.files.outputs))
    writeFileSync(join(folder, format), output);
  writeFileSync(join(folder, "thumbnail"), result.files.thumbnail);
  return { planMs, fileMs: spentSince(beforeFile) };
}

function spentSince(before: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

function printFiles(timings: readonly Timing[]): void {
  const row = (label: string, values: readonly number[], bar = "") => [
    label,
    median(values).toFixed(2),
    quantile(values, 0.95).toFixed(2),
    bar,
  ];
  const plans = timings.map(({ planMs }) => planMs);
  const files = timings.map(({ fileMs }) => fileMs);
  console.log(
    `\n${timings.length} emoji at ${settings.widthMm} mm as ${request.formats.join(", ")} and thumbnail\n`,
  );
  console.log(
    textTable([
      ["processor time of a drawing", "median", "95 %", "bar"],
      row("its plan, ms", plans),
      row("its plan and its files, ms", files),
      row(
        "files / plan",
        timings.map(({ planMs, fileMs }) => fileMs / planMs),
        "2 (median)",
      ),
    ]),
  );
}

const BARS = { seconds: 360, mb: 1000 };

/** The whole set by the command itself, as `tuckline batch --jobs 2` runs it. */
export function benchBatchWhole(): void {
  const out = mkdtempSync(join(tmpdir(), "tuckline-bench-"));
  try {
    const start = performance.now();
    const { status, stderr, output } = spawnSync(
      process.execPath,
      [
        `--import=${new URL("./tell-peak.js", import.meta.url).href}`,
        fileURLToPath(new URL("../../bin/tuckline.js", import.meta.url)),
        "batch",
        join(DRAWING_SETS.emoji.folder?.() ?? "", "*.svg"),
        `--out=${out}`,
        `--width=${settings.widthMm}`,
        "--jobs=2",
        `--formats=${PRESET_FORMATS}`,
      ],
      { encoding: "utf8", stdio: ["ignore", "ignore", "pipe", "pipe"] },
    );
    if (status !== 0) throw new Error(stderr);
    const seconds = (performance.now() - start) / 1000;
    const drawings = drawingNames("emoji").length;
    const written = readdirSync(join(out, "plans")).length;
    console.log(`\nThe whole set, ${drawings} emoji, by batch --jobs 2\n`);
    console.log(
      textTable([
        ["measure", "value", "bar"],
        ["files written", String(written), String(drawings * request.formats.length)],
        ["time", `${seconds.toFixed(0)} s`, `${BARS.seconds} s`],
        ["peak memory in all", `${(Number(output[3]) / 1024).toFixed(0)} MB`, `${BARS.mb} MB`],
      ]),
    );
  } finally {
    rmSync(out, { recursive: true });
  }
}
