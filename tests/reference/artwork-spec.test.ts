/**
 * Cases from the text of the specifications, each with its section. The numbers are from memory of the text;
 * those without a worked figure there are the formula's value.
 */
import { describe, expect, it } from "vitest";
import { absoluteLength, lengthToUser } from "../../core/artwork/lengths.ts";
import { apply } from "../../core/artwork/matrix.ts";
import { readPathData } from "../../core/artwork/path-data.ts";
import { parseTransform } from "../../core/artwork/transform.ts";
import { viewBoxMatrix } from "../../core/artwork/viewport.ts";

describe("absolute lengths: CSS Values 4, 6.2", () => {
  it.each([
    ["1in", 96],
    ["2.54cm", 96],
    ["25.4mm", 96],
    ["101.6q", 96],
    ["72pt", 96],
    ["6pc", 96],
    ["96px", 96],
    ["-.5e1", -5],
    ["1e1mm", 10 * (96 / 25.4)],
  ])("%s", (text, px) => expect(absoluteLength(text)).toBeCloseTo(px, 9));

  it.each(["", "10 px", "px", "1..5", "NaN", "0x10", "1,5"])("“%s” is none", (text) =>
    expect(absoluteLength(text)).toBeNull(),
  );
});

describe("relative lengths: CSS Values 4, 6.1; SVG 2, 8.9", () => {
  const context = { fontSizePx: 20, viewportWidth: 300, viewportHeight: 400 };
  it.each([
    ["2em", "x", 40],
    ["1ex", "x", 10],
    ["10%", "x", 30],
    ["10%", "y", 40],
    // A percentage of neither direction is of √((width² + height²) / 2).
    ["10%", "other", Math.sqrt((300 ** 2 + 400 ** 2) / 2) / 10],
  ] as const)("%s along %s", (text, axis, expected) =>
    expect(lengthToUser(text, axis, context)).toBeCloseTo(expected, 9),
  );
});

const H = Math.SQRT1_2;

describe("transform lists: SVG 1.1, 7.4 to 7.6", () => {
  it.each([
    // The nested groups of 7.5, whose matrix the text gives as [.707 -.707 .707 .707 255.03 111.21].
    ["translate(50,90) rotate(-45) translate(130,160)", [H, -H, H, H, 50 + 290 * H, 90 + 30 * H]],
    ["translate(5)", [1, 0, 0, 1, 5, 0]],
    ["scale(2)", [2, 0, 0, 2, 0, 0]],
    ["skewX(30)", [1, 0, 0.57735, 1, 0, 0]],
    ["skewY(30)", [1, 0.57735, 0, 1, 0, 0]],
    ["rotate(90, 10, 20)", [0, 1, -1, 0, 30, 10]],
    ["matrix(1 2 3 4 5 6)", [1, 2, 3, 4, 5, 6]],
    ["translate(10)scale(2),rotate(0)", [2, 0, 0, 2, 10, 0]],
  ])("%s", (text, expected) => {
    const matrix = parseTransform(text) ?? [];
    expect(matrix).toHaveLength(6);
    matrix.forEach((value, i) => {
      expect(value).toBeCloseTo(expected[i], i < 4 ? 4 : 2);
    });
  });

  it.each(["rotate()", "scale(1 2 3)", "translate(a)", "turn(3)", "scale(2", "scale(2) x"])(
    "“%s” is an error",
    (text) => expect(parseTransform(text)).toBeNull(),
  );
});

describe("preserveAspectRatio: SVG 1.1, 7.8", () => {
  // A viewBox of 30 × 40, as in that section's example, in viewports of 50 × 30 and 20 × 60.
  const box = { x: 0, y: 0, width: 30, height: 40 };
  it.each([
    ["xMinYMin meet", 50, 30, [0, 0], [22.5, 30]],
    ["xMidYMid meet", 50, 30, [13.75, 0], [36.25, 30]],
    ["xMaxYMax meet", 50, 30, [27.5, 0], [50, 30]],
    ["xMidYMin meet", 20, 60, [0, 0], [20, 26.667]],
    ["xMidYMid", 20, 60, [0, 16.667], [20, 43.333]],
    ["xMidYMax meet", 20, 60, [0, 33.333], [20, 60]],
    ["xMinYMin slice", 50, 30, [0, 0], [50, 66.667]],
    ["xMidYMid slice", 50, 30, [0, -18.333], [50, 48.333]],
    ["xMaxYMid slice", 20, 60, [-25, 0], [20, 60]],
    ["none", 50, 30, [0, 0], [50, 30]],
    ["", 50, 30, [13.75, 0], [36.25, 30]],
  ])("%s in %d × %d", (aspect, width, height, topLeft, bottomRight) => {
    const matrix = viewBoxMatrix(box, width, height, aspect);
    const corners = [...apply(matrix, [0, 0]), ...apply(matrix, [30, 40])];
    corners.forEach((value, i) => {
      expect(value).toBeCloseTo([...topLeft, ...bottomRight][i], 2);
    });
  });
});

describe("path data: SVG 2, 9.3", () => {
  const ends = (d: string) => readPathData(d).outline.map(({ segments }) => segments.map(({ to }) => to));
  it.each([
    // 9.3.9 (the grammar): separators may go where none is needed, and a number ends at a second point or sign.
    ["M 100 100 L 200 200", "M100 100L200 200"],
    ["M 100 200 L 200 100 L -100 -200", "M 100 200 L 200 100 -100 -200"],
    ["M 100 200 L 200 100 L -100 -200", "M100,200 200,100-100-200"],
    ["M 0.6 0.5 L 1.5 0.25", "M.6.5 1.5.25"],
    ["M 0 0 A 1 1 0 0 1 5 5", "M0 0a1 1 0 015 5"],
    ["M 10 10 L 10 20 L 30 20", "m10 10v10h20"],
    ["M 1 1 L 2 2 Z M 1 1 L 4 4", "M1 1l1 1zl3 3"],
    ["M 5 5 L 10 10", "m 5 5 5 5"],
  ])("%s is also %s", (long, short) => expect(ends(short)).toEqual(ends(long)));
});
