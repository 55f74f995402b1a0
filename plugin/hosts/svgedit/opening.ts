/**
 * What begins as soon as the page does, long before the editor is there: the session is asked for, and the drawing
 * that it names goes to the planner. The panel asks for the same plan later and finds it under way, or done.
 */
import { createClient } from "../../worker/client.ts";
import { planJob } from "../../worker/protocol.ts";
import { ServerFiles, type SessionFacts } from "./server-files.ts";

const token = new URLSearchParams(location.hash.slice(1)).get("token");

export const files = new ServerFiles(token ?? "");
export const planner = createClient(() => new Worker("/plugin/worker.js", { type: "module" }));
/** Resolves to undefined where the page does not belong to a running session. */
export const asked: Promise<SessionFacts | undefined> =
  token === null ? Promise.resolve(undefined) : files.session().catch(() => undefined);

planner.start();
void asked.then((session) => {
  if (!session?.drawing) return;
  const { text, name } = session.drawing;
  // Whoever joins is told what came of it.
  planner.plan(planJob(text, name, session), () => {}).catch(() => {});
});
