/**
 * The least possible number of strands for a fixed order, from connectivity alone, before any route is looked
 * for. Every piece can be entered and left anywhere, so whether one pair can be joined says nothing about the
 * next: a strand must end between two pieces of a block exactly where no way under the pieces still to come
 * leads from one to the other at less cost, in thread that shows, than the jump threshold.
 */
import type { Sequence } from "../sequence/types.ts";
import { leastHopCost, type Nearness } from "./nearness.ts";

/** Counts the strands. `covers[k]`: piece k hides what lies under it. `forced[k]`: k and k + 1 are one strand. */
export function strandsLowerBound(
  sequence: Sequence,
  covers: readonly boolean[],
  forced: readonly boolean[],
  nearness: Nearness,
  hopLimitMm: number,
): number {
  let strands = 0;
  for (const { start, end, colour } of sequence.blocks) {
    strands++;
    for (let i = start; i + 1 < end; i++) {
      if (forced[i]) continue;
      const under = (k: number) => k > i && covers[k];
      if (leastHopCost(nearness, i, i + 1, colour, under, hopLimitMm) >= hopLimitMm) strands++;
    }
  }
  return strands;
}
