/**
 * Plans every emoji at 80 mm, one after the other, in a process that does nothing else, and prints one line of
 * JSON: times in milliseconds and the peak memory in megabytes. `main.ts` runs it.
 */
import { tuneEngine } from "../../cli/engine.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { drawingNames, readDrawing } from "../support/drawing-sets.ts";

export interface WholeSet {
  readonly times: readonly number[];
  readonly slowest: string;
  readonly peakMb: number;
}

// As the command line has it.
tuneEngine();

const settings = { ...DEFAULT_SETTINGS, widthMm: 80 };
const timings = drawingNames("emoji").map((name) => {
  const { text } = readDrawing("emoji", name);
  const start = performance.now();
  makePlan(text, name, settings);
  return { name, ms: performance.now() - start };
});
const slowest = timings.reduce((a, b) => (b.ms > a.ms ? b : a));
const result: WholeSet = {
  times: timings.map(({ ms }) => ms),
  slowest: slowest.name,
  peakMb: process.resourceUsage().maxRSS / 1024,
};
process.stdout.write(JSON.stringify(result));
