/**
 * `npm run corpus -- --set emoji --order regroup`: the best legal order held against paint order. A legal order never
 * has more blocks or strands, and the sew-out looks the same: pixel by pixel, the thread on top has the same colour.
 */
import { setImmediate } from "node:timers/promises";
import { ArtworkError } from "../../core/errors.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import type { Plan } from "../../core/plan/types.ts";
import type { Settings } from "../../core/settings.ts";
import { shareDifferent } from "../support/colour-picture.ts";
import { readDrawing } from "../support/drawing-sets.ts";
import { median, quantile, textTable } from "../support/statistics.ts";

/** More pixels than this that differ are listed. */
const MOST_DIFFERENT = 0.001;

interface Regrouped {
  readonly name: string;
  readonly paint: Plan["metrics"];
  readonly best: Plan["metrics"];
  /** The share of the picture's pixels that differ. */
  readonly different: number;
  readonly paintMs: number;
  readonly bestMs: number;
}

/** Plans every drawing in both orders and prints a table. Whether all that must hold does. */
export async function checkRegroup(
  set: string,
  names: readonly string[],
  settings: Settings,
): Promise<boolean> {
  const found: Regrouped[] = [];
  for (const name of names) {
    const regrouped = tryBoth(name, readDrawing(set, name).text, settings);
    if (regrouped !== null) found.push(regrouped);
    await setImmediate();
  }
  const more = found.filter(({ paint, best }) => best.blocks > paint.blocks || best.strands > paint.strands);
  const atBound = found.filter(({ best }) => best.blocks === best.blocksLowerBound);
  const alike = found.filter(({ different }) => different <= MOST_DIFFERENT);
  const sum = (pick: (one: Regrouped) => number) => found.reduce((total, one) => total + pick(one), 0);
  const share = (part: number) => `${((100 * part) / Math.max(1, found.length)).toFixed(1)} %`;
  const differences = found.map(({ different }) => different);
  const percent = (part: number) => `${(100 * part).toFixed(3)} %`;
  const ms = (pick: (one: Regrouped) => number) =>
    `${median(found.map(pick)).toFixed(1)}, ${quantile(found.map(pick), 0.95).toFixed(1)} ms`;
  console.log(`\nSet ${set} regrouped: ${names.length} drawings at ${settings.widthMm} mm\n`);
  console.log(
    textTable([
      ["measure", "value", "bar"],
      ["planned in both orders", String(found.length), ""],
      ["more blocks or strands than in paint order", String(more.length), "0"],
      ["blocks equal to the lower bound", share(atBound.length), ">= 95 %"],
      ["blocks, paint -> regroup", `${sum((o) => o.paint.blocks)} -> ${sum((o) => o.best.blocks)}`, ""],
      ["  lower bound", String(sum((o) => o.best.blocksLowerBound)), ""],
      ["strands, paint -> regroup", `${sum((o) => o.paint.strands)} -> ${sum((o) => o.best.strands)}`, ""],
      ["  lower bound", String(sum((o) => o.best.strandsLowerBound)), ""],
      ["pixels that differ, mean", percent(sum((o) => o.different) / Math.max(1, found.length)), ""],
      ["pixels that differ, worst", percent(Math.max(0, ...differences)), "<= 0.1 %"],
      ["drawings with at most 0.1 % different", share(alike.length), "100 %"],
      ["time in paint order, median and 95 %", ms((o) => o.paintMs), ""],
      ["time regrouped, median and 95 %", ms((o) => o.bestMs), ""],
    ]),
  );
  for (const { name, paint, best } of more)
    console.log(
      `  ${name}: blocks ${paint.blocks} -> ${best.blocks}, strands ${paint.strands} -> ${best.strands}`,
    );
  for (const { name, different } of found
    .filter((one) => one.different > MOST_DIFFERENT)
    .sort((a, b) => b.different - a.different)
    .slice(0, 20))
    console.log(`  ${name}: ${percent(different)} of the pixels differ`);
  return more.length === 0 && alike.length === found.length;
}

function tryBoth(name: string, text: string, settings: Settings): Regrouped | null {
  try {
    const [paint, paintMs] = timed(() => makePlan(text, name, { ...settings, order: "paint" }));
    const [best, bestMs] = timed(() => makePlan(text, name, { ...settings, order: "regroup" }));
    return {
      name,
      paint: paint.metrics,
      best: best.metrics,
      different: shareDifferent(paint, best),
      paintMs,
      bestMs,
    };
  } catch (error) {
    if (error instanceof ArtworkError) return null;
    throw error;
  }
}

function timed<T>(work: () => T): [T, number] {
  const start = performance.now();
  return [work(), performance.now() - start];
}
