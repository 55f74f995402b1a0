/**
 * What begins as soon as the page does, long before the editor is there: the session is asked for, and with it the
 * plan of the drawing that it names, which the local server has under way by then; its picture is a first look at
 * it. Where the server has no plan the page makes it. The panel asks for the same plan later and finds it under way,
 * or done.
 */
import { createClient, type PlannerClient } from "../../worker/client.ts";
import { withFirstPlan } from "../../worker/first-plan.ts";
import { type PlanJob, planJob } from "../../worker/protocol.ts";
import { FirstLook } from "./first-look.ts";
import { ServerFiles, type SessionFacts } from "./server-files.ts";

const token = new URLSearchParams(location.hash.slice(1)).get("token");

export const files = new ServerFiles(token ?? "");
/** Resolves to undefined where the page does not belong to a running session. */
export const asked: Promise<SessionFacts | undefined> =
  token === null ? Promise.resolve(undefined) : files.session().catch(() => undefined);
export const firstLook = new FirstLook();

const client = createClient(() => new Worker(new URL("worker.js", import.meta.url), { type: "module" }));

interface Opened {
  readonly job: PlanJob;
  readonly version: string;
}

const opened: Promise<Opened | null> = asked.then((session) => {
  const { text, name, version } = session?.drawing ?? {};
  if (session === undefined || text === undefined || name === undefined || version === undefined) return null;
  return { job: planJob(text, name, session), version };
});

const firstThenOwn = withFirstPlan(
  client,
  opened.then((one) => one && { job: one.job, planned: files.firstPlan(one.version) }),
);
let plansAsked = 0;
export const planner: PlannerClient = {
  ...firstThenOwn,
  plan(drawing, onProgress) {
    plansAsked++;
    return firstThenOwn.plan(drawing, onProgress);
  },
};

/** The engine has compiled by then most of what moving a marker takes. */
const REHEARSALS = 16;

/**
 * Has the page's own planner make the first plan too, and then move markers for practice until the artist does, so
 * that it is quick when something changes.
 */
export async function primePlanner(): Promise<void> {
  const one = await opened;
  if (one === null) return;
  const asked = plansAsked;
  await client.plan(one.job, () => {});
  for (let done = 0; done < REHEARSALS && plansAsked === asked; done++)
    await client.ask({ kind: "rehearse", drawing: one.job, share: done / REHEARSALS });
}

/** Longer than this nothing waits for the first look. */
const MOST_AHEAD_MS = 4000;

const looked = opened.then(async (one) => {
  if (one === null) return client.start();
  const { width, height } = await firstLook.room();
  const picture =
    (await files.firstLook(one.version, width, height)) ??
    (await client.ask({ kind: "look", drawing: one.job, width, height }).catch(() => null));
  // What is wrong with the drawing is said by the panel.
  if (picture === null) return;
  firstLook.show(one.job.name, picture);
  await painted();
});

/** The editor's start would keep the page from painting for as long as it takes. */
const painted = (): Promise<unknown> =>
  new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)));

/**
 * When the editor may be fetched and start. Planning, with the browser's own compiling beside it, keeps two processors
 * busy: where there are no more, both would take as long as one after the other, and the plan is what was asked for.
 */
export const mayStart: Promise<unknown> =
  navigator.hardwareConcurrency > 2
    ? Promise.resolve()
    : Promise.race([looked, new Promise((resolve) => setTimeout(resolve, MOST_AHEAD_MS))]);

/** Asks for what they are made of, all at once. */
void mayStart.then(() => {
  const { content } = document.getElementById("needed-later") as HTMLTemplateElement;
  document.head.append(content);
});
