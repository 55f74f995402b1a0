/** For each colour of a drawing the thread that looks most like it. */
import { labOf } from "./difference.ts";
import { nearestTo } from "./nearest.ts";
import type { Thread } from "./types.ts";

/** The thread that a colour is sewn with. */
export interface ThreadMatch {
  readonly colour: string;
  readonly thread: Thread;
  /** How far off the thread's colour is, ΔE00. */
  readonly deltaE: number;
}

/**
 * The nearest thread by ΔE00 for each colour, in their order; of threads that are equally near, the first of
 * the list.
 *
 * @param colours `#rrggbb` each
 * @throws RangeError for an empty list
 */
export function mapToThreads(colours: readonly string[], list: readonly Thread[]): ThreadMatch[] {
  if (list.length === 0) throw new RangeError("the list holds no thread");
  const labs = list.map(({ hex }) => labOf(hex));
  return colours.map((colour) => {
    const { index, deltaE } = nearestTo(labOf(colour), labs);
    return { colour, thread: list[index], deltaE };
  });
}
