import { expect, it } from "vitest";
import { makePlan } from "../../core/plan/make-plan.ts";
import { countShortStitches } from "../../core/plan/stitch-measures.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { readDrawing } from "../support/drawing-sets.ts";
import { needlePathFaults } from "../support/plan-checks.ts";

// Which stitches are too short, and how few may be short, is common practice, no source.
const SETTINGS = { ...DEFAULT_SETTINGS, widthMm: 100 };

/** Two halves of a pennant that miss each other by a hair. */
const pennant = (gapMm: number): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="40mm" viewBox="0 0 100 40">
    <path d="M5 5h40v30h-40z" fill="#b23a3f"/>
    <path d="M${45 + gapMm} 5h40v30h-40z" fill="#b23a3f"/>
  </svg>`;

it("a hop over a hair's breadth makes no stitch of its own", () => {
  for (const gapMm of [0.06, 0.15, 0.3]) {
    const plan = makePlan(pennant(gapMm), "pennant.svg", SETTINGS);
    expect(plan.metrics.strands).toBe(1);
    expect(countShortStitches(plan.sewing, 0.4 - 1e-6).short, `${gapMm} mm apart`).toBe(0);
    expect(needlePathFaults(plan)).toEqual([]);
  }
});

// Real shapes: the open emoji set of the package @twemoji/svg (art under CC BY 4.0).
it("real drawings have no stitch under 0.4 mm, and few under 1 mm", () => {
  for (const name of ["1f468-1f3fd-200d-2708-fe0f.svg", "1f95d.svg"]) {
    const { sewing } = makePlan(readDrawing("emoji", name).text, name, SETTINGS);
    expect(countShortStitches(sewing, 0.4 - 1e-6).short, name).toBe(0);
    const { short, all } = countShortStitches(sewing, 1 - 1e-6);
    expect(short / all, name).toBeLessThan(0.04);
  }
});
