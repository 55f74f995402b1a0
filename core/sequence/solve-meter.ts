/**
 * Effort is counted in steps (one step: one arc looked at, some nanoseconds), never in time, so that the same
 * input gives the same order on every machine. A caller who cares more for time than for that may add a clock.
 */

export interface Meter {
  /** Counts steps; false once the limit or the deadline is reached. */
  spend(steps: number): boolean;
  /** Whether nothing is left. */
  isSpent(): boolean;
  /** Steps left, 0 or fewer when it is spent. */
  left(): number;
}

/** The clock is asked after every so many steps: about a millisecond. */
const STEPS_PER_LOOK_AT_CLOCK = 200_000;

/** A meter for so many steps; `deadline`, where given, ends it early by returning true. */
export function startMeter(limit: number, deadline?: () => boolean): Meter {
  let left = limit;
  let untilLook = 0;
  return {
    spend(steps) {
      left -= steps;
      untilLook -= steps;
      if (deadline && untilLook <= 0) {
        untilLook = STEPS_PER_LOOK_AT_CLOCK;
        if (deadline()) left = 0;
      }
      return left > 0;
    },
    isSpent: () => left <= 0,
    left: () => left,
  };
}
