/** Partly transparent areas are sewn in the colours that they have in the drawing, which resvg draws to compare. */
import { Resvg } from "@resvg/resvg-js";
import { describe, expect, test } from "vitest";
import { mixedColour } from "../../core/artwork/see-through.ts";
import { regionArea, regionContains } from "../../core/geometry/region.ts";
import type { Point } from "../../core/geometry/types.ts";
import { codes, readContent } from "../support/read.ts";

/** Water, a boat's hull on it, and a sheen over both that reaches beyond. */
const LAKE = `
  <rect id="water" x="0" y="20" width="60" height="30" fill="#3b7ea1"/>
  <rect id="hull" x="20" y="10" width="20" height="25" fill="#a04030"/>
  <path id="sheen" d="M10 25H50V45H10Z" fill="#fff" fill-opacity=".5" opacity=".8"/>`;

const PX_A_MM = 4;

/** The colours that resvg draws at some places of a drawing 60 mm wide and 50 high. */
function drawnAt(content: string, places: readonly Point[]): string[] {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 50">${content}</svg>`;
  const { pixels, width } = new Resvg(svg, { fitTo: { mode: "width", value: 60 * PX_A_MM } }).render();
  return places.map(([x, y]) => {
    const at = 4 * (Math.floor(y * PX_A_MM) * width + Math.floor(x * PX_A_MM));
    return `#${Buffer.from(pixels.subarray(at, at + 3)).toString("hex")}`;
  });
}

const channels = (hex: string): number[] => [1, 3, 5].map((k) => Number.parseInt(hex.slice(k, k + 2), 16));

describe("a sheen over two colours", () => {
  const { pieces } = readContent(LAKE);
  const sheen = pieces.filter(({ element }) => element === "sheen");

  test("has the colours that resvg draws, within one step of 256 a channel", () => {
    const places: Point[] = [
      [15, 40],
      [30, 30],
    ];
    const drawn = drawnAt(LAKE, places);
    for (const [k, place] of places.entries()) {
      const top = pieces.filter(({ region }) => regionContains(region, place)).at(-1);
      const [sewn, wanted] = [channels(top?.colour ?? "#000000"), channels(drawn[k])];
      for (const c of [0, 1, 2]) expect(Math.abs(sewn[c] - wanted[c])).toBeLessThanOrEqual(1);
    }
  });

  test("is a piece for each, which together are the sheen and do not overlap", () => {
    expect(sheen.map(({ id }) => id)).toEqual(["sheen", "sheen.2"]);
    const [water, hull] = sheen.map(({ region }) => regionArea(region));
    expect(hull).toBeCloseTo(20 * 10, 1);
    expect(water + hull).toBeCloseTo(40 * 20, 1);
  });
});

describe("what does not fall into pieces", () => {
  test("over one colour, the whole is mixed with it", () => {
    const { pieces } = readContent(
      `<rect width="40" height="40" fill="#000000"/><g opacity=".25"><circle cx="20" cy="20" r="9" fill="#ffffff"/></g>`,
    );
    expect(pieces.map(({ colour }) => colour)).toEqual(["#000000", "#404040"]);
  });

  test("over bare fabric, an area is sewn as solid", () => {
    const { pieces } = readContent(`<rect width="40" height="40" fill="#123456" opacity=".5"/>`);
    expect(pieces.map(({ colour }) => colour)).toEqual(["#123456"]);
  });

  test("what is fainter than a quarter is not sewn over bare fabric, only over thread", () => {
    const art = readContent(
      `<rect width="40" height="40" fill="#123456"/><rect id="glass" x="20" width="40" height="40" fill="#ffffff" opacity=".2"/>`,
    );
    const [, glass] = art.pieces;
    expect(art.pieces).toHaveLength(2);
    expect(glass.colour).toBe(mixedColour("#ffffff", "#123456", 0.2));
    expect(regionArea(glass.region)).toBeCloseTo(20 * 40, 1);
    expect(codes(art)).toContain("too-faint");
    expect(readContent(`<rect width="40" height="40" opacity=".2"/>`).pieces).toEqual([]);
    expect(readContent(`<path d="M0 9H40" stroke="#fff" stroke-width="3" opacity=".2"/>`).pieces).toEqual([]);
  });

  test("parts too small to be seen go with the largest", () => {
    const { pieces } = readContent(
      `<rect width="40" height="40" fill="#000000"/><rect x="39.8" width="1" height="40" fill="#ff0000"/><rect width="40" height="40" fill="#ffffff" opacity=".5"/>`,
    );
    expect(pieces).toHaveLength(3);
  });

  test("a line takes the colour that most of it has", () => {
    const { pieces } = readContent(
      `<rect width="30" height="40" fill="#000000"/><rect x="30" width="10" height="40" fill="#ff0000"/><path d="M2 20H38" stroke="#ffffff" stroke-width="2" stroke-opacity=".5"/>`,
    );
    expect(pieces.map(({ colour }) => colour)).toEqual(["#000000", "#ff0000", "#808080"]);
  });
});

// By hand: 0.5 · 255 + 0.5 · 0 = 127.5, rounded to 128 = 0x80.
test("mixes channel by channel", () => expect(mixedColour("#ffffff", "#000000", 0.5)).toBe("#808080"));
