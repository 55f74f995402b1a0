/**
 * How far a batch is. On a terminal one line is drawn over and over; elsewhere, in a log, a new line is written now
 * and then. The rate is that of the last half minute, so that drawings which an earlier run has done, and which go
 * by at once, do not promise too much.
 */
import type { Io } from "../io.ts";
import { count, duration, printable } from "../table.ts";

export interface Progress {
  /** One drawing more is done. */
  step(outcome: "planned" | "kept" | "failed"): void;
  /** A line to read, set above the bar. */
  say(line: string): void;
  close(): void;
}

const REDRAW_MS = 100;
const LOG_LINE_MS = 10_000;
const RATE_WINDOW_MS = 30_000;
/** The first drawings wait for the workers to start: they promise too little. */
const LEAST_FOR_RATE = 5;
const BAR_WIDTH = 24;
/** Where the terminal does not say how wide it is, or says 0. */
const PRESET_COLUMNS = 80;

/** Back to the line's start, and erase to its end (ECMA-48, 8.3.41). */
const ERASE = "\r\u001b[K";

/**
 * @param now milliseconds of any clock that only goes forward
 * @param quiet only what is said is shown
 */
export function showProgress(
  stream: Io["stderr"],
  total: number,
  now: () => number,
  quiet = false,
): Progress {
  const isTerminal = stream.isTTY === true && !quiet;
  const every = isTerminal ? REDRAW_MS : LOG_LINE_MS;
  const tally = { planned: 0, kept: 0, failed: 0 };
  let told = now();
  let drawn = false;
  let samples = [{ at: now(), done: 0 }];

  const done = (): number => tally.planned + tally.kept + tally.failed;

  const show = (): void => {
    told = now();
    // The newest sample that is older than the window is where the rate is taken from.
    const from = samples.findLastIndex(({ at }) => told - at >= RATE_WINDOW_MS);
    samples = [...samples.slice(Math.max(0, from)), { at: told, done: done() }];
    const line = progressLine(tally, total, rateOf(samples));
    if (isTerminal)
      stream.write(`${ERASE}${[...line].slice(0, (stream.columns || PRESET_COLUMNS) - 1).join("")}`);
    else stream.write(`${line.slice(BAR_WIDTH + 3)}\n`);
    drawn = isTerminal;
  };

  return {
    step(outcome) {
      tally[outcome]++;
      if (!quiet && now() - told >= every) show();
    },
    say(line) {
      stream.write(`${drawn ? ERASE : ""}${printable(line)}\n`);
      drawn = false;
      if (isTerminal) show();
    },
    close() {
      if (drawn) stream.write(ERASE);
      drawn = false;
    },
  };
}

/** Drawings a second between the first sample and the last; 0 where that cannot be told yet. */
function rateOf(samples: readonly { at: number; done: number }[]): number {
  const [first, last] = [samples[0], samples[samples.length - 1]];
  return last.done - first.done >= LEAST_FOR_RATE && last.at > first.at
    ? ((last.done - first.done) / (last.at - first.at)) * 1000
    : 0;
}

/** `[####····] 1,234 of 3,720 · 12.3 a second · 3 min 20 s left · 2 failed`. */
function progressLine(
  { planned, kept, failed }: Readonly<Record<"planned" | "kept" | "failed", number>>,
  total: number,
  rate: number,
): string {
  const done = planned + kept + failed;
  const filled = Math.floor((BAR_WIDTH * done) / Math.max(1, total));
  const parts = [`${count(done)} of ${count(total)}`];
  if (rate > 0) {
    parts.push(`${rate < 10 ? rate.toFixed(1) : count(rate)} a second`);
    parts.push(`${duration((total - done) / rate)} left`);
  }
  if (kept > 0) parts.push(`${count(kept)} done before`);
  if (failed > 0) parts.push(`${count(failed)} failed`);
  return `[${"#".repeat(filled)}${"·".repeat(BAR_WIDTH - filled)}] ${parts.join(" · ")}`;
}
