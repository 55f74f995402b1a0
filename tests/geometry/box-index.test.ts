import { expect, it } from "vitest";
import { buildBoxIndex } from "../../core/geometry/box-index.ts";
import { boxesMeet } from "../../core/geometry/point.ts";
import type { Box } from "../../core/geometry/types.ts";
import { seededRandom } from "../support/random-region.ts";

it("finds in ascending order just the boxes that meet the one asked for", () => {
  const random = seededRandom(3);
  const box = (size: number): Box => {
    const [x, y] = [20 * random(), 20 * random()];
    return { minX: x, minY: y, maxX: x + size * random(), maxY: y + size * random() };
  };
  const boxes = Array.from({ length: 300 }, () => box(2));
  const index = buildBoxIndex(boxes);
  for (let i = 0; i < 50; i++) {
    const asked = box(6);
    expect(index.search(asked)).toEqual(boxes.flatMap((other, k) => (boxesMeet(asked, other) ? [k] : [])));
  }
});

it("counts boxes that only touch", () => {
  const index = buildBoxIndex([{ minX: 0, minY: 0, maxX: 1, maxY: 1 }]);
  expect(index.search({ minX: 1, minY: 1, maxX: 2, maxY: 2 })).toEqual([0]);
});

it("finds nothing among no boxes", () => {
  expect(buildBoxIndex([]).search({ minX: 0, minY: 0, maxX: 1, maxY: 1 })).toEqual([]);
});
