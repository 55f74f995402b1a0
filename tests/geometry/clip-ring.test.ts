import { expect, it } from "vitest";
import { ringsWithin } from "../../core/geometry/clip-ring.ts";
import { growBox } from "../../core/geometry/point.ts";
import {
  intersect,
  regionArea,
  regionBox,
  ringsOf,
  subtract,
  union,
  unionOfRings,
} from "../../core/geometry/region.ts";
import type { Box, Region } from "../../core/geometry/types.ts";
import { randomRegion, seededRandom } from "../support/random-region.ts";

/** Where an edge is cut its new end is rounded, and the edge turns with it: some 1e-4 mm over 50 mm. */
const ROUNDING_MM2 = 5e-3;

const rectangle = ({ minX, minY, maxX, maxY }: Box): Region => [
  {
    outer: [
      [minX, minY],
      [maxX, minY],
      [maxX, maxY],
      [minX, maxY],
    ],
    holes: [],
  },
];

const cut = (regions: readonly Region[], box: Box): Region =>
  unionOfRings(
    ringsWithin(
      regions.map((region) => ({ rings: ringsOf(region), box: regionBox(region) })),
      box,
    ),
  );

it("what is cut at a window is all there within it, and nothing is there that was not before", () => {
  for (let seed = 1; seed <= 60; seed++) {
    const random = seededRandom(seed);
    const regions = Array.from({ length: 4 }, () => {
      const [whole, bite] = [randomRegion(random), randomRegion(random, { points: 12 })];
      return subtract(whole, bite);
    });
    const [x, y] = [10 + 30 * random(), 10 + 30 * random()];
    const box: Box = { minX: x, minY: y, maxX: x + 5 + 20 * random(), maxY: y + 5 + 20 * random() };
    const [whole, window] = [union(regions), rectangle(box)];
    const part = cut(regions, box);
    expect(
      regionArea(subtract(intersect(whole, window), part)),
      `missing within the window, seed ${seed}`,
    ).toBeLessThan(ROUNDING_MM2);
    expect(regionArea(subtract(part, whole)), `more than the truth, seed ${seed}`).toBeLessThan(ROUNDING_MM2);
    const beyond = subtract(part, rectangle(growBox(box, 0.01)));
    expect(regionArea(beyond), `whole pieces only, seed ${seed}`).toBeLessThan(1e-9);
  }
});

it("leaves no way across a hole along the window's edge", () => {
  const pond: Region = [
    {
      outer: rectangle({ minX: 0, minY: 0, maxX: 30, maxY: 30 })[0].outer,
      holes: [rectangle({ minX: 10, minY: 10, maxX: 20, maxY: 20 })[0].outer.toReversed()],
    },
  ];
  const island = rectangle({ minX: 14, minY: 0, maxX: 16, maxY: 4 });
  const banks = cut([island, pond], { minX: 5, minY: -5, maxX: 25, maxY: 15 });
  expect(banks).toHaveLength(1);
  expect(banks[0].holes).toHaveLength(0);
  const bottom = Math.max(...banks[0].outer.map(([, y]) => y));
  const atTheBottom = banks[0].outer.filter(([, y]) => y > bottom - 0.01).map(([x]) => x);
  expect(atTheBottom.filter((x) => x > 10.5 && x < 19.5)).toEqual([]);
});
