/** A whole batch: every drawing read, planned by a worker, and stored; what was done before is left as it is. */
import { createHash } from "node:crypto";
import { readRaw } from "../input.ts";
import { CliError, type Io } from "../io.ts";
import type { BatchDrawing } from "./drawings.ts";
import { clearDrawing, clearParts, entryDone, type Origin, storeDrawing } from "./folder.ts";
import { type DrawingBytes, type DrawingResult, unforeseen } from "./plan-drawing.ts";
import { type Outcome, openPool, type Pool } from "./pool.ts";
import type { Progress } from "./progress.ts";
import type { FailedEntry, ReportEntry } from "./report.ts";
import { type BatchRequest, digestOf } from "./request.ts";

export interface BatchOptions {
  /** Output folder, absolute. */
  readonly folder: string;
  readonly threads: number;
  readonly secondsPerDrawing: number;
  /** Plan again what is done already. */
  readonly redo: boolean;
  /** Another worker than the planner; its result is a `DrawingResult`. */
  readonly worker?: URL;
}

/** This file's own ending: `.ts` where it runs from source, `.js` where it is built. */
const WORKER = new URL(`./worker${import.meta.url.slice(import.meta.url.lastIndexOf("."))}`, import.meta.url);

/** So many drawings a thread are read, waiting or being stored at a time: no thread waits for the disk. */
const LANES_PER_THREAD = 2;

export interface BatchDone {
  /** One for each drawing, in their order. */
  readonly entries: readonly ReportEntry[];
  /** How many of them an earlier run had planned. */
  readonly kept: number;
}

/** Never rejects for what is wrong with a drawing. */
export async function runBatch(
  drawings: readonly BatchDrawing[],
  request: BatchRequest,
  options: BatchOptions,
  progress: Progress,
  io: Io,
): Promise<BatchDone> {
  const { folder, threads, secondsPerDrawing, redo, worker = WORKER } = options;
  const settings = digestOf(request);
  await clearParts(folder, drawings);
  // Made when the first drawing needs it: where all is done before, no thread is.
  let pool: Pool<DrawingBytes, DrawingResult> | undefined;
  const planners = () => {
    pool ??= openPool({
      worker,
      threads: Math.min(threads, drawings.length),
      secondsPerJob: secondsPerDrawing,
      data: request,
    });
    return pool;
  };

  let kept = 0;
  const workOff = async (drawing: BatchDrawing): Promise<ReportEntry> => {
    const raw = await readRaw(drawing.shown, io);
    const origin: Origin = { drawing: createHash("sha256").update(raw.bytes).digest("hex"), settings };
    const before = redo ? undefined : await entryDone(folder, drawing, origin);
    if (before !== undefined) {
      kept++;
      progress.step("kept");
      return before;
    }
    const outcome = await planners().run({ shown: drawing.shown, fileName: raw.name, bytes: raw.bytes });
    if (outcome.kind !== "result" || outcome.result.status === "failed") {
      // What an earlier run made of another drawing or with other settings must not be taken for this one's.
      await clearDrawing(folder, drawing).catch(() => undefined);
      throw new CliError(whyNotPlanned(outcome, secondsPerDrawing));
    }
    const { facts, files } = outcome.result;
    const entry = await storeDrawing(folder, drawing, origin, facts, files);
    progress.step("planned");
    return entry;
  };

  const failed = (drawing: BatchDrawing, error: unknown): FailedEntry => {
    const message = messageOf(error, drawing);
    progress.say(`${drawing.shown}${message}`);
    progress.step("failed");
    return { name: drawing.name, status: "failed", message: message.replace(/^:\s*/, "") };
  };

  try {
    const entries = await inLanes(drawings, threads * LANES_PER_THREAD, (drawing) =>
      workOff(drawing).catch((error) => failed(drawing, error)),
    );
    return { entries, kept };
  } finally {
    await pool?.close();
  }
}

function whyNotPlanned(outcome: Outcome<DrawingResult>, seconds: number): string {
  if (outcome.kind === "died") return outcome.why;
  if (outcome.kind === "result" && outcome.result.status === "failed") return outcome.result.message;
  return `it took longer than ${seconds} s to plan; simplify the drawing or give more with --file-seconds`;
}

/** What is wrong, to be read after the drawing's name: `:12:5: …` with a place in it, else `: …`. */
function messageOf(error: unknown, { shown }: BatchDrawing): string {
  if (!(error instanceof CliError)) return `: ${unforeseen(error)}`;
  const { message } = error;
  return message.startsWith(`${shown}:`) ? message.slice(shown.length) : `: ${message}`;
}

/** `step` of every item, so many at a time, the results in the order of the items. */
async function inLanes<Item, Result>(
  items: readonly Item[],
  lanes: number,
  step: (item: Item) => Promise<Result>,
): Promise<Result[]> {
  const results: Result[] = new Array(items.length);
  const rest = items.entries();
  const lane = async (): Promise<void> => {
    for (const [k, item] of rest) results[k] = await step(item);
  };
  await Promise.all(Array.from({ length: lanes }, lane));
  return results;
}
