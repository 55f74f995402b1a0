/**
 * What the thread of the local server that plans does: it answers in bytes, for the page alone; with `null` where
 * there is no such plan, and the page's own planner says why.
 */
import type { Watch } from "../../worker/cancel.ts";
import { bytesOfPicture, bytesOfPlan } from "../../worker/carry.ts";
import { createPlanner } from "../../worker/planner.ts";
import type { Answers, Request } from "../../worker/protocol.ts";

export type Asked = Extract<Request, { readonly kind: "plan" | "look" }>;

const UNWATCHED: Watch = { isCancelled: () => false, progress: () => {} };

const planner = createPlanner();

export function answerInBytes(request: Asked): Uint8Array<ArrayBuffer> | null {
  try {
    if (request.kind === "plan") return bytesOfPlan(planner(request, UNWATCHED));
    const picture: Answers["look"] = planner(request, UNWATCHED);
    return picture && bytesOfPicture(picture);
  } catch {
    return null;
  }
}
