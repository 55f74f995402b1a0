import { countStitches } from "./metrics.ts";
import { isSewn } from "./steps.ts";
import type { SewingStep } from "./types.ts";

/**
 * The sewing as far as it has come after so many stitches, counted as `countStitches` does: what a machine that is
 * stopped there has done. Trims and colour changes that follow the last stitch are not done yet.
 */
export function sewingUntil(sewing: readonly SewingStep[], stitches: number): SewingStep[] {
  const done: SewingStep[] = [];
  let waiting: SewingStep[] = [];
  let left = stitches;
  for (const step of sewing) {
    if (!isSewn(step)) {
      waiting.push(step);
      continue;
    }
    if (left <= 0) break;
    done.push(...waiting);
    waiting = [];
    const own = countStitches([step]);
    if (own <= left) done.push(step);
    else {
      const points = step.points.length / 2 - (own - left);
      done.push({ ...step, points: step.points.slice(0, 2 * points) });
    }
    left -= own;
  }
  return left > 0 ? [...done, ...waiting] : done;
}
