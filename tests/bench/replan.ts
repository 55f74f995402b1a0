/**
 * Planning again after a small change, with what is remembered of the plan before: one marker moved, and one shape
 * moved, where the drawing is read anew too. Time is given as the clock has it and as the processor spent it.
 */
import { NO_MARKS, type Pin } from "../../core/artwork/types.ts";
import { createMemory } from "../../core/memory.ts";
import { planArtwork, readDrawing } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { fanOfFeathers } from "../support/fans.ts";
import { median, quantile, textTable } from "../support/statistics.ts";

const CHANGES = 60;

interface Times {
  readonly what: string;
  readonly bar: string;
  readonly ms: readonly number[];
  readonly cpuMs: readonly number[];
}

/** Prints how long it takes on fans of 50 to 300 feathers. */
export function benchReplan(): void {
  const rows = [
    markerMoved(50, "60 ms"),
    markerMoved(200, "50 ms"),
    markerMoved(300, "150 ms"),
    shapeMoved(50, "60 ms"),
    shapeMoved(300, "150 ms"),
  ];
  console.log("\nPlanning again after one change\n");
  const figures = (times: readonly number[]) => [median(times).toFixed(1), quantile(times, 0.95).toFixed(1)];
  console.log(
    textTable([
      ["change", "ms, median", "95 %", "processor ms, median", "95 %", "bar at 95 %"],
      ...rows.map(({ what, bar, ms, cpuMs }) => [what, ...figures(ms), ...figures(cpuMs), bar]),
    ]),
  );
}

function markerMoved(count: number, bar: string): Times {
  const { artwork } = readDrawing(fanOfFeathers(count), "fan.svg", DEFAULT_SETTINGS);
  const memory = createMemory();
  const { pieces } = planArtwork(artwork, NO_MARKS, DEFAULT_SETTINGS, [], memory);
  return timeChanges(`${count} pieces, a marker moved`, bar, count, (k) => {
    const { id, exit } = pieces[k];
    const pins: Pin[] = [{ piece: id, point: "exit", at: [exit[0] + 0.6, exit[1] - 0.4] }];
    planArtwork(artwork, { ...NO_MARKS, pins }, DEFAULT_SETTINGS, [], memory);
  });
}

function shapeMoved(count: number, bar: string): Times {
  const text = fanOfFeathers(count);
  const memory = createMemory();
  const plan = (svgText: string) => {
    const { artwork, marks } = readDrawing(svgText, "fan.svg", DEFAULT_SETTINGS);
    planArtwork(artwork, marks, DEFAULT_SETTINGS, [], memory);
  };
  plan(text);
  return timeChanges(`${count} pieces, a shape moved`, bar, count, (k) => {
    const start = `id="feather-${k + 1}" transform="`;
    plan(text.replace(start, `${start}translate(0.3 0.2) `));
  });
}

function timeChanges(what: string, bar: string, count: number, change: (k: number) => void): Times {
  const times = Array.from({ length: CHANGES }, (_, n) => {
    const before = process.cpuUsage();
    const start = performance.now();
    change((n * 37) % count);
    const ms = performance.now() - start;
    const { user, system } = process.cpuUsage(before);
    return { ms, cpuMs: (user + system) / 1000 };
  });
  return { what, bar, ms: times.map(({ ms }) => ms), cpuMs: times.map(({ cpuMs }) => cpuMs) };
}
