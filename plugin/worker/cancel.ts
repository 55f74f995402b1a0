/**
 * Planning that tells how far it is and can be stopped. All that takes long is asked of the planner's memory, so
 * a memory that counts what it had to work out knows the progress, and one that throws stops the work. What was
 * worked out until then is kept.
 */
import type { Memory } from "../../core/memory.ts";

/** The work was stopped because nobody waits for it any more. */
export class Cancelled extends Error {
  constructor() {
    super("cancelled");
    this.name = "Cancelled";
  }
}

export interface Watch {
  isCancelled(): boolean;
  /** Told now and then; never less than before. */
  progress(share: number): void;
}

/** Progress never says more than this before the plan is there. */
const MOST = 0.97;

/**
 * The memory, watched.
 *
 * @param expected pieces of work that a plan from scratch takes, about
 */
export function watchedMemory(memory: Memory, watch: Watch, expected: number): Memory {
  let done = 0;
  let told = 0;
  return {
    ...memory,
    recall: (what, owners, work) => {
      if (watch.isCancelled()) throw new Cancelled();
      return memory.recall(what, owners, () => {
        const result = work();
        done++;
        // Nears the end ever more slowly where there is more to do than was expected.
        const share = Math.min(MOST, done <= expected / 2 ? done / expected : 1 - expected / (4 * done));
        if (share >= told + 0.01) {
          told = share;
          watch.progress(share);
        }
        return result;
      });
    },
  };
}
