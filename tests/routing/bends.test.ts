/** Connectors that the artist leads another way: by an attribute on the element, or by reshaping their path. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { type Bend, NO_MARKS } from "../../core/artwork/types.ts";
import { distance, lerp } from "../../core/geometry/point.ts";
import { nearestOnPolyline, polylineLength } from "../../core/geometry/polyline.ts";
import type { Point } from "../../core/geometry/types.ts";
import { withMarks } from "../../core/layers/edit-marks.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { createMemory } from "../../core/memory.ts";
import { makePlan, planArtwork, readDrawing, sequenceOf } from "../../core/plan/make-plan.ts";
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { edited, one } from "../support/dom.ts";
import { strayTuckedMm } from "../support/jsts-cover.ts";
import { needlePathFaults } from "../support/plan-checks.ts";

/** Two oar blades far apart; water, painted later, lies over the lower part of both and between them. */
const POND = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
  <rect id="blade-1" x="4" y="4" width="10" height="10" fill="#a3293d"/>
  <rect id="blade-2" x="46" y="4" width="10" height="10" fill="#a3293d"/>
  <rect id="water" x="2" y="8" width="56" height="26" fill="#2f6f8f"/>
</svg>
`;

function planned(text: string): { plan: Plan; text: string } {
  const plan = makePlan(text, "pond.svg", DEFAULT_SETTINGS);
  return { plan, text: writeLayers(text, plan) };
}
const bentBy = (value: string | null, text = POND) =>
  withMarks(text, [{ element: "blade-1", name: "data-tuck-bend", value }]);
const codes = ({ plan }: { plan: Plan }) =>
  plan.findings.map(({ code }) => code).filter((code) => code.startsWith("bend"));
const expectThrough = (plan: Plan, through: readonly Point[]) => {
  for (const p of through)
    expect(nearestOnPolyline(p, plan.connectors[0].points).distance).toBeLessThan(0.005);
};

describe("a bend on the element that the connector leaves", () => {
  test("leads it through its points, straight between them where the cover is open all the way", () => {
    const { plan, text } = planned(bentBy("blade-2 20 28, 40 14"));
    const [connector] = plan.connectors;
    expectThrough(plan, [
      [20, 28],
      [40, 14],
    ]);
    // Euclid: in a convex cover the shortest way is the straight line.
    const ends = [connector.points[0], connector.points[connector.points.length - 1]];
    expect(connector).toMatchObject({
      kind: "tucked",
      exposedMm: 0,
      marginMm: DEFAULT_SETTINGS.tuckMarginMm,
    });
    expect(connector.tuckedMm).toBeCloseTo(polylineLength([ends[0], [20, 28], [40, 14], ends[1]]), 3);
    expect(needlePathFaults(plan)).toEqual([]);
    expect(planned(text)).toEqual({ plan, text });
    // Taken away, all is as it was.
    expect(planned(bentBy(null, text))).toEqual(planned(POND));
  });

  test("is sewn as it is led: a needle point at each of its points", () => {
    const { plan } = planned(bentBy("blade-2 20 28 40 14"));
    const step = plan.sewing.filter(isSewn).find(({ role }) => role === "connector");
    const needle = Array.from(
      { length: (step?.points.length ?? 0) / 2 },
      (_, k): Point => [step!.points[2 * k], step!.points[2 * k + 1]],
    );
    for (const p of [[20, 28], [40, 14]] as const) // biome-ignore format: short
      expect(Math.min(...needle.map((q) => distance(p, q)))).toBeLessThan(0.005);
  });

  test("goes round a hole in the cover, by the shortest way", () => {
    const hole = POND.replace(
      /<rect id="water".*\/>/,
      '<path id="water" fill="#2f6f8f" fill-rule="evenodd" d="M2 8h56v26h-56zM26 12h8v12h-8z"/>',
    );
    const { plan } = planned(bentBy("blade-2 20 18 40 18", hole));
    expect(plan.connectors[0]).toMatchObject({ kind: "tucked", exposedMm: 0 });
    // Between the two points, past the hole's corners at y = 12 or y = 24, the tuck margin kept: both ways alike.
    const m = DEFAULT_SETTINGS.tuckMarginMm;
    const around = polylineLength([[20, 18], [26 - m, 12 - m], [34 + m, 12 - m], [40, 18]]); // biome-ignore format: short
    const { points } = plan.connectors[0];
    const from = points.findIndex((p) => distance(p, [20, 18]) < 0.01);
    const to = points.findIndex((p) => distance(p, [40, 18]) < 0.01);
    expect(Math.abs(polylineLength(points.slice(from, to + 1)) - around)).toBeLessThan(0.15);
  });

  test("over bare fabric is obeyed below the jump threshold, and passed over from there on", () => {
    // 0.8 mm out of the water and back again, then 3 mm.
    const short = planned(bentBy("blade-2 30 7.2"));
    expect(codes(short)).toEqual([]);
    expect(short.plan.connectors[0].kind).toBe("hop");
    expect(short.plan.connectors[0].exposedMm).toBeGreaterThan(1.6 - 0.01);
    expect(short.plan.connectors[0].exposedMm).toBeLessThan(DEFAULT_SETTINGS.jumpThresholdMm);
    expectThrough(short.plan, [[30, 7.2]]);
    const long = planned(bentBy("blade-2 30 5"));
    expect(codes(long)).toEqual(["bend-exposed"]);
    expect(long.plan.sewing).toEqual(planned(POND).plan.sewing);
  });

  test("over another colour is passed over from half the threshold on", () => {
    const board = '<rect id="board" width="60" height="40" fill="#b5793c"/>';
    const text = bentBy(
      "blade-2 30 7.2",
      POND.replace('<rect id="blade-1"', `${board}\n  <rect id="blade-1"`),
    );
    expect(codes(planned(text))).toEqual(["bend-exposed"]);
  });

  test("moves ends that are not pinned where thread would show otherwise", () => {
    // From the blade's right side to the far left: over its own finished stitches, but for the lower edge.
    const { plan, text } = planned(bentBy("blade-2 8 30"));
    expect(plan.connectors[0]).toMatchObject({ kind: "tucked", exposedMm: 0 });
    expectThrough(plan, [[8, 30]]);
    expect(needlePathFaults(plan)).toEqual([]);
    expect(planned(text)).toEqual({ plan, text });
  });

  test.each([
    ["the other does not follow any more", "water 30 20"],
    ["there is no such piece", "swan 30 20"],
  ])("is told where it is of no use: %s", (_, value) => {
    const bent = planned(bentBy(value));
    expect(codes(bent)).toEqual(["bend-unused"]);
    expect(bent.plan.sewing).toEqual(planned(POND).plan.sewing);
  });

  test("is told where the thread is cut, and where the two meet", () => {
    const dry = POND.replace(/<rect id="water".*\/>/, "");
    expect(
      planned(bentBy("blade-2 30 20", dry)).plan.findings.map(({ code, message }) => [code, message]),
    ).toContainEqual([
      "bend-unused",
      expect.stringContaining("the thread is cut between blade-1 and blade-2"),
    ]);
    const near = POND.replace('x="46"', 'x="12"');
    expect(codes(planned(bentBy("blade-2 30 20", near)))).toEqual(["bend-unused"]);
  });
});

describe("a connector that was reshaped in an editor", () => {
  const once = planned(POND);
  const path = '[data-tuck-from="blade-1"]';
  const reshaped = (text: string, change: (d: string) => string) =>
    edited(text, (document) => {
      const element = one(document, path);
      element.setAttribute("d", change(element.getAttribute("d") ?? ""));
    });

  test("stays bent: through the points that lie elsewhere, whatever numbers the editor writes", () => {
    const bent = planned(reshaped(once.text, (d) => d.replace("L", "L30 25L")));
    expectThrough(bent.plan, [[30, 25]]);
    expect(bent.text).toContain('data-tuck-through="30 25"');
    expect(planned(bent.text)).toEqual(bent);
    const rounded = reshaped(bent.text, (d) => d.replace("30 25", "30.01 25.02"));
    expect(planned(rounded).text).toBe(bent.text);
    const [, x, y] = /^M([\d.]+) ([\d.]+)/.exec(plannedPath(once.text)) ?? [];
    const relative = reshaped(once.text, () => `m${x} ${y}c0 20 32 20 32 0`);
    expect(planned(relative).plan.connectors[0].points.some(([, py]) => py > 22)).toBe(true);
  });

  test("by a transform is bent through its middle if it was straight", () => {
    const moved = edited(once.text, (document) =>
      one(document, path).setAttribute("transform", "translate(0 9)"),
    );
    const [from, to] = once.plan.connectors[0].points;
    const [x, y] = lerp(from, to, 0.5);
    expectThrough(planned(moved).plan, [[x, y + 9]]);
  });

  test("finds its own way again once its path is deleted", () => {
    const bent = planned(reshaped(once.text, (d) => d.replace("L", "L30 25L")));
    const freed = planned(edited(bent.text, (document) => one(document, path).remove()));
    expect(freed.plan.sewing).toEqual(once.plan.sewing);
  });

  test("goes before an older attribute, and a newer attribute before it", () => {
    const asked = planned(bentBy("blade-2 30 14"));
    const redrawn = planned(reshaped(asked.text, (d) => d.replace("30 14", "30 30")));
    expectThrough(redrawn.plan, [[30, 30]]);
    expect(planned(redrawn.text)).toEqual(redrawn);
    const anew = planned(bentBy("blade-2 30 20", redrawn.text));
    expectThrough(anew.plan, [[30, 20]]);
    expect(planned(anew.text)).toEqual(anew);
  });
});

/** Path data of the first connector. */
const plannedPath = (text: string): string => /data-tuck-planned="([^"]+)"/.exec(text)?.[1] ?? "";

describe("every connector of the crest, bent", () => {
  const crest = readFileSync("fixtures/heron-crest.svg", "utf8");
  const { artwork } = readDrawing(crest, "heron-crest.svg", DEFAULT_SETTINGS);
  const memory = createMemory();
  const before = planArtwork(artwork, NO_MARKS, DEFAULT_SETTINGS, [], memory);
  const bends = before.connectors
    .filter(({ kind }) => kind === "tucked")
    .map(({ from, to, points }, k): Bend => {
      const [a, b] = [points[0], points[points.length - 1]];
      const [x, y] = lerp(a, b, 0.5);
      const aside = (k % 2 ? 1 : -1) * 1.5;
      const length = distance(a, b) || 1;
      const p: Point = [x - ((b[1] - a[1]) / length) * aside, y + ((b[0] - a[0]) / length) * aside];
      return { from: [from], to, through: [p], by: "element" };
    });

  test("is hidden by the judgement of jsts, or shows less than the threshold, or was passed over", () => {
    const plan = planArtwork(artwork, { ...NO_MARKS, bends }, DEFAULT_SETTINGS, [], memory);
    const { sequence } = sequenceOf(artwork, DEFAULT_SETTINGS, NO_MARKS, memory);
    expect(needlePathFaults(plan)).toEqual([]);
    expect(strayTuckedMm(plan, sequence.pieces)).toBe(0);
    const bent = plan.connectors.filter(({ bend }) => bend !== undefined);
    const refused = plan.findings.filter(({ code }) => code.startsWith("bend-"));
    expect(bent.length + refused.length).toBe(bends.length);
    expect(bent.length).toBeGreaterThan(bends.length / 3);
    for (const { points, bend } of bent)
      expect(nearestOnPolyline(bend!.through[0], points).distance).toBeLessThan(0.005);
    expect(plan.metrics.strands).toBe(before.metrics.strands);
  });

  test("with memory as from scratch", () => {
    const marks = { ...NO_MARKS, bends };
    const again = planArtwork(artwork, marks, DEFAULT_SETTINGS, [], memory);
    expect(again.sewing).toEqual(planArtwork(artwork, marks, DEFAULT_SETTINGS).sewing);
    expect(planArtwork(artwork, NO_MARKS, DEFAULT_SETTINGS, [], memory).sewing).toEqual(before.sewing);
  });
});
