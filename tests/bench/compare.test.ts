/** What counts as a regression of speed. The figures are made up: ratios to the reference workload. */
import { describe, expect, it } from "vitest";
import baseline from "./baseline.json" with { type: "json" };
import { compareRatios, comparisonTable, isRegression, ratiosOf } from "./compare.ts";

const verdicts = (then: Record<string, number>, now: Record<string, number>) =>
  compareRatios(then, now).map(({ measure, verdict }) => [measure, verdict]);

describe("speed held against the last release", () => {
  it("is kept up to a quarter slower", () => {
    expect(verdicts({ crest: 2 }, { crest: 2.5 })).toEqual([["crest", "kept"]]);
    expect(verdicts({ crest: 2 }, { crest: 2.51 })).toEqual([["crest", "slower"]]);
  });

  it("may be better", () => {
    expect(verdicts({ crest: 2 }, { crest: 1.5 })).toEqual([["crest", "faster"]]);
    expect(compareRatios({ crest: 2 }, { crest: 1.5 }).some(isRegression)).toBe(false);
  });

  it("is told by the least time of several processes", () => {
    const runs = [
      { reference: 100, crest: 240, reeds: 90 },
      { reference: 120, crest: 210, reeds: 80 },
    ];
    expect(ratiosOf(runs)).toEqual({ crest: 2.1, reeds: 0.8 });
  });

  it("knows a measure that came, and fails where one went", () => {
    const comparisons = compareRatios({ reeds: 1 }, { oars: 1 });
    expect(comparisons.map(({ measure, verdict }) => [measure, verdict])).toEqual([
      ["reeds", "no longer measured"],
      ["oars", "new"],
    ]);
    expect(comparisons.map(isRegression)).toEqual([true, false]);
  });

  it("is shown with its change", () => {
    const table = comparisonTable(compareRatios({ crest: 2, reeds: 1 }, { crest: 3, reeds: 0.9 }), "1.0.0");
    expect(table).toMatch(/crest +2\.00 +3\.00 +\+50 % +slower/);
    expect(table).toMatch(/reeds +1\.00 +0\.90 +-10 % +kept/);
  });
});

describe("the figures that are kept", () => {
  it("are ratios above 0, of a release", () => {
    expect(baseline.release).toMatch(/^\d+\.\d+\.\d+$/);
    expect(Object.keys(baseline.ratios).length).toBeGreaterThan(5);
    for (const [measure, ratio] of Object.entries(baseline.ratios)) expect(ratio, measure).toBeGreaterThan(0);
  });
});
