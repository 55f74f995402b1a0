/** The order of islands of one element: as drawn, unless another joins more of them or shows less thread. */
import { describe, expect, test } from "vitest";
import type { Piece } from "../../core/artwork/types.ts";
import { distance } from "../../core/geometry/point.ts";
import { orderIslands } from "../../core/sequence/order-islands.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { box, inOrder, REED, runAlong } from "../support/pieces.ts";
import { seeded } from "../support/sewing.ts";

const toe = (id: string, x: number): Piece => ({ ...box(id, x, 0, 5, 5), element: "foot" });

const idsOf = (...pieces: Piece[]): string[] =>
  orderIslands(inOrder(...pieces), DEFAULT_SETTINGS).pieces.map(({ id }) => id);

describe("the toes of a heron's foot", () => {
  test("are sewn from neighbour to neighbour, whatever lies between them in the drawing", () => {
    expect(idsOf(toe("a", 0), toe("far", 30), toe("b", 6))).toEqual(["a", "b", "far"]);
  });

  test("keep their order where nothing joins them", () => {
    const toes = [toe("c", 40), toe("a", 0), toe("b", 20)];
    expect(idsOf(...toes)).toEqual(["c", "a", "b"]);
  });

  test("keep it where another is no better", () => {
    const toes = [toe("c", 12), toe("b", 6), toe("a", 0)];
    expect(idsOf(...toes)).toEqual(["c", "b", "a"]);
  });

  test("begin beside the leg sewn before and end beside the water sewn after, where those have their colour", () => {
    const leg = box("leg", 12, 5, 5, 30);
    const water = box("water", -8, 0, 8, 5);
    expect(idsOf(leg, toe("a", 0), toe("c", 12), toe("b", 6), water)).toEqual([
      "leg",
      "c",
      "b",
      "a",
      "water",
    ]);
    expect(idsOf({ ...leg, colour: REED }, toe("a", 0), toe("b", 6), { ...water, colour: REED })).toEqual([
      "leg",
      "a",
      "b",
      "water",
    ]);
  });

  test("are reached under others still to come", () => {
    // Between a and c lie 6 mm, but b hides the way if it is sewn last.
    const toes = [
      toe("a", 0),
      toe("far", 40),
      toe("c", 10),
      { ...toe("b", 4.5), region: box("b", 4.5, 0, 6, 5).region },
    ];
    const order = idsOf(...toes);
    expect(order.indexOf("far")).toSatisfy((place: number) => place === 0 || place === 3);
  });
});

describe("what stays as it is", () => {
  test("pieces of different elements, and of a strand that the artist asked for", () => {
    expect(idsOf(box("a", 0, 0, 5, 5), box("far", 30, 0, 5, 5), box("b", 6, 0, 5, 5))).toEqual([
      "a",
      "far",
      "b",
    ]);
    const named = [toe("a", 0), toe("far", 30), toe("b", 6)].map((piece) => ({
      ...piece,
      overrides: { strand: "foot" },
    }));
    expect(idsOf(...named)).toEqual(["a", "far", "b"]);
  });
});

test("of six reeds anywhere no order costs less: every order tried, 40 fields of reeds", () => {
  // Single lines hide nothing, so what shows between two is their distance; a strand more counts as 1.2 mm of it.
  const random = seeded(7);
  for (let field = 0; field < 40; field++) {
    const at = Array.from({ length: 6 }, () => [8 * random(), 8 * random()] as const);
    const reeds = at.map(
      ([x, y], k): Piece => ({
        ...runAlong(`${k}`, [
          [x, y],
          [x + 0.001, y],
        ]),
        element: "reeds",
      }),
    );
    const gap = (a: number, b: number): number => distance(at[a], at[b]);
    const cost = (order: readonly number[]): number =>
      order.slice(1).reduce((sum, k, n) => sum + Math.min(1.2, gap(order[n], k)), 0);
    const found = idsOf(...reeds).map(Number);
    const least = Math.min(...ordersOf([0, 1, 2, 3, 4, 5]).map(cost));
    // Gaps within the drawing's tolerance, 0.05 mm, are none, and an order no better than that is not taken.
    expect(cost(found) - least).toBeLessThan(0.11);
  }
});

const ordersOf = (items: readonly number[]): number[][] =>
  items.length === 0
    ? [[]]
    : items.flatMap((k) => ordersOf(items.filter((other) => other !== k)).map((rest) => [k, ...rest]));
