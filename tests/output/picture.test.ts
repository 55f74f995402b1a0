import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { pictureSvg } from "../../core/output/picture.ts";
import type { SewnStep } from "../../core/plan/types.ts";
import { planOf } from "../support/plans.ts";
import { svgToPixels } from "../support/png.ts";
import { filledSquare, sewn } from "../support/sewing.ts";

const RED = "#a3293d";
const BLUE = "#2f6f8f";
const ofPiece = (step: SewnStep, number: number): SewnStep => ({ ...step, piece: `piece-${number}` });

/** Average colour, 0 to 255 each, of the square millimetre around a place. */
function colourAt(svg: string, xMm: number, yMm: number): [number, number, number] {
  const pxPerMm = 20;
  const { width, rgba } = svgToPixels(svg, 30 * pxPerMm);
  const sum = [0, 0, 0];
  for (let dy = 0; dy < pxPerMm; dy++)
    for (let dx = 0; dx < pxPerMm; dx++) {
      const x = Math.round((xMm - 0.5) * pxPerMm) + dx;
      const y = Math.round((yMm - 0.5) * pxPerMm) + dy;
      for (let c = 0; c < 3; c++) sum[c] += rgba[4 * (y * width + x) + c];
    }
  return [sum[0] / pxPerMm ** 2, sum[1] / pxPerMm ** 2, sum[2] / pxPerMm ** 2];
}

const lightness = ([r, g, b]: readonly number[]) => 0.2126 * r + 0.7152 * g + 0.0722 * b;

/** The square's rows turned clockwise about its middle. */
function turned(step: SewnStep, angleDeg: number, cx: number, cy: number): SewnStep {
  const angle = (angleDeg * Math.PI) / 180;
  const points = step.points.slice();
  for (let k = 0; k < points.length; k += 2) {
    const [x, y] = [points[k] - cx, points[k + 1] - cy];
    points[k] = cx + x * Math.cos(angle) - y * Math.sin(angle);
    points[k + 1] = cy + x * Math.sin(angle) + y * Math.cos(angle);
  }
  return { ...step, points };
}

describe("the picture", () => {
  const plan = planOf(
    [
      ofPiece(filledSquare(2, 2, 8), 1),
      { role: "trim" },
      { role: "colour-change", colour: BLUE },
      ofPiece(filledSquare(6, 6, 8, 1), 2),
    ],
    [RED, BLUE],
  );

  it("is a drawing of the design's true size, without scripts or outside references", () => {
    const svg = pictureSvg(plan);
    const root = new JSDOM(svg, { contentType: "image/svg+xml" }).window.document.documentElement;
    expect(root.getAttribute("width")).toBe("30mm");
    expect(root.getAttribute("height")).toBe("20mm");
    const tags = new Set(Array.from(root.querySelectorAll("*"), (element) => element.localName));
    expect([...tags].sort()).toEqual(["defs", "g", "path", "pattern", "rect"]);
    expect(svg).not.toMatch(/href|url\((?!#)/);
  });

  it("shows thread in its colour, what is sewn later on top", () => {
    const svg = pictureSvg(plan);
    const [r, , b] = colourAt(svg, 3.5, 3.5);
    expect(r).toBeGreaterThan(b + 60);
    const [overlapR, , overlapB] = colourAt(svg, 8, 8);
    expect(overlapB).toBeGreaterThan(overlapR + 60);
  });

  it("lies on the fabric that was asked for", () => {
    expect(lightness(colourAt(pictureSvg(plan), 25, 15))).toBeGreaterThan(200);
    expect(lightness(colourAt(pictureSvg(plan, { fabricColour: "#14202b" }), 25, 15))).toBeLessThan(50);
    expect(pictureSvg(plan, { fabricColour: '"/><script/>' })).toBe(pictureSvg(plan));
  });

  it("is lit from the upper left: thread across the light is brighter than thread along it", () => {
    const at = (angleDeg: number) => {
      const square = turned(filledSquare(11, 6, 8), angleDeg, 15, 10);
      return lightness(colourAt(pictureSvg(planOf([ofPiece(square, 1)], [BLUE])), 15, 10));
    };
    const [along, level, across] = [at(45), at(0), at(-45)];
    expect(level).toBeGreaterThan(along + 3);
    expect(across).toBeGreaterThan(level + 3);
    expect(at(225)).toBeCloseTo(along, -0.5);
  });

  it("leaves out travel where that is asked for", () => {
    const travelled = planOf(
      [
        ofPiece(
          sewn("travel", [
            [18, 10],
            [28, 10],
          ]),
          1,
        ),
      ],
      [RED],
    );
    const bare = colourAt(pictureSvg(travelled, { showTravel: false }), 25, 10);
    expect(lightness(bare)).toBeGreaterThan(lightness(colourAt(pictureSvg(travelled), 25, 10)) + 20);
  });

  it("is small: at most 40 bytes a stitch, on rows of even stitches", () => {
    const rows = Array.from({ length: 40 }, (_, row) =>
      Array.from({ length: 9 }, (_, k): [number, number] => [
        row % 2 ? 29 - 3.5 * k : 1 + 3.5 * k,
        1 + 0.4 * row,
      ]),
    );
    const points = rows.flat();
    const svg = pictureSvg(planOf([ofPiece(sewn("cover", points), 1)], [RED]));
    expect(svg.length / points.length).toBeLessThan(40);
  });

  it("is the same bytes every time", () => {
    expect(pictureSvg(plan)).toBe(pictureSvg(plan));
  });
});
