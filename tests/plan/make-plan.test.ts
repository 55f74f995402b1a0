/** What the machine is told to do, on the smallest drawings that show each rule (common practice, no source). */
import { describe, expect, test } from "vitest";
import { polylineLength } from "../../core/geometry/polyline.ts";
import type { Point } from "../../core/geometry/types.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { paintSewOut, visibleShare } from "../../core/plan/sew-out.ts";
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { fixtureText, fixturePlan as plan } from "../support/fixture-plans.ts";
import { needlePathFaults } from "../support/plan-checks.ts";

/** The roles in needle order, with what lies hidden inside a piece left out. */
const roles = ({ sewing }: Plan): string[] =>
  sewing
    .map((step) => step.role)
    .filter((role, k, all) => role !== all[k - 1] && role !== "travel" && role !== "underlay");

const withoutRepeats = (all: readonly string[]) => all.filter((role, k) => role !== all[k - 1]);

describe("what happens between two pieces", () => {
  test("a gap of 1.9 mm is hopped: no tie, no trim", () => {
    const planned = plan("cases/gap-1.9");
    expect(withoutRepeats(roles(planned))).toEqual(["tie-in", "cover", "connector", "cover", "tie-off"]);
    expect(planned.metrics).toMatchObject({ strands: 1, trims: 0, hops: 1 });
  });

  test("a gap of 2.1 mm is trimmed: tie off, trim, move, tie in", () => {
    const planned = plan("cases/gap-2.1");
    expect(withoutRepeats(roles(planned))).toEqual([
      "tie-in",
      "cover",
      "tie-off",
      "trim",
      "jump",
      "tie-in",
      "cover",
      "tie-off",
    ]);
    expect(planned.metrics).toMatchObject({ strands: 2, strandsLowerBound: 2, trims: 1, hops: 0 });
    expect(planned.findings.map(({ code }) => code)).toContain("strand-break");
  });

  test("a colour change ties off, trims, changes and ties in, even where the pieces touch", () => {
    expect(withoutRepeats(roles(plan("cases/two-colours")))).toEqual([
      "tie-in",
      "cover",
      "tie-off",
      "trim",
      "colour-change",
      "jump",
      "tie-in",
      "cover",
      "tie-off",
    ]);
  });

  test("where exit and entry coincide, nothing lies between", () => {
    const planned = plan("cases/touching");
    expect(planned.connectors).toEqual([]);
    expect(planned.pieces[0].exit).toEqual(planned.pieces[1].entry);
  });

  test("a later piece hides the way between two others", () => {
    const planned = plan("cases/bridge-later");
    expect(planned.connectors).toHaveLength(1);
    expect(planned.connectors[0]).toMatchObject({ kind: "tucked", exposedMm: 0 });
    expect(visibleShare(paintSewOut(planned.sewing, planned.size), planned.sewing, ["connector"])).toBe(0);
  });

  test("dark thread that can only go under a light piece is reported", () => {
    expect(plan("cases/dark-under-light").findings.map(({ code }) => code)).toContain("dark-under-light");
  });
});

describe.each(["heron-crest", "forty-scales", "every-feature"])("%s", (name) => {
  const planned = plan(name);

  test("its needle path has no fault", () => {
    expect(needlePathFaults(planned)).toEqual([]);
  });

  test("has as many strands as its lower bound", () => {
    expect(planned.metrics.strands).toBe(planned.metrics.strandsLowerBound);
  });

  test("planned again from its own layers, it changes nothing", () => {
    const once = writeLayers(fixtureText(name), planned);
    const again = makePlan(once, `${name}.svg`, DEFAULT_SETTINGS);
    expect(writeLayers(once, again)).toBe(once);
  });

  test("hardly any travel shows on the sew-out", () => {
    const sewOut = paintSewOut(planned.sewing, planned.size);
    expect(visibleShare(sewOut, planned.sewing, ["travel"])).toBeLessThan(0.01);
  });
});

describe("the heron crest", () => {
  const planned = plan("heron-crest");

  test("is one strand a block, and nine in ten of the trims inside blocks are gone", () => {
    const { strands, blocks, untucked } = planned.metrics;
    expect(strands).toBe(blocks);
    const plainTrims = untucked.strands - untucked.blocks;
    expect(plainTrims).toBeGreaterThan(40);
    expect(strands - blocks).toBeLessThanOrEqual(plainTrims * 0.1);
  });

  test("is sewn from entry to exit: every piece begins and ends where the plan says", () => {
    for (const piece of planned.pieces) {
      const steps = planned.sewing
        .filter(isSewn)
        .filter((step) => step.piece === piece.id && !step.role.startsWith("tie"));
      const [first, last] = [steps[0].points, steps[steps.length - 1].points];
      expect([first[0], first[1]]).toEqual([...piece.entry]);
      const end: Point = [last[last.length - 2], last[last.length - 1]];
      // A connector too short to be sewn is left out: its piece goes on to where it led.
      const next = planned.connectors.find(({ from }) => from === piece.id);
      const isLong = !next || polylineLength(next.points) >= planned.settings.minStitchMm;
      expect(end).toEqual([...(isLong ? piece.exit : next.points[next.points.length - 1])]);
    }
  });
});

describe("the forty scales", () => {
  test("are two islands: two strands, and the break says how far apart they lie", () => {
    const { metrics, connectors } = plan("forty-scales");
    expect(metrics.strands).toBe(2);
    const jump = connectors.find(({ kind }) => kind === "jump");
    expect(jump?.reason).toMatch(
      /no later piece bridges scale-22 and scale-23; nearest cover ends \d+\.\d mm short/,
    );
  });
});
