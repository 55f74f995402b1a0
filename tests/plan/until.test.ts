import { describe, expect, it } from "vitest";
import { countStitches } from "../../core/plan/metrics.ts";
import { sewingUntil } from "../../core/plan/until.ts";
import { tinyPlan } from "../support/tiny-plan.ts";

describe("the sewing as far as it has come", () => {
  const { sewing } = tinyPlan();
  const all = countStitches(sewing);

  it("has as many stitches as were asked for, whichever step they end in", () => {
    for (let stitches = 0; stitches <= all; stitches++)
      expect(countStitches(sewingUntil(sewing, stitches))).toBe(stitches);
  });

  it("is the beginning of the whole", () => {
    const done = sewingUntil(sewing, 30);
    expect(done.slice(0, -1)).toEqual(sewing.slice(0, done.length - 1));
    const [last, whole] = [done[done.length - 1], sewing[done.length - 1]];
    if (!("points" in last && "points" in whole)) throw new Error("the 30th stitch is in a step with points");
    expect([...last.points]).toEqual([...whole.points.slice(0, last.points.length)]);
  });

  it("ends with thread: the trim after the last stitch is not done yet", () => {
    const strandEnd = countStitches(
      sewing.slice(
        0,
        sewing.findIndex(({ role }) => role === "trim"),
      ),
    );
    expect(sewingUntil(sewing, strandEnd).map(({ role }) => role)).not.toContain("trim");
    expect(sewingUntil(sewing, strandEnd + 1).map(({ role }) => role)).toContain("trim");
  });

  it("is the whole, its last trim too, beyond the last stitch", () => {
    expect(sewingUntil(sewing, all + 1)).toEqual(sewing);
    expect(sewingUntil(sewing, Number.POSITIVE_INFINITY)).toEqual(sewing);
  });
});
