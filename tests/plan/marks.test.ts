/** Marks in whole plans: kept by the drawing, obeyed, forgotten when taken away; on patches and sheets too. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { type Marks, NO_MARKS } from "../../core/artwork/types.ts";
import { distance } from "../../core/geometry/point.ts";
import { distanceToRegion } from "../../core/geometry/region.ts";
import type { Point } from "../../core/geometry/types.ts";
import { withMarks } from "../../core/layers/edit-marks.ts";
import { strip } from "../../core/layers/strip.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { createMemory, type Memory } from "../../core/memory.ts";
import { serialisePlan } from "../../core/output/json.ts";
import { handlesOf } from "../../core/plan/handles.ts";
import { makePlan, planArtwork, readDrawing } from "../../core/plan/make-plan.ts";
import { type LegalMoves, legalMoves, type MoveVerdict } from "../../core/sequence/legal-moves.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";

const crest = readFileSync("fixtures/heron-crest.svg", "utf8");

/** A boat's hull on the water, an oar and a flag beside it. */
const BOAT = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="30mm" viewBox="0 0 60 30">
  <rect id="water" x="2" y="14" width="30" height="12" fill="#2f6f8f"/>
  <rect id="hull" x="8" y="10" width="18" height="8" fill="#a3293d"/>
  <rect id="oar" x="40" y="4" width="4" height="20" fill="#a3293d"/>
  <rect id="flag" x="50" y="4" width="8" height="6" fill="#2f6f8f"/>
</svg>
`;
const planned = (text: string, settings: Partial<Settings> = {}) => {
  const plan = makePlan(text, "boat.svg", { ...DEFAULT_SETTINGS, ...settings });
  return { plan, text: writeLayers(text, plan), order: plan.pieces.map(({ id }) => id).join(" ") };
};
const sewnAfter = (element: string, value: string | null) =>
  ({ element, name: "data-tuck-after", value }) as const;

/** Each piece moved to another place, as far as that may be. */
const legalMovesIn = ({ order, judge }: LegalMoves): MoveVerdict[] =>
  order.flatMap((id, k) => {
    const verdict = judge([id], order[(k * 7 + 3) % order.length]);
    return verdict.isLegal && verdict.edits.length > 0 ? [verdict] : [];
  });

describe("a wish about the order", () => {
  test("is planned, kept when layers are written and stripped, and forgotten with its attribute", () => {
    const wished = withMarks(BOAT, [sewnAfter("flag", "water")]);
    const once = planned(wished);
    expect(once.order).toBe("water flag hull oar");
    expect(once.plan.metrics.blocks).toBe(2);
    expect(planned(once.text)).toEqual(once);
    expect(strip(once.text)).toBe(wished);
    expect(planned(withMarks(once.text, [sewnAfter("flag", null)]))).toEqual(planned(BOAT));
  });

  test("that would show the water above the hull is not kept", () => {
    const { order, plan } = planned(withMarks(BOAT, [sewnAfter("water", "oar")]));
    expect(order).toBe("water hull oar flag");
    expect(plan.findings.map(({ code }) => code)).toContain("order-hides");
  });

  test("holds inside a patch, whose own pieces keep their places, and on every copy of a sheet", () => {
    const wished = withMarks(BOAT, [sewnAfter("flag", "-")]);
    const patch = { patch: "rounded", widthMm: 80 } as const;
    const own = (order: string) => order.split(" ").filter((id) => !id.includes("patch-"));
    expect(own(planned(BOAT, patch).order)).toEqual(["water", "hull", "oar", "flag"]);
    const { order } = planned(wished, patch);
    expect(own(order)).toEqual(["flag", "water", "hull", "oar"]);
    expect(order.split(" ")[0]).toBe("patch-placement");
    expect(planned(wished, { sheetOf: "2x1" }).order).toBe(
      "flag water copy-2/flag copy-2/water copy-2/hull copy-2/oar hull oar",
    );
  });

  test("dragged by what moves tell: the plan has the order that was promised", () => {
    const { artwork, marks } = readDrawing(crest, "heron-crest.svg", DEFAULT_SETTINGS);
    const moves = legalMoves(artwork, marks.after, DEFAULT_SETTINGS);
    const legal = legalMovesIn(moves);
    expect(legal.length).toBeGreaterThan(3);
    const { edits, order: promised } = legal[legal.length >> 1];
    const read = readDrawing(withMarks(crest, edits), "heron-crest.svg", DEFAULT_SETTINGS);
    expect(legalMoves(read.artwork, read.marks.after, DEFAULT_SETTINGS).order).toEqual(promised);
  });
});

describe("pins by attribute", () => {
  test("hold on every copy of a sheet", () => {
    const text = withMarks(BOAT, [{ element: "oar", name: "data-tuck-entry", value: "42 10" }]);
    const { plan } = planned(text, { sheetOf: "2x1" });
    const [first, second] = ["oar", "copy-2/oar"].map((id) => plan.pieces.find((one) => one.id === id)!);
    expect([first.entryPinned, second.entryPinned]).toEqual([true, true]);
    const corner = (id: string): Point =>
      readDrawing(text, "boat.svg", { ...DEFAULT_SETTINGS, sheetOf: "2x1" }).artwork.pieces.find(
        (one) => one.id === id,
      )!.region[0].outer[0];
    const inside = ({ id, entry }: typeof first) => {
      const [x, y] = corner(id);
      return [entry[0] - x, entry[1] - y];
    };
    expect(inside(second)[0]).toBeCloseTo(inside(first)[0], 2);
    expect(inside(second)[1]).toBeCloseTo(inside(first)[1], 2);
  });
});

describe("planning again with memory", () => {
  const { artwork } = readDrawing(crest, "heron-crest.svg", DEFAULT_SETTINGS);
  const counts = new Map<string, number>();
  const inner = createMemory();
  const memory: Memory = {
    ...inner,
    recall: (what, owners, work) =>
      inner.recall(what, owners, () => {
        const stage = what.split(" ")[0];
        counts.set(stage, (counts.get(stage) ?? 0) + 1);
        return work();
      }),
  };
  const first = planArtwork(artwork, NO_MARKS, DEFAULT_SETTINGS, [], memory);

  test("and a new place in the order is the plan from scratch, and lays out few pieces anew", () => {
    const [verdict] = legalMovesIn(legalMoves(artwork, [], DEFAULT_SETTINGS, memory));
    expect(verdict.edits).toHaveLength(1);
    const marks: Marks = { ...NO_MARKS, after: verdict.wishes };
    counts.clear();
    const moved = planArtwork(artwork, marks, DEFAULT_SETTINGS, [], memory);
    expect(counts.get("stitcher") ?? 0).toBeLessThan(first.pieces.length / 3);
    expect(counts.get("chosen") ?? 0).toBe(0);
    expect(counts.get("ordered") ?? 0).toBe(0);
    expect(serialisePlan(moved)).toBe(serialisePlan(planArtwork(artwork, marks, DEFAULT_SETTINGS)));
  });

  test("handles of its pieces cost nothing: legal points, and where thread is hidden", () => {
    counts.clear();
    const handles = handlesOf(artwork, NO_MARKS, DEFAULT_SETTINGS, memory);
    expect(counts.size).toBe(0);
    // Where two pieces abut, what is drawn a hair apart counts as meeting.
    for (const { id, entry, exit } of first.pieces) {
      expect(distance(handles.nearest(id, entry)!, entry)).toBeLessThan(0.06);
      expect(distance(handles.nearest(id, exit)!, exit)).toBeLessThan(0.06);
    }
    expect(handles.nearest("swan", [0, 0])).toBeNull();
    for (const { from, kind, points } of first.connectors.filter((one) => one.kind === "tucked")) {
      const cover = handles.cover(from, "exit");
      for (const p of points) expect(distanceToRegion(cover, p), `${kind} from ${from}`).toBeLessThan(0.06);
    }
  });
});
