/**
 * The planner on a thread of the local server, which has the first plan of a drawing under way while the browser
 * still starts. It answers in bytes, for the page alone; `null` where there is no such plan, and the page's own
 * planner says why.
 */
import { parentPort } from "node:worker_threads";
import type { Watch } from "../../worker/cancel.ts";
import { bytesOfPicture, bytesOfPlan } from "../../worker/carry.ts";
import { createPlanner } from "../../worker/planner.ts";
import type { Answers, Request } from "../../worker/protocol.ts";

type Asked = Extract<Request, { readonly kind: "plan" | "look" }>;

const UNWATCHED: Watch = { isCancelled: () => false, progress: () => {} };

const planner = createPlanner();

function answerTo(request: Asked): Uint8Array<ArrayBuffer> | null {
  try {
    if (request.kind === "plan") return bytesOfPlan(planner(request, UNWATCHED));
    const picture: Answers["look"] = planner(request, UNWATCHED);
    return picture && bytesOfPicture(picture);
  } catch {
    return null;
  }
}

parentPort?.on("message", ({ id, request }: { readonly id: number; readonly request: Asked }) => {
  const bytes = answerTo(request);
  parentPort?.postMessage({ id, bytes }, bytes === null ? [] : [bytes.buffer]);
});
