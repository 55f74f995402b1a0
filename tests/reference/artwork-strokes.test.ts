/**
 * Strokes with every cap, join and dash, stretched and clipped, against @resvg/resvg-js, a rasteriser that
 * shares nothing with the core: the area that is painted must agree to 0.5 %.
 */
import { describe, expect, it } from "vitest";
import { regionArea, union } from "../../core/geometry/region.ts";
import { svgToPixels } from "../support/png.ts";
import { read, svg } from "../support/read.ts";

const PX_WIDTH = 1000;

function drawnMm2(text: string): number {
  const { rgba } = svgToPixels(text, PX_WIDTH);
  let sum = 0;
  for (let i = 3; i < rgba.length; i += 4) sum += rgba[i];
  return (sum / 255) * (1000 / PX_WIDTH) ** 2;
}

const readMm2 = (text: string): number =>
  regionArea(union(read(text, { widthMm: 1000 }).pieces.map(({ region }) => region)));

const ZIGZAG = "M15 20L45 80L50 25L60 75L85 30L88 60";
const FEATHER = "M15 85C20 40 40 10 85 15C90 50 60 80 30 75Q50 50 70 35";
const LOOP = "M50 20C90 20 90 80 50 80S10 20 50 20Z";

const CASES: readonly (readonly [string, string])[] = [
  ...["butt", "round", "square"].flatMap((cap) =>
    ["miter", "round", "bevel"].map(
      (join) =>
        [
          `${cap} caps, ${join} joins`,
          `d="${ZIGZAG}" stroke-linecap="${cap}" stroke-linejoin="${join}"`,
        ] as const,
    ),
  ),
  ["a miter limit of 1.5", `d="${ZIGZAG}" stroke-miterlimit="1.5"`],
  ["a miter limit of 20", `d="${ZIGZAG}" stroke-miterlimit="20"`],
  ["curves", `d="${FEATHER}"`],
  [
    "curves that turn more tightly than the stroke is wide",
    `d="M20 50C80 0 20 0 80 50" style="stroke-width:30"`,
  ],
  ["a cusp", `d="M20 80C90 20 10 20 80 80" stroke-linejoin="round"`],
  ["two hundred feathers finer than the pen", `d="M8 50${"q9 -40 .42 0q-9 40 .42 0".repeat(100)}"`],
  ["a loop", `d="${LOOP}"`],
  ["an arc", `d="M20 60A30 15 20 1 1 80 50"`],
  ["dashes", `d="${FEATHER}" stroke-dasharray="9 5 2"`],
  [
    "dashes with round caps and an offset",
    `d="${LOOP}" stroke-dasharray="8 9" stroke-dashoffset="3" stroke-linecap="round"`,
  ],
  ["dots", `d="${FEATHER}" stroke-dasharray="0 9" stroke-linecap="round"`],
  ["square dots, turned with the line", `d="${FEATHER}" stroke-dasharray="0 11" stroke-linecap="square"`],
  ["stretched", `d="${ZIGZAG}" transform="translate(0 25) scale(1 .5)"`],
  ["skewed and mirrored", `d="${FEATHER}" transform="translate(100 0) scale(-1 1) skewX(10) scale(.8)"`],
  ["leaving the page", `d="M-20 50L50 95L120 50"`],
  ["clipped", `d="${FEATHER}" clip-path="url(#c)"`],
  ["there and back", `d="M20 50h60h-40z" stroke-linejoin="round"`],
];

describe("what a stroke paints", () => {
  it.each(CASES)("%s", (_, attributes) => {
    const clip = '<clipPath id="c"><circle cx="50" cy="50" r="30"/></clipPath>';
    const text = svg(`${clip}<path fill="none" stroke="#000" stroke-width="6" ${attributes}/>`);
    expect(Math.abs(readMm2(text) / drawnMm2(text) - 1)).toBeLessThan(0.005);
  });
});
