/** Hops over another colour are seen at once, and trimmed where others are not. Common practice, no source. */
import { describe, expect, test } from "vitest";
import type { Piece } from "../../core/artwork/types.ts";
import { createMemory } from "../../core/memory.ts";
import { weighHops } from "../../core/routing/hops.ts";
import { routeSequence } from "../../core/routing/route.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { box, CREAM, inOrder, NAVY, plainStitcher, REED, runAlong } from "../support/pieces.ts";

const route = (pieces: readonly Piece[], settings: Settings = DEFAULT_SETTINGS, memory = createMemory()) => {
  const sequence = inOrder(...pieces);
  const stitchers = pieces.map(() => plainStitcher);
  const { routes, strandsLowerBound } = routeSequence(sequence, stitchers, [], settings, memory);
  const last = pieces.length - 2;
  return { strandsLowerBound, join: routes.joins[last], stop: routes.breaks[last] };
};

/** Two oars so far apart, on a board. */
const oars = (gapMm: number, board: string | null): Piece[] => [
  ...(board === null ? [] : [box("board", 0, 0, 40, 20, board)]),
  box("oar-1", 5, 5, 8, 10),
  box("oar-2", 13 + gapMm, 5, 8, 10),
];

describe("a hop", () => {
  test("of 0.9 mm over another colour is sewn, one of 1.1 mm is not", () => {
    expect(route(oars(0.9, REED))).toMatchObject({ strandsLowerBound: 2, join: { kind: "hop" } });
    expect(route(oars(1.1, REED))).toMatchObject({ strandsLowerBound: 3, join: null });
  });

  test("of 1.9 mm is sewn on bare fabric, and over thread of its own colour", () => {
    expect(route(oars(1.9, null)).join).toMatchObject({ kind: "hop" });
    expect(route(oars(1.9, NAVY)).join).toMatchObject({ kind: "hop" });
  });

  test("counts what lies on top under it", () => {
    const [board, ...both] = oars(1.6, REED);
    const patch = box("patch", 10, 4, 6, 4, NAVY);
    const sail = box("sail", 30, 2, 5, 5, CREAM);
    expect(route([board, sail, ...both]).join).toBeNull();
    expect(route([board, patch, sail, ...both]).join).toMatchObject({ kind: "hop" });
  });

  test("costs its length, and as much again over each stretch of another colour", () => {
    const weigh = weighHops([box("water", 0, 0, 10, 10, REED), box("reef", 4, 0, 2, 10)], DEFAULT_SETTINGS);
    expect(weigh([-2, 5], [0, 5], NAVY)).toBeCloseTo(2, 9);
    expect(weigh([1, 5], [3, 5], NAVY)).toBeCloseTo(4, 9);
    expect(weigh([3, 5], [5, 5], NAVY)).toBeCloseTo(3, 9);
    expect(weigh([3, 5], [5, 5], REED)).toBeCloseTo(3, 9);
    expect(weigh([3, 5], [5, 5], CREAM)).toBeCloseTo(4, 9);
  });

  test("over a line of another colour counts for no more: beside one thread there is fabric", () => {
    const rope = runAlong("rope", [
      [0, 5],
      [10, 5],
    ]);
    expect(weighHops([rope], DEFAULT_SETTINGS)([2, 5], [4, 5], REED)).toBeCloseTo(2, 9);
  });

  test("is as long as the jump threshold wherever that is asked for", () => {
    const settings = { ...DEFAULT_SETTINGS, hopOverColourPercent: 100 };
    expect(route(oars(1.9, REED), settings).join).toMatchObject({ kind: "hop" });
  });

  test("that is not sewn says that it would be seen, and the threshold at which it is", () => {
    const { stop } = route(oars(1.4, REED));
    expect(stop?.reason).toBe(
      "no later piece bridges oar-1 and oar-2; they lie 1.4 mm apart, over another colour, where a hop is seen at once",
    );
    expect(stop?.remedy).toContain("raise the jump threshold above 2.8 mm");
    expect(route(oars(1.4, REED), { ...DEFAULT_SETTINGS, jumpThresholdMm: 2.9 }).join).not.toBeNull();
    expect(route(oars(2.4, REED)).stop?.reason).toMatch(/2\.4 mm apart$/);
  });

  test("is weighed again when what lies under it takes another colour", () => {
    const memory = createMemory();
    const [board, ...both] = oars(1.4, REED);
    expect(route([board, ...both], DEFAULT_SETTINGS, memory).join).toBeNull();
    const sail = box("sail", 30, 2, 5, 5, REED);
    const painted = [{ ...board, colour: NAVY }, sail, ...both];
    expect(route(painted, DEFAULT_SETTINGS, memory).join).toMatchObject({ kind: "hop" });
    expect(route([board, ...both], DEFAULT_SETTINGS, memory).join).toBeNull();
  });

  test("that the artist asks for is sewn over any colour", () => {
    const [board, ...both] = oars(1.4, REED);
    const asked = both.map((oar) => ({ ...oar, overrides: { strand: "pair" } }));
    expect(route([board, ...asked]).join).toMatchObject({ kind: "hop", wished: true });
  });
});
