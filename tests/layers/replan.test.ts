/** Planning a planned drawing: the same plan again, save for what the artist moved. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { distance } from "../../core/geometry/point.ts";
import { strip } from "../../core/layers/strip.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { edited, one } from "../support/dom.ts";

const CASES = new URL("../../fixtures/cases/", import.meta.url);
const artwork = (name: string) => readFileSync(new URL(name, CASES), "utf8");

/** Plans a drawing and writes its layers, as the command line does. */
function planned(svgText: string, settings: Partial<Settings> = {}) {
  const plan = makePlan(svgText, "case.svg", { ...DEFAULT_SETTINGS, ...settings });
  return { plan, text: writeLayers(svgText, plan) };
}

/** A plan's layers without that of findings: that a pin lay off its piece is said once, and then it lies on it. */
const withoutFindings = (text: string) => text.slice(0, text.indexOf('data-tuck-role="findings"'));

describe("planning a planned drawing", () => {
  it.each(["bridge-later.svg", "eye-in-wing.svg", "gap-2.1.svg", "two-colours.svg"])(
    "changes nothing: %s",
    (name) => {
      const once = planned(artwork(name));
      expect(planned(once.text)).toEqual(once);
      expect(strip(once.text)).toBe(artwork(name));
    },
  );

  it("keeps the width that it was planned at, however odd", () => {
    for (const widthMm of [33.3333333, 200 / 7, 19.999]) {
      const once = planned(artwork("touching.svg"), { widthMm });
      const twice = planned(once.text);
      expect(twice.text).toBe(once.text);
      expect(twice.plan.size.widthMm).toBeCloseTo(widthMm, 5);
    }
  });

  it("enters a piece where the artist moved its marker, and changes nothing after that", () => {
    const { plan, text } = planned(artwork("touching.svg"));
    const piece = plan.pieces[0];
    // Into the pennant, whose middle is (10, 9).
    const [dx, dy] = [1.5 * Math.sign(10 - piece.entry[0]), Math.sign(9 - piece.entry[1])];
    const moved = edited(text, (document) =>
      one(document, `[data-tuck-point="entry"][data-tuck-piece="${piece.id}"]`).setAttribute(
        "transform",
        `translate(${dx} ${dy})`,
      ),
    );
    const first = planned(moved);
    const pinned = first.plan.pieces.find(({ id }) => id === piece.id);
    expect(pinned?.entryPinned).toBe(true);
    const goal = [piece.entry[0] + dx, piece.entry[1] + dy] as const;
    expect(distance(pinned?.entry ?? [0, 0], goal)).toBeLessThan(0.05);
    expect(planned(first.text)).toEqual(first);
  });

  it("moves a pin that was dropped beside its piece onto it, once and for all", () => {
    const { plan, text } = planned(artwork("bridge-later.svg"), { widthMm: 31.4159 });
    const moved = edited(text, (document) => {
      const markers = Array.from(document.querySelectorAll("[data-tuck-point]"));
      markers.forEach((marker, k) => {
        marker.setAttribute("transform", `translate(${7.77 - 3.3 * k} ${k - 4.321}) rotate(${k})`);
      });
    });
    const first = planned(moved);
    expect(first.plan.pieces.every(({ entryPinned, exitPinned }) => entryPinned && exitPinned)).toBe(true);
    expect(first.plan.pieces.length).toBe(plan.pieces.length);
    const second = planned(first.text);
    expect(withoutFindings(second.text)).toBe(withoutFindings(first.text));
    expect(second.plan.sewing).toEqual(first.plan.sewing);
  });
});
