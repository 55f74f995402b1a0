/**
 * `npm run bench -- --compare`: is planning as fast as it was at the last release?
 *
 * Machines differ, and so does what else they do. So nothing is held against seconds: every measure is a ratio to a
 * reference workload in the same run, which is drawing the same emoji with resvg and tidying them with svgo, neither
 * of which is ours. All is counted in processor time. They take turns, round by round, in several processes one after
 * the other, since what the engine chooses to compile differs from one to the next; and the least time of each counts,
 * since what else a machine does only adds to it. `baseline.json` keeps the ratios of the last release; `--renew`
 * writes it anew.
 */
import { Resvg } from "@resvg/resvg-js";
import { optimize } from "svgo";
import { readArtwork } from "../../core/artwork/read.ts";
import { NO_MARKS, type Pin } from "../../core/artwork/types.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { createMemory } from "../../core/memory.ts";
import { serialisePlan } from "../../core/output/json.ts";
import { makePlan, planArtwork, readDrawing } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { readDrawing as readEmoji, spreadNames } from "../support/drawing-sets.ts";
import { fanOfFeathers } from "../support/fans.ts";
import { rowsOfScales } from "../support/scales.ts";
import { textTable } from "../support/statistics.ts";

/** Ratios to the reference workload by the name of the measure. */
export type Ratios = Readonly<Record<string, number>>;

/** Processor time in milliseconds by the name of the measure, the reference among them. */
export type Times = Readonly<Record<string, number>>;

export interface Baseline {
  /** The version whose figures these are. */
  readonly release: string;
  readonly ratios: Ratios;
}

export interface Comparison {
  readonly measure: string;
  /** `null` where one of the two did not measure it. */
  readonly was: number | null;
  readonly now: number | null;
  readonly verdict: "kept" | "faster" | "slower" | "new" | "no longer measured";
}

/** More than this share slower is a regression; less than that is within what runs differ by. */
export const ALLOWED_SLOWER = 0.25;

/** Measure by measure. What the baseline has and this run has not is a failure too, else a slow one could go. */
export function compareRatios(was: Ratios, now: Ratios): Comparison[] {
  const measures = [...new Set([...Object.keys(was), ...Object.keys(now)])];
  return measures.map((measure) => ({
    measure,
    was: was[measure] ?? null,
    now: now[measure] ?? null,
    verdict: verdictOf(was[measure], now[measure]),
  }));
}

function verdictOf(was: number | undefined, now: number | undefined): Comparison["verdict"] {
  if (was === undefined) return "new";
  if (now === undefined) return "no longer measured";
  if (now > was * (1 + ALLOWED_SLOWER)) return "slower";
  return now * (1 + ALLOWED_SLOWER) < was ? "faster" : "kept";
}

export const isRegression = ({ verdict }: Comparison): boolean =>
  verdict === "slower" || verdict === "no longer measured";

/** The comparison as a table for people. */
export const comparisonTable = (comparisons: readonly Comparison[], release: string): string =>
  textTable([
    ["measure, as a ratio", release, "now", "change", ""],
    ...comparisons.map(({ measure, was, now, verdict }) => [
      measure,
      was?.toFixed(2) ?? "",
      now?.toFixed(2) ?? "",
      was === null || now === null ? "" : `${now < was ? "" : "+"}${(100 * (now / was - 1)).toFixed(0)} %`,
      verdict,
    ]),
  ]);

const REFERENCE = "reference";
/** The first warms up. */
const ROUNDS = 9;
const DRAWINGS = 12;
const SETTINGS = { ...DEFAULT_SETTINGS, widthMm: 80 };

/** The least of each measure in several runs, as a ratio to the least of the reference. */
export function ratiosOf(runs: readonly Times[]): Ratios {
  const least = (measure: string): number => Math.min(...runs.map((times) => times[measure]));
  const measures = Object.keys(runs[0]).filter((measure) => measure !== REFERENCE);
  return Object.fromEntries(
    measures.map((measure) => [measure, Number((least(measure) / least(REFERENCE)).toFixed(3))]),
  );
}

/** The least times in this process: some twenty seconds of work on a machine that does nothing else. */
export function measureTimes(): Times {
  const drawings = spreadNames("emoji", DRAWINGS).map((name) => readEmoji("emoji", name));
  const reference = () => {
    for (const { text } of drawings) {
      new Resvg(text, { fitTo: { mode: "width", value: 512 } }).render();
      optimize(text);
    }
  };
  const measures = Object.entries({ [REFERENCE]: reference, ...measuresOf(drawings) });
  const least = new Map(measures.map(([name]) => [name, Number.POSITIVE_INFINITY]));
  for (let round = 0; round < ROUNDS; round++) {
    for (const [name, measure] of measures) {
      least.set(name, Math.min(least.get(name) as number, processorMs(measure)));
    }
  }
  return Object.fromEntries(least);
}

/** What an artist waits for, each a fixed amount of work. */
function measuresOf(
  drawings: readonly { name: string; text: string }[],
): Readonly<Record<string, () => void>> {
  const plans = drawings.map(({ name, text }) => ({ text, plan: makePlan(text, name, SETTINGS) }));
  const fan = fanOfFeathers(100);
  const scales = rowsOfScales(200, 2);
  return {
    "12 emoji read, four times": () => {
      for (let k = 0; k < 4; k++) for (const { name, text } of drawings) readArtwork(text, name, SETTINGS);
    },
    "12 emoji planned": () => {
      for (const { name, text } of drawings) makePlan(text, name, SETTINGS);
    },
    "12 plans written as layers, four times": () => {
      for (let k = 0; k < 4; k++) for (const { text, plan } of plans) writeLayers(text, plan);
    },
    "12 plans written as JSON, four times": () => {
      for (let k = 0; k < 4; k++) for (const { plan } of plans) serialisePlan(plan);
    },
    "12 emoji planned in the best order": () => {
      for (const { name, text } of drawings) makePlan(text, name, { ...SETTINGS, order: "regroup" });
    },
    "fan of 100 feathers": () => void makePlan(fan, "fan.svg", DEFAULT_SETTINGS),
    "200 scales in two colours": () => void makePlan(scales, "scales.svg", DEFAULT_SETTINGS),
    "10 markers moved among 100 feathers": markersMoved(fan),
  };
}

function markersMoved(text: string): () => void {
  const { artwork } = readDrawing(text, "fan.svg", DEFAULT_SETTINGS);
  return () => {
    const memory = createMemory();
    const { pieces } = planArtwork(artwork, NO_MARKS, DEFAULT_SETTINGS, [], memory);
    for (let k = 0; k < 10; k++) {
      const { id, exit } = pieces[(k * 37) % pieces.length];
      const pins: Pin[] = [{ piece: id, point: "exit", at: [exit[0] + 0.6, exit[1] - 0.4] }];
      planArtwork(artwork, { ...NO_MARKS, pins }, DEFAULT_SETTINGS, [], memory);
    }
  };
}

function processorMs(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}
