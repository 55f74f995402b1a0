/**
 * The one colour that a gradient is sewn in, against the mean of the pixels that @resvg/resvg-js draws of it, taken
 * in OKLab by culori. Neither shares anything with the reader. Each case is a water surface, a feather or a pennant
 * shaded one way that SVG 2 allows. (Boxes must not depend on curves: that rasteriser takes the box of their control
 * points, SVG 2 that of the curve.)
 */
import { converter, differenceEuclidean } from "culori";
import { describe, expect, it } from "vitest";
import { svgToPixels } from "../support/png.ts";
import { readContent, svg } from "../support/read.ts";

const STOPS = `<stop offset=".1" stop-color="#0b3954"/><stop offset=".6" stop-color="#bfd7ea"/><stop offset=".9" stop-color="#ff6663"/>`;
const WATER = `<rect x="10" y="20" width="80" height="50" fill="url(#g)"/>`;
const FEATHER = `<path d="M10 90C20 30 60 10 90 10C80 50 60 80 10 90Z" fill="url(#g)"/>`;

const CASES: readonly (readonly [about: string, gradient: string, shape: string])[] = [
  ["across the box", `<linearGradient id="g">${STOPS}</linearGradient>`, FEATHER],
  [
    "at a slant, in percent of the box",
    `<linearGradient id="g" x1="0%" y1="20%" x2="80%" y2="1">${STOPS}</linearGradient>`,
    WATER,
  ],
  [
    "in user units, of which the shape shows a part",
    `<linearGradient id="g" gradientUnits="userSpaceOnUse" x1="-100" x2="60">${STOPS}</linearGradient>`,
    FEATHER,
  ],
  [
    "in percent of the page",
    `<linearGradient id="g" gradientUnits="userSpaceOnUse" x1="50%" x2="90%">${STOPS}</linearGradient>`,
    WATER,
  ],
  [
    "turned",
    `<linearGradient id="g" gradientTransform="rotate(70 .5 .5) scale(.5)">${STOPS}</linearGradient>`,
    WATER,
  ],
  ["repeated", `<linearGradient id="g" x2=".3" spreadMethod="repeat">${STOPS}</linearGradient>`, WATER],
  [
    "reflected",
    `<linearGradient id="g" x1=".2" x2=".45" spreadMethod="reflect">${STOPS}</linearGradient>`,
    WATER,
  ],
  ["round", `<radialGradient id="g">${STOPS}</radialGradient>`, FEATHER],
  [
    "round, with the light off its middle",
    `<radialGradient id="g" cx=".6" cy=".4" r=".7" fx=".3" fy=".3">${STOPS}</radialGradient>`,
    WATER,
  ],
  [
    "round, in user units under a transform",
    `<radialGradient id="g" gradientUnits="userSpaceOnUse" cx="0" cy="0" r="1" gradientTransform="matrix(30 10 -5 20 50 40)">${STOPS}</radialGradient>`,
    WATER,
  ],
  [
    "by way of another gradient's stops and units",
    `<linearGradient id="s" gradientUnits="userSpaceOnUse" x2="70">${STOPS}</linearGradient><linearGradient id="g" href="#s" x1="40"/>`,
    FEATHER,
  ],
  [
    "without a length: its last stop",
    `<linearGradient id="g" x1=".5" x2=".5">${STOPS}</linearGradient>`,
    WATER,
  ],
  [
    "on a stroke",
    `<linearGradient id="g" y2="1">${STOPS}</linearGradient>`,
    `<path d="M15 80L40 20L85 30" fill="none" stroke="url(#g)" stroke-width="6"/>`,
  ],
  [
    "on a shape that is turned and cut by a clip",
    `<linearGradient id="g">${STOPS}</linearGradient><clipPath id="c"><circle cx="30" cy="40" r="18"/></clipPath>`,
    `<g clip-path="url(#c)"><rect x="10" y="20" width="80" height="50" fill="url(#g)" transform="rotate(15)"/></g>`,
  ],
  [
    "clear at one end, where little is seen of it",
    `<linearGradient id="g"><stop stop-color="#0b3954"/><stop offset="1" stop-color="#ff6663" stop-opacity="0"/></linearGradient>`,
    WATER,
  ],
];

const oklab = converter("oklab");

describe("a gradient is sewn in the mean of what is drawn of it", () => {
  it.each(CASES)("%s", (_, gradient, shape) => {
    const [{ colour }] = readContent(`<defs>${gradient}</defs>${shape}`).pieces;
    const drawn = meanDrawn(svg(`<defs>${gradient}</defs>${shape}`));
    expect(
      differenceEuclidean("oklab")(colour, drawn),
      `${colour} for ${JSON.stringify(drawn)}`,
    ).toBeLessThan(0.01);
  });
});

/** The mean of a drawing's pixels in OKLab, each as far as it is solid. */
function meanDrawn(text: string) {
  const { rgba } = svgToPixels(text, 200);
  const sum = { l: 0, a: 0, b: 0, weight: 0 };
  for (let at = 0; at < rgba.length; at += 4) {
    const alpha = rgba[at + 3];
    if (alpha === 0) continue;
    // The rasteriser's pixels are premultiplied.
    const [r, g, b] = [0, 1, 2].map((channel) => rgba[at + channel] / alpha);
    const lab = oklab({ mode: "rgb", r, g, b });
    sum.l += lab.l * alpha;
    sum.a += lab.a * alpha;
    sum.b += lab.b * alpha;
    sum.weight += alpha;
  }
  return { mode: "oklab" as const, l: sum.l / sum.weight, a: sum.a / sum.weight, b: sum.b / sum.weight };
}
