/** Crowded needle holes move in from the edge, but not so that cloth shows there. Figures: common practice, no source. */
import { describe, expect, it } from "vitest";
import type { Rung } from "../../core/techniques/satin-rungs.ts";
import { zigzag } from "../../core/techniques/satin-zigzag.ts";

const OPTIONS = { spacingMm: 0.4, minStitchMm: 0.4, maxStitchMm: 12 };

/** Rungs 3 mm long that stand on the inner edge of a bend at these places. */
const rungsAt = (inner: readonly number[]): Rung[] =>
  inner.map((x, i) => ({ along: 0.3 * i, centre: [0.3 * i, 1.5], left: [x, 0], right: [0.3 * i, 3] }));

/** Where the needle goes down on the inner edge; every other rung is met there. */
const holesAt = (inner: readonly number[]): number[] => {
  const both = inner.flatMap((x) => [x, x]).slice(0, -1);
  return zigzag(rungsAt(both), OPTIONS)
    .filter(([, y]) => y === 0)
    .map(([x]) => x);
};

describe("needle holes on the inner edge of a bend", () => {
  it("stand no nearer than half the spacing: every other one moves in where they crowd", () => {
    const holes = holesAt([0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6]);
    expect(holes).toEqual([0, 0.2, 0.4, 0.6]);
  });

  it("leave no notch where the bend ends: the last crowded one stays where the next is far", () => {
    expect(holesAt([0, 0.18, 0.56, 0.96])).toEqual([0, 0.18, 0.56, 0.96]);
    // A hole that all but falls into another moves in all the same.
    expect(holesAt([0, 0.05, 0.56, 0.96])).toEqual([0, 0.56, 0.96]);
  });
});
