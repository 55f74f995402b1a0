/**
 * Worker threads, each with one job at a time and a time limit on it. A worker that takes longer, or that dies, is
 * replaced, and the rest go on.
 *
 * The limit counts from when the worker says that it starts, not from when the job was queued or the thread made.
 */
import { Piscina } from "piscina";

export interface Task<Job> {
  readonly id: number;
  readonly job: Job;
}

export interface PoolOptions {
  /** A module whose default export takes a `Task`, first posts `{ started: id }`, and gives the result. */
  readonly worker: URL;
  readonly threads: number;
  readonly secondsPerJob: number;
  /** The same for every job: the worker's `workerData`. */
  readonly data: unknown;
}

export type Outcome<Result> =
  | { readonly kind: "result"; readonly result: Result }
  | { readonly kind: "too long" }
  | { readonly kind: "died"; readonly why: string };

export interface Pool<Job, Result> {
  /** Waits for a worker, then for the job. Never rejects. */
  run(job: Job): Promise<Outcome<Result>>;
  close(): Promise<void>;
}

/**
 * Of each worker's heap: many times what a drawing that can be sewn takes. At the limit its one drawing fails;
 * without one, memory would be handed back late, and a monstrous drawing would take the machine's all.
 */
const MOST_MEMORY_MB = 512;

export function openPool<Job, Result>(options: PoolOptions): Pool<Job, Result> {
  const { worker, threads, secondsPerJob, data } = options;
  const pool = new Piscina({
    filename: worker.href,
    minThreads: threads,
    maxThreads: threads,
    idleTimeout: Number.POSITIVE_INFINITY,
    workerData: data,
    recordTiming: false,
    // Between jobs a worker turns its event loop, in which native code (the rasteriser) gives its memory back.
    atomics: "disabled",
    resourceLimits: { maxOldGenerationSizeMb: MOST_MEMORY_MB, maxYoungGenerationSizeMb: 32 },
    ...(worker.pathname.endsWith(".ts") ? { execArgv: ["--import", import.meta.resolve("tsx")] } : {}),
  });
  const onStart = new Map<number, () => void>();
  let anyStarted = false;
  pool.on("message", ({ started }: { started: number }) => {
    anyStarted = true;
    onStart.get(started)?.();
  });
  // A worker that dies over a job is told of by the job. One that cannot even begin would be waited for for ever.
  pool.on("error", () => {
    if (!anyStarted) void pool.destroy();
  });

  let jobs = 0;
  return {
    async run(job) {
      const id = ++jobs;
      const stop = new AbortController();
      let limit: NodeJS.Timeout | undefined;
      onStart.set(id, () => {
        limit = setTimeout(() => stop.abort(), secondsPerJob * 1000);
      });
      try {
        const result: Result = await pool.run({ id, job } satisfies Task<Job>, { signal: stop.signal });
        return { kind: "result", result };
      } catch (error) {
        return stop.signal.aborted ? { kind: "too long" } : { kind: "died", why: whyDead(error) };
      } finally {
        clearTimeout(limit);
        onStart.delete(id);
      }
    },
    close: () => pool.destroy(),
  };
}

function whyDead(error: unknown): string {
  if ((error as NodeJS.ErrnoException).code === "ERR_WORKER_OUT_OF_MEMORY")
    return `it takes more than ${MOST_MEMORY_MB} MB to plan; simplify the drawing, or plan it by itself`;
  return `its worker ended early (${(error as Error).message}); please report it with the drawing`;
}
