/**
 * The plan of the drawing that a session opens, made on a thread of its own while the browser still starts. The page
 * shows it first, and plans by itself what the artist makes of the drawing.
 */
import { existsSync } from "node:fs";
import { join } from "node:path";
import { Worker } from "node:worker_threads";
import type { Thread } from "../../core/threads/types.ts";
import type { DrawingFile } from "./folder.ts";

/** Another version of the drawing has another plan: `null` for all but the one that was begun last. */
export interface FirstPlan {
  /** Has that drawing planned, where it is not already. */
  begin(drawing: DrawingFile): void;
  plan(version: string): Promise<Uint8Array | null>;
  /** How it will look when it is sewn, as large as fits into so many pixels. */
  look(version: string, width: number, height: number): Promise<Uint8Array | null>;
  end(): Promise<unknown>;
}

/** What is given beside the drawing, as the page has it from the session. */
export interface Given {
  readonly given: Readonly<Record<string, unknown>>;
  readonly threads: readonly Thread[] | undefined;
}

/** Begins nothing by itself. */
export function firstPlan(packageRoot: string, { given, threads }: Given): FirstPlan {
  const program = join(packageRoot, "build", "edit", "planning-thread.cjs");
  let thread: Worker | null = null;
  let begun: { readonly version: string; readonly job: object; readonly bytes: Promise<Bytes> } | null = null;
  const waiting = new Map<number, (bytes: Bytes) => void>();
  let lastId = 0;

  const endAll = (): void => {
    thread = null;
    for (const answer of waiting.values()) answer(null);
    waiting.clear();
  };
  const running = (): Worker => {
    if (thread !== null) return thread;
    thread = new Worker(program);
    thread.on("message", ({ id, bytes }: { id: number; bytes: Bytes }) => {
      waiting.get(id)?.(bytes);
      waiting.delete(id);
    });
    // Where it ends by itself there is no first plan.
    thread.on("error", endAll);
    thread.unref();
    return thread;
  };
  const ask = (request: object): Promise<Bytes> =>
    new Promise((resolve) => {
      const id = ++lastId;
      waiting.set(id, resolve);
      running().postMessage({ id, request });
    });

  return {
    begin({ text, name, version }) {
      if (begun?.version === version || !existsSync(program)) return;
      const job = { svgText: text, name, given, ...(threads === undefined ? {} : { threads }) };
      begun = { version, job, bytes: ask({ kind: "plan", drawing: job }) };
    },
    plan: async (version) => (begun?.version === version ? begun.bytes : null),
    look: async (version, width, height) =>
      begun?.version === version ? ask({ kind: "look", drawing: begun.job, width, height }) : null,
    end: async () => thread?.terminate(),
  };
}

type Bytes = Uint8Array | null;
