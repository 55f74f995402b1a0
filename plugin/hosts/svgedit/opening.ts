/**
 * What begins as soon as the page does, long before the editor is there: the session is asked for, and the drawing
 * that it names goes to the planner, and comes back as a first look at it. The panel asks for the same plan later
 * and finds it under way, or done.
 */
import { createClient } from "../../worker/client.ts";
import { planJob } from "../../worker/protocol.ts";
import { FirstLook } from "./first-look.ts";
import { ServerFiles, type SessionFacts } from "./server-files.ts";

const token = new URLSearchParams(location.hash.slice(1)).get("token");

export const files = new ServerFiles(token ?? "");
export const planner = createClient(
  () => new Worker(new URL("worker.js", import.meta.url), { type: "module" }),
);
/** Resolves to undefined where the page does not belong to a running session. */
export const asked: Promise<SessionFacts | undefined> =
  token === null ? Promise.resolve(undefined) : files.session().catch(() => undefined);
export const firstLook = new FirstLook();

/** Longer than this nothing waits for the first look. */
const MOST_AHEAD_MS = 4000;

planner.start();
const looked = asked.then(async (session) => {
  if (!session?.drawing) return;
  const { text, name } = session.drawing;
  const drawing = planJob(text, name, session);
  // Whoever joins is told what came of it.
  planner.plan(drawing, () => {}).catch(() => {});
  try {
    const picture = await planner.ask({ kind: "look", drawing, ...(await firstLook.room()) });
    if (picture !== null) firstLook.show(name, picture);
  } catch {
    // What is wrong with the drawing is said by the panel.
  }
});

/**
 * When the editor may start. Planning, with the browser's own compiling beside it, keeps two processors busy: where
 * there are no more, both would take as long as one after the other, and the plan is what was asked for.
 */
export const mayStart: Promise<unknown> =
  navigator.hardwareConcurrency > 2
    ? Promise.resolve()
    : Promise.race([looked, new Promise((resolve) => setTimeout(resolve, MOST_AHEAD_MS))]);
