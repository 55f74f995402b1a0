/**
 * What must hold of the plan of any drawing, on drawings that fast-check makes up (seeded): all of
 * `tests/fuzz/judge.ts`, the picture kept in every order by the judgement of jsts (a port of the JTS Topology
 * Suite), and plans that stay alike when the drawing is turned, mirrored or moved.
 */
import fc from "fast-check";
import OverlayOp from "jsts/org/locationtech/jts/operation/overlay/OverlayOp.js";
import { describe, expect, test } from "vitest";
import { readArtwork } from "../../core/artwork/read.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { judge } from "../fuzz/judge.ts";
import { jstsPolygon } from "../support/jsts-cover.ts";
import { drawing, drawingOf, leaves, pathData, settings } from "./drawings.ts";

const SEED = 1872;
const runs = (numRuns: number) => ({ seed: SEED, numRuns });

/** Half rings that cross, each of two lines: found here, with a bound on strands that their networks went below. */
const RIPPLES = drawingOf(
  '<g id="ring"><circle cy="1" r="1" fill="none" stroke="#1b3a5c" stroke-width=".4"/></g><use href="#ring" y="1"/>',
);

function expectSound(text: string, chosen = DEFAULT_SETTINGS): void {
  expect(judge({ name: "drawing.svg", text, settings: chosen, done: [] }).faults).toEqual([]);
}

describe("a plan is sound", () => {
  test("of any tree of groups, clips, copies, strokes, pins and wishes, with any settings", () => {
    fc.assert(
      fc.property(drawing, settings, (text, chosen) => expectSound(text, chosen)),
      { ...runs(28), examples: [[RIPPLES, { ...DEFAULT_SETTINGS, order: "regroup", jumpThresholdMm: 0 }]] },
    );
  });

  test("of any path data", () => {
    fc.assert(
      fc.property(pathData, fc.constantFrom("nonzero", "evenodd"), (data, rule) =>
        expectSound(
          drawingOf(
            `<path d="${data}" fill="#1b3a5c" fill-rule="${rule}"/><path d="M5 25h50v10h-50z" fill="#9cc3d5"/>`,
          ),
        ),
      ),
      runs(24),
    );
  });
});

test("needle points keep to the page, but for pull and the oblique ends of satin, a millimetre at most", () => {
  fc.assert(
    fc.property(drawing, (text) => {
      const plan = makePlan(text, "drawing.svg", DEFAULT_SETTINGS);
      const { widthMm, heightMm } = plan.size;
      for (const step of plan.sewing.filter(isSewn)) {
        for (let i = 0; i < step.points.length; i += 2) {
          const [x, y] = [step.points[i], step.points[i + 1]];
          expect(Math.min(x, y, widthMm - x, heightMm - y)).toBeGreaterThan(-1);
        }
      }
    }),
    runs(24),
  );
});

describe("of two pieces that overlap, the one painted first is sewn first", () => {
  /** Sewn together, less than this is not seen: half a square as wide as the thread. */
  const OVERLAP_MM2 = 0.1;

  test.each(["paint", "regroup"] as const)("in %s order", (order) => {
    fc.assert(
      fc.property(leaves, (content) => {
        const text = drawingOf(content);
        const plan = makePlan(text, "drawing.svg", { ...DEFAULT_SETTINGS, order });
        const place = new Map(plan.pieces.map((piece) => [piece.id, piece.order]));
        const painted = readArtwork(text, "drawing.svg", DEFAULT_SETTINGS).pieces.filter(({ id }) =>
          place.has(id),
        );
        const shapes = painted.map(({ region }) => jstsPolygon(region[0]));
        for (let later = 1; later < painted.length; later++) {
          for (let first = 0; first < later; first++) {
            if (OverlayOp.intersection(shapes[first], shapes[later]).getArea() <= OVERLAP_MM2) continue;
            expect(place.get(painted[first].id)).toBeLessThan(place.get(painted[later].id)!);
          }
        }
        expect(plan.metrics.blocks).toBeLessThanOrEqual(plan.metrics.untucked.blocks);
      }),
      runs(24),
    );
  });
});

describe("a plan stays alike", () => {
  /** Rows lie along each piece's own long direction, and so turn with it. */
  const planOf = (content: string): Plan => makePlan(drawingOf(content), "drawing.svg", DEFAULT_SETTINGS);

  test.each([
    ["turned by a quarter", "rotate(90 30 30)"],
    ["turned by half", "rotate(180 30 30)"],
    ["mirrored", "translate(60 0) scale(-1 1)"],
    ["drawn a hundred metres away and brought back", "translate(-100000 -100000) translate(100000 100000)"],
  ])("when the drawing is %s", (_, transform) => {
    fc.assert(
      fc.property(leaves, (content) => {
        const [one, other] = [planOf(content), planOf(`<g transform="${transform}">${content}</g>`)];
        expect(other.pieces.length).toBe(one.pieces.length);
        expect(other.metrics.blocks).toBe(one.metrics.blocks);
        expect(other.metrics.strands).toBe(one.metrics.strands);
        expect(other.metrics.strandsLowerBound).toBe(one.metrics.strandsLowerBound);
        expect(Math.abs(other.metrics.threadMm / one.metrics.threadMm - 1)).toBeLessThan(0.1);
        expect(Math.abs(other.metrics.exposedMm - one.metrics.exposedMm)).toBeLessThan(0.5);
      }),
      runs(12),
    );
  });
});
