import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { Change } from "../../core/plan/changes.ts";
import { explain, planWith } from "../../core/plan/explain.ts";
import { readDrawing } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";

const square = (id: string, x: number, y: number, side: number, fill: string) =>
  `<rect id="${id}" x="${x}" y="${y}" width="${side}" height="${side}" fill="${fill}"/>`;

const pond = (...shapes: string[]) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">${shapes.join("")}</svg>`;

function explained(svg: string, settings: Settings = DEFAULT_SETTINGS) {
  const { artwork, marks } = readDrawing(svg, "pond.svg", settings);
  const found = explain(artwork, marks, settings);
  return {
    ...found,
    whats: found.suggestions.map(({ what }) => what),
    plannedWith: (change: Change) => planWith({ artwork, marks, settings }, change).metrics,
  };
}

const REED = "#6b8e4e";
const NAVY = "#1b3a5c";
const OAK = "#b5793c";
const RED = "#c23b2e";

describe("explain", () => {
  test("a gap over another colour, too wide to be hopped there: the threshold at which it is", () => {
    const { stops, whats, plan, plannedWith, suggestions } = explained(
      pond(
        `<rect id="water" width="60" height="40" fill="${REED}"/>`,
        square("duck-1", 10, 10, 12, NAVY),
        square("duck-2", 23.4, 10, 12, NAVY),
      ),
    );
    expect(stops[0].reason).toContain("1.4 mm apart, over another colour");
    expect(whats).toContain("raise the jump threshold to 2.9 mm");
    const { change } = suggestions.find(({ change }) => change.kind === "setting")!;
    expect(plannedWith(change).strands).toBe(plan.metrics.strands - 1);
  });

  test("a gap in one colour: widen one of the two, or let it hop", () => {
    const gap = readFileSync("fixtures/cases/gap-2.1.svg", "utf8");
    const { stops, whats } = explained(gap);
    expect(stops).toHaveLength(1);
    expect(stops[0]).toMatchObject({ kind: "break" });
    expect(stops[0].reason).toContain("2.1 mm apart");
    expect(whats.some((what) => /^widen \S+ by 2\.1 mm towards \S+ at \(\d+, \d+\)$/.test(what))).toBe(true);
    expect(whats).toContain("raise the jump threshold to 2.2 mm");
  });

  test("a colour that comes back though nothing overlaps: sew the two together", () => {
    const { stops, suggestions } = explained(
      pond(square("reed-1", 2, 2, 8, REED), square("water", 20, 2, 8, NAVY), square("reed-2", 9, 2, 8, REED)),
    );
    expect(stops.map(({ kind }) => kind)).toEqual(["block"]);
    expect(stops[0].reason).toContain("nothing overlaps that forbids");
    expect(suggestions[0]).toMatchObject({
      what: "sew reed-2 right after reed-1",
      blocksSaved: 1,
      strandsSaved: 1,
    });
  });

  test("a colour that must come back: the overlap is named and no order is offered", () => {
    const { stops, whats } = explained(
      pond(square("reed-1", 2, 2, 8, REED), square("water", 8, 2, 8, NAVY), square("reed-2", 14, 2, 8, REED)),
    );
    expect(stops[0].reason).toContain("reed-2 lies on water");
    expect(whats.filter((what) => what.startsWith("sew"))).toEqual([]);
  });

  test("what is offered was planned: the plan with the change has just that many stops fewer", () => {
    const { plan, suggestions, plannedWith } = explained(
      pond(
        square("reed-1", 2, 2, 8, REED),
        square("water-1", 20, 2, 8, NAVY),
        square("reed-2", 9, 2, 8, REED),
        square("water-2", 20, 13, 8, NAVY),
        square("oar-1", 40, 2, 8, OAK),
        square("reed-3", 2, 14, 8, REED),
        square("oar-2", 40, 14, 8, OAK),
        square("water-3", 31, 2, 8, NAVY),
        square("pennant-1", 2, 28, 8, RED),
        square("pennant-2", 12.1, 28, 8, RED),
        square("pennant-3", 23.5, 28, 8, RED),
      ),
    );
    const verbs = suggestions.map(({ what }) => what.split(" ")[0]);
    expect([...new Set(verbs)].sort()).toEqual(["raise", "sew", "widen"]);
    for (const { what, change, blocksSaved, strandsSaved } of suggestions) {
      const { blocks, strands } = plannedWith(change);
      expect(plan.metrics.blocks - blocks, what).toBe(blocksSaved);
      expect(plan.metrics.strands - strands, what).toBe(strandsSaved);
      expect(blocksSaved + strandsSaved, what).toBeGreaterThan(0);
    }
    const gains = suggestions.map(({ blocksSaved, strandsSaved }) => 100 * blocksSaved + strandsSaved);
    expect(gains).toEqual([...gains].sort((a, b) => b - a));
  });
});
