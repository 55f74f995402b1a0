/** What an order changes of the picture: hops in sight that paint order has not, and those that it has alone. */
import { describe, expect, test } from "vitest";
import { EMPTY_BOX, joinBoxes } from "../../core/geometry/point.ts";
import { regionBox } from "../../core/geometry/region.ts";
import { emptyBits, setBit } from "../../core/sequence/bits.ts";
import { weighChange } from "../../core/sequence/order-change.ts";
import { weighOrders } from "../../core/sequence/order-costs.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { box, REED } from "../support/pieces.ts";

// Four feathers in a row, 1 mm apart, and one of another colour.
const feathers = [0, 6, 12, 18].map((x, k) => box(`feather-${k}`, x, 0, 5, 20));
const pieces = [...feathers, box("reed", 24, 0, 5, 20, REED)];
const change = weighChange(pieces, DEFAULT_SETTINGS, weighOrders(pieces, DEFAULT_SETTINGS));

const withSewn = (...sewn: number[]) => {
  const bits = emptyBits(pieces.length);
  for (const k of sewn) setBit(bits, k);
  return bits;
};

describe("thread in sight that changes", () => {
  test("is none where paint order is kept, and none before the first piece", () => {
    expect(change.changedMm(0, 1, withSewn(0))).toBe(0);
    expect(change.changedMm(-1, 2, withSewn())).toBe(0);
  });

  test("is the hop that goes and the hop that comes", () => {
    // From the third feather back to the second: that hop comes, the one on to the fourth goes.
    expect(change.changedMm(2, 1, withSewn(0, 2, 3))).toBeCloseTo(2, 6);
    // From the last feather nothing led on.
    expect(change.changedMm(3, 2, withSewn(0, 1, 3))).toBeCloseTo(1, 6);
  });

  test("is the hop that goes alone where the strand breaks, which costs more than any hop", () => {
    // The second feather, sewn already, hides no thread between the first and the third.
    expect(change.changedMm(0, 2, withSewn(0, 1))).toBeCloseTo(1, 6);
    expect(change.costs[0](0, 2, withSewn(0, 1))).toBeGreaterThan(3);
    expect(change.costs[0](3, 4, withSewn(0, 1, 2, 3))).toBeGreaterThan(3);
  });

  test("weighs a strand less and less where too much would change", () => {
    const worth = change.costs.map((cost) => cost(3, 4, withSewn(0, 1, 2, 3)));
    expect(worth).toEqual([...worth].sort((a, b) => b - a));
    expect(new Set(worth).size).toBe(worth.length);
  });

  test("may cover about a thousandth of the drawing's extent", () => {
    const { minX, minY, maxX, maxY } = pieces
      .map(({ region }) => regionBox(region))
      .reduce(joinBoxes, EMPTY_BOX);
    const share = (change.mostMm * DEFAULT_SETTINGS.threadWidthMm) / ((maxX - minX) * (maxY - minY));
    expect(share).toBeCloseTo(0.001, 3);
  });
});
