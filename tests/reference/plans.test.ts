/**
 * Whole plans of drawings that nobody here drew: 40 emoji of `@twemoji/svg` (art under CC BY 4.0) and 40 icons
 * of `flat-color-icons` (MIT), at 80 mm. What is tucked must be covered by the judgement of jsts (a port of the
 * JTS Topology Suite), and must not show on a raster of the sew-out.
 */
import { describe, expect, test } from "vitest";
import { readArtwork } from "../../core/artwork/read.ts";
import { makePlan, sequenceOf } from "../../core/plan/make-plan.ts";
import { paintSewOut, visibleThread } from "../../core/plan/sew-out.ts";
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { strayTuckedMm } from "../support/jsts-cover.ts";
import { needlePathFaults, shortStitches } from "../support/plan-checks.ts";
import { sampleFiles } from "../support/sample.ts";

const settings = { ...DEFAULT_SETTINGS, widthMm: 80 };
const plans = sampleFiles().map(({ name, text }) => ({ name, text, plan: makePlan(text, name, settings) }));

const byName = (list: readonly { name: string; fault: unknown }[]) =>
  list.filter(({ fault }) => (Array.isArray(fault) ? fault.length > 0 : fault));

/** Visible and whole length of connectors and travel, in millimetres. */
function shown({ sewing, size }: Plan): [visibleMm: number, lengthMm: number] {
  const sewOut = paintSewOut(sewing, size, { threadWidthMm: 0.42 });
  const seen = sewing.map((step, index) =>
    isSewn(step) && (step.role === "connector" || step.role === "travel")
      ? visibleThread(sewOut, step, index)
      : { visibleMm: 0, lengthMm: 0 },
  );
  return [
    seen.reduce((sum, { visibleMm }) => sum + visibleMm, 0),
    seen.reduce((sum, { lengthMm }) => sum + lengthMm, 0),
  ];
}

describe("80 drawings at 80 mm", () => {
  test("the needle path is whole: joined end to end, tied, trimmed, within the machine's reach", () => {
    expect(byName(plans.map(({ name, plan }) => ({ name, fault: needlePathFaults(plan) })))).toEqual([]);
  });

  test("every tucked connector lies under later pieces, by a second polygon library", () => {
    const stray = plans.map(({ name, text, plan }) => {
      const { sequence } = sequenceOf(readArtwork(text, name, settings), settings);
      return { name, fault: strayTuckedMm(plan, sequence.pieces) > 0 };
    });
    expect(byName(stray)).toEqual([]);
  }, 60_000);

  test("no drawing needs more strands than its lower bound", () => {
    const above = plans.map(({ name, plan: { metrics } }) => ({
      name,
      fault: metrics.strands !== metrics.strandsLowerBound,
    }));
    expect(byName(above)).toEqual([]);
  });

  test("of connectors and travel at most 1 % shows on the sew-out", () => {
    const lengths = plans.map(({ plan }) => shown(plan));
    const [visibleMm, lengthMm] = [0, 1].map((k) => lengths.reduce((sum, pair) => sum + pair[k], 0));
    expect(lengthMm).toBeGreaterThan(5_000);
    expect(visibleMm / lengthMm).toBeLessThan(0.01);
  }, 60_000);

  test("stitches shorter than 0.4 mm are one in two thousand at most, ties apart", () => {
    const counts = plans.map(({ plan }) => shortStitches(plan, settings.minStitchMm - 1e-6));
    const [short, all] = [counts.reduce((n, c) => n + c.short, 0), counts.reduce((n, c) => n + c.all, 0)];
    expect(short / all).toBeLessThan(1 / 2000);
  });
});
