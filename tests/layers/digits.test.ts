import { describe, expect, it } from "vitest";
import { boxOf } from "../../core/geometry/point.ts";
import { numberLines } from "../../core/layers/digits.ts";

describe("numbers drawn as lines", () => {
  it("stand centred on their place, as high as asked", () => {
    for (const value of [0, 4, 17, 120]) {
      const box = boxOf(numberLines(value, [10, 20], 3).flat());
      expect((box.minX + box.maxX) / 2).toBeCloseTo(10, 9);
      expect(box.minY).toBeCloseTo(18.5, 9);
      expect(box.maxY).toBeCloseTo(21.5, 9);
    }
  });

  it("draw one line a digit, from left to right, none touching the next", () => {
    const boxes = numberLines(9081, [0, 0], 1).map(boxOf);
    expect(boxes.length).toBe(4);
    for (let i = 1; i < boxes.length; i++) expect(boxes[i].minX).toBeGreaterThan(boxes[i - 1].maxX + 0.3);
  });

  it("give each digit a figure of its own", () => {
    const figures = Array.from({ length: 10 }, (_, digit) => JSON.stringify(numberLines(digit, [0, 0], 6)));
    expect(new Set(figures).size).toBe(10);
  });
});
