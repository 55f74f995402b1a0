/** The worker's side of the conversation: takes requests one after another, and tells how each went. */
import { ArtworkError } from "../../core/errors.ts";
import { SettingsError } from "../../core/settings-schema.ts";
import type { PlanPicture } from "../canvas/picture.ts";
import { texts } from "../texts.ts";
import { Cancelled, type Watch } from "./cancel.ts";
import { createPlanner } from "./planner.ts";
import type { FromWorker, Planned, Problem, ToWorker } from "./protocol.ts";

/** What is used here of a worker's global scope, or of what stands in for it. */
export interface Port {
  onmessage: ((event: { readonly data: ToWorker }) => void) | null;
  postMessage(message: FromWorker, transfer?: ArrayBuffer[]): void;
}

/** Progress is told no more often than this: a plan that is there before is not told of at all. */
const TELL_EVERY_MS = 60;

/** @param now the time in milliseconds, from whenever on */
export function serve(port: Port, now: () => number = () => performance.now()): void {
  const planner = createPlanner();
  let cancelled: Int32Array | null = null;

  port.onmessage = ({ data: message }) => {
    if (message.kind === "hello") {
      cancelled = message.cancelled === null ? null : new Int32Array(message.cancelled);
      return;
    }
    const { job, ...request } = message;
    let told = now();
    const watch: Watch = {
      isCancelled: () => request.kind === "plan" && cancelled !== null && Atomics.load(cancelled, 0) >= job,
      progress(share) {
        if (now() - told < TELL_EVERY_MS) return;
        told = now();
        port.postMessage({ kind: "progress", job, share });
      },
    };
    try {
      if (watch.isCancelled()) throw new Cancelled();
      const answer = planner(request, watch);
      port.postMessage({ kind: "done", job, answer }, handedOver(answer));
    } catch (error) {
      if (error instanceof Cancelled) port.postMessage({ kind: "cancelled", job });
      else port.postMessage({ kind: "failed", job, problem: problemOf(error) });
    }
  };
}

/** Buffers that are made for the answer alone and may be handed over with it. */
function handedOver(answer: object | null): ArrayBuffer[] {
  if (answer !== null && "pixels" in answer) return [(answer as PlanPicture).pixels.buffer];
  if (answer === null || !("plan" in answer && "shapes" in answer)) return [];
  const { plan, shapes } = answer as Planned;
  return [plan.coordinates.buffer, shapes.coordinates.buffer];
}

function problemOf(error: unknown): Problem {
  const message = error instanceof Error ? error.message : String(error);
  if (error instanceof SettingsError) return { message, remedy: texts.problems.badSetting };
  if (error instanceof ArtworkError)
    return {
      message: texts.problems.atLine(message, error.line),
      remedy: texts.problems.badDrawing,
    };
  return { message: texts.problems.unexpected(message), remedy: texts.problems.unexpectedRemedy };
}
