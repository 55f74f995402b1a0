/** Hops leave where the stitches of a piece end, which is beyond its outline by what makes up for their pull. */
import { describe, expect, it } from "vitest";
import { makePlan } from "../../core/plan/make-plan.ts";
import { paintSewOut, visibleThread } from "../../core/plan/sew-out.ts";
import { isSewn } from "../../core/plan/steps.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { needlePathFaults } from "../support/plan-checks.ts";
import { svg } from "../support/read.ts";

const PULL_MM = DEFAULT_SETTINGS.pullMm;

/** Two laces of a shoe, each sewn as satin across, their long sides one millimetre apart. */
const laces = (first = ""): string =>
  svg(`<path d="M10 10H30V13H10Z" fill="#fff" ${first}/><path d="M10 14H30V17H10Z" fill="#fff"/>`);

const planOf = (drawing: string) => makePlan(drawing, "laces.svg", DEFAULT_SETTINGS);

const hopOf = (plan: ReturnType<typeof planOf>) => {
  const index = plan.sewing.findIndex((step) => isSewn(step) && step.role === "connector");
  const step = plan.sewing[index];
  if (!isSewn(step)) throw new Error("no hop");
  return { step, seen: visibleThread(paintSewOut(plan.sewing, plan.size, { pxPerMm: 40 }), step, index) };
};

describe("a hop", () => {
  it("leaves at the sewn edge, where the stitches of the finished piece end, and is one strand as before", () => {
    const plan = planOf(laces());
    expect(plan.metrics).toMatchObject({ strands: 1, strandsLowerBound: 1 });
    expect(needlePathFaults(plan)).toEqual([]);
    const [hop] = plan.connectors;
    expect(hop.kind).toBe("hop");
    expect(hop.points[0][1]).toBeCloseTo(13 + PULL_MM, 2);
    expect(hop.exposedMm).toBeCloseTo(1 - PULL_MM, 2);
    expect(plan.pieces[0].exit).toEqual(hop.points[0]);
  });

  it("shows no more than lies between what is sewn on both sides", () => {
    const { seen } = hopOf(planOf(laces()));
    expect(seen.visibleMm).toBeLessThan(1 - 2 * PULL_MM + 0.05);
  });

  it("leaves at its pin, where the artist set one", () => {
    const plan = planOf(laces('data-tuck-exit="20 13"'));
    expect(plan.connectors[0].points[0]).toEqual(plan.pieces[0].exit);
    expect(plan.pieces[0].exit[1]).toBeCloseTo(13, 3);
  });

  it("leaves at the outline where rows run along it: nothing reaches beyond", () => {
    const plan = planOf(
      svg(
        '<path data-tuck-technique="fill" data-tuck-angle="0" d="M10 10H40V30H10Z"/><path data-tuck-technique="fill" data-tuck-angle="0" d="M10 31H40V50H10Z"/>',
      ),
    );
    expect(plan.connectors[0].points[0][1]).toBeCloseTo(30, 2);
    expect(plan.connectors[0].exposedMm).toBeCloseTo(1, 2);
  });
});
