/**
 * A planner whose first plan was made elsewhere. Whoever asks for that drawing gets it as it is; all else, and that
 * drawing too where it could not be made, is planned by the page's own planner.
 */
import { isSameJob, type PlannerClient } from "./client.ts";
import type { PlanJob, Planned } from "./protocol.ts";

export interface FirstPlan {
  readonly job: PlanJob;
  /** Resolves to `null` where there is none. */
  readonly planned: Promise<Planned | null>;
}

/** @param first resolves to `null` where no drawing is planned elsewhere */
export function withFirstPlan(client: PlannerClient, first: Promise<FirstPlan | null>): PlannerClient {
  let isSpent = false;
  /** Who waits for the first plan, and gives it up when a newer one is asked for. */
  let giveUp: (() => void) | null = null;
  const leave = (): void => {
    giveUp?.();
    giveUp = null;
  };

  async function firstOr(drawing: PlanJob, onProgress: (share: number) => void): Promise<Planned | null> {
    isSpent = true;
    const given = new Promise<"given up">((resolve) => {
      giveUp = () => resolve("given up");
    });
    const made = first.then((one) => (one !== null && isSameJob(one.job, drawing) ? one.planned : null));
    const planned = await Promise.race([made.catch(() => null), given]);
    if (planned === "given up") return null;
    giveUp = null;
    return planned ?? client.plan(drawing, onProgress);
  }

  return {
    ...client,
    plan(drawing, onProgress) {
      leave();
      return isSpent ? client.plan(drawing, onProgress) : firstOr(drawing, onProgress);
    },
    cancelPlan() {
      leave();
      client.cancelPlan();
    },
  };
}
