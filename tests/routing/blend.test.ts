import { describe, expect, test } from "vitest";
import type { Piece } from "../../core/artwork/types.ts";
import { createMemory } from "../../core/memory.ts";
import { connectorsOf } from "../../core/plan/connectors.ts";
import { routeSequence } from "../../core/routing/route.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { box, inOrder, plainStitcher, REED } from "../support/pieces.ts";

const SEAMS = { ...DEFAULT_SETTINGS, blend: "seams" } as const;

function route(pieces: readonly Piece[], blend: "never" | "seams", memory = createMemory()) {
  const sequence = inOrder(...pieces);
  const stitchers = pieces.map(() => ({ ...plainStitcher, travelMm: () => 0 }));
  const { routes, strandsLowerBound } = routeSequence(
    sequence,
    stitchers,
    [],
    blend === "seams" ? SEAMS : DEFAULT_SETTINGS,
    memory,
  );
  return { connectors: connectorsOf(sequence, routes), strandsLowerBound };
}

/** A wing of two feathers that overlap along a seam, then two dots on it, 18 mm apart, that nothing bridges. */
const wing = [
  box("feather-1", 0, 0, 30, 6),
  box("feather-2", 0, 5, 30, 6),
  box("dot-1", 1, 4, 3, 3),
  box("dot-2", 22, 4, 3, 3),
];

describe("blending along seams", () => {
  test("is never done unless it is asked for", () => {
    const { connectors, strandsLowerBound } = route(wing, "never");
    expect(connectors[2]).toMatchObject({ kind: "jump", from: "dot-1", to: "dot-2" });
    expect(strandsLowerBound).toBe(2);
  });

  test("follows the seam between two finished pieces of the thread's own colour, counted apart", () => {
    const { connectors, strandsLowerBound } = route(wing, "seams");
    const connector = connectors[2]!;
    expect(connector).toMatchObject({ kind: "blended", exposedMm: 0 });
    expect(connector.blendedMm).toBeCloseTo(18, 0);
    for (const [x, y] of connector.points)
      if (x > 4.3 && x < 21.7) expect(Math.abs(y - 5) < 0.26 || Math.abs(y - 6) < 0.26).toBe(true);
    expect(strandsLowerBound).toBe(1);
  });

  test("not where another colour lies on the seam", () => {
    const [first, second, ...dots] = wing;
    const { connectors } = route([first, second, box("reed", 12, -2, 4, 16, REED), ...dots], "seams");
    expect(connectors[3]).toMatchObject({ kind: "jump" });
  });

  test("is looked for again when what was finished changes", () => {
    const memory = createMemory();
    const [first, second, ...dots] = wing;
    expect(route(wing, "seams", memory).connectors[2]).toMatchObject({ kind: "blended" });
    const painted = [{ ...first, colour: REED }, second, ...dots];
    expect(route(painted, "seams", memory).connectors[2]).toMatchObject({ kind: "jump" });
  });

  test("not across a piece of its colour that has no seam", () => {
    const { connectors } = route(
      [box("sea", 0, 0, 30, 12), box("dot-1", 1, 4, 3, 3), box("dot-2", 22, 4, 3, 3)],
      "seams",
    );
    expect(connectors[1]).toMatchObject({ kind: "jump" });
  });
});
