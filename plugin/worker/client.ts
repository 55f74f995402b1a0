/**
 * The page's side of the conversation with the planning worker. Of plans the newest wins: one that is under way
 * when another is asked for is told to stop, and what waits is only ever the latest. Explanations take long and
 * nobody waits for them: they have a worker of their own, which is ended when they are no longer wanted. Who asks
 * for the plan that is under way already shares it.
 */
import { texts } from "../texts.ts";
import type { Answers, AskMessage, FromWorker, PlanJob, Problem, Request, ToWorker } from "./protocol.ts";

/** What is used here of a `Worker`. */
export interface WorkerLike {
  postMessage(message: ToWorker): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<FromWorker>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
}

/** The answer that a job was given up for: it cannot be done. */
export class JobFailed extends Error {
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(problem.message);
    this.name = "JobFailed";
    this.problem = problem;
  }
}

export interface PlannerClient {
  /** Has the worker load ahead of the first job. */
  start(): void;
  /** @returns `null` where a newer plan was asked for meanwhile, or it was cancelled; rejects with `JobFailed` */
  plan(drawing: PlanJob, onProgress: (share: number) => void): Promise<Answers["plan"] | null>;
  /** Rejects with `JobFailed`. */
  ask<R extends Exclude<Request, { kind: "plan" | "explain" }>>(request: R): Promise<Answers[R["kind"]]>;
  /** @returns `null` where it was given up */
  explain(drawing: PlanJob): Promise<Answers["explain"] | null>;
  giveUpExplaining(): void;
  cancelPlan(): void;
  end(): void;
}

/** A plan that has run so long is ended with its worker where it can't be told to stop. */
const PATIENCE_MS = 1500;

interface Waiting {
  readonly request: Request;
  resolve(answer: Answers[keyof Answers] | null): void;
  reject(error: Error): void;
  progress(share: number): void;
}

interface PlanWaiting extends Waiting {
  readonly request: Extract<Request, { kind: "plan" }>;
}

interface PlanUnderWay {
  readonly job: number;
  readonly since: number;
  /** Who asked for it first, and who joined. */
  readonly sharing: PlanWaiting[];
  /** It was told to stop, so that nobody can join any more. */
  isGivenUp: boolean;
}

/** Whether two ask for one plan. */
export const isSameJob = (a: PlanJob, b: PlanJob): boolean => JSON.stringify(a) === JSON.stringify(b);

/** A worker with its jobs under way; started when first needed, and anew after it was ended. */
function lane(start: () => WorkerLike, cancelled: SharedArrayBuffer | null) {
  let worker: WorkerLike | null = null;
  const jobs = new Map<number, Waiting>();

  const settle = (job: number, how: (waiting: Waiting) => void): void => {
    const waiting = jobs.get(job);
    jobs.delete(job);
    if (waiting) how(waiting);
  };
  const running = (): WorkerLike => {
    if (worker !== null) return worker;
    worker = start();
    worker.onmessage = ({ data }) => {
      if (data.kind === "progress") jobs.get(data.job)?.progress(data.share);
      else if (data.kind === "done") settle(data.job, ({ resolve }) => resolve(data.answer));
      else if (data.kind === "cancelled") settle(data.job, ({ resolve }) => resolve(null));
      else settle(data.job, ({ reject }) => reject(new JobFailed(data.problem)));
    };
    worker.onerror = (event) => {
      const problem = {
        message: texts.problems.unexpected(event.message ?? ""),
        remedy: texts.problems.unexpectedRemedy,
      };
      stop(({ reject }) => reject(new JobFailed(problem)));
    };
    worker.postMessage({ kind: "hello", cancelled });
    return worker;
  };
  const stop = (how: (waiting: Waiting) => void = ({ resolve }) => resolve(null)): void => {
    worker?.terminate();
    worker = null;
    for (const job of [...jobs.keys()]) settle(job, how);
  };
  return {
    post(job: number, waiting: Waiting): void {
      jobs.set(job, waiting);
      running().postMessage({ ...waiting.request, job } as AskMessage);
    },
    /** Ends the worker and all its jobs but those that a new worker can take up. */
    restart(givenUp: number): void {
      const others = [...jobs].filter(([job]) => job !== givenUp);
      for (const [job] of others) jobs.delete(job);
      stop();
      for (const [job, waiting] of others) this.post(job, waiting);
    },
    start: () => void running(),
    stop,
    isBusy: () => jobs.size > 0,
  };
}

export function createClient(start: () => WorkerLike): PlannerClient {
  const flag = typeof SharedArrayBuffer === "undefined" ? null : new SharedArrayBuffer(4);
  const latest = flag === null ? null : new Int32Array(flag);
  const planning = lane(start, flag);
  const explaining = lane(start, null);
  let lastJob = 0;
  let underWay: PlanUnderWay | null = null;
  let next: PlanWaiting | null = null;

  const ask = (
    to: ReturnType<typeof lane>,
    request: Request,
    progress: (share: number) => void = () => {},
  ): Promise<Answers[keyof Answers] | null> =>
    new Promise((resolve, reject) => to.post(++lastJob, { request, resolve, reject, progress }));

  /** Tells the plan that is under way to stop; without a shared number only one that has long been at it. */
  const interrupt = (): void => {
    if (underWay === null) return;
    underWay.isGivenUp = true;
    if (latest !== null) Atomics.store(latest, 0, underWay.job);
    else if (performance.now() - underWay.since > PATIENCE_MS) planning.restart(underWay.job);
  };
  const startPlan = (waiting: PlanWaiting): void => {
    const job = ++lastJob;
    const sharing = [waiting];
    underWay = { job, since: performance.now(), sharing, isGivenUp: false };
    const ended = (): void => {
      underWay = null;
      const following = next;
      next = null;
      if (following !== null) startPlan(following);
    };
    planning.post(job, {
      request: waiting.request,
      resolve(answer) {
        const isOvertaken = next !== null;
        ended();
        for (const { resolve } of sharing) resolve(isOvertaken ? null : answer);
      },
      reject(error) {
        ended();
        for (const { reject } of sharing) reject(error);
      },
      progress(share) {
        for (const { progress } of sharing) progress(share);
      },
    });
  };

  return {
    start: planning.start,
    plan: (drawing, progress) =>
      new Promise((resolve, reject) => {
        const waiting: PlanWaiting = {
          request: { kind: "plan", drawing },
          resolve: (answer) => resolve(answer as Answers["plan"] | null),
          reject,
          progress,
        };
        if (underWay === null) {
          startPlan(waiting);
          return;
        }
        if (!underWay.isGivenUp && isSameJob(underWay.sharing[0].request.drawing, drawing)) {
          underWay.sharing.push(waiting);
          return;
        }
        next?.resolve(null);
        next = waiting;
        interrupt();
      }),
    ask: <R extends Request>(request: R) => ask(planning, request) as Promise<Answers[R["kind"]]>,
    explain: (drawing) => ask(explaining, { kind: "explain", drawing }) as Promise<Answers["explain"] | null>,
    giveUpExplaining() {
      if (explaining.isBusy()) explaining.stop();
    },
    cancelPlan() {
      next?.resolve(null);
      next = null;
      if (underWay === null) return;
      underWay.isGivenUp = true;
      if (latest !== null) Atomics.store(latest, 0, underWay.job);
      else planning.restart(underWay.job);
    },
    end() {
      planning.stop();
      explaining.stop();
    },
  };
}
