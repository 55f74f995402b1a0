/**
 * What masks leave to be sewn, against @resvg/resvg-js, a rasteriser that shares nothing with the reader: where it
 * draws at half strength or more, thread lies, and nowhere else. Each case is water, a crest or a pennant cut by a
 * mask one way that CSS Masking 1 allows.
 */
import { describe, expect, it } from "vitest";
import { regionArea, union } from "../../core/geometry/region.ts";
import { svgToPixels } from "../support/png.ts";
import { codes, readContent, svg } from "../support/read.ts";

const WATER = `<rect x="10" y="20" width="80" height="60" fill="#245a75" mask="url(#m)"/>`;
const ROUND = `<circle cx="50" cy="50" r="28" fill="#fff"/>`;

const CASES: readonly (readonly [about: string, content: string])[] = [
  ["a white circle", `<mask id="m">${ROUND}</mask>${WATER}`],
  ["black in white", `<mask id="m">${ROUND}<rect x="40" y="10" width="14" height="80"/></mask>${WATER}`],
  [
    "white in black in white",
    `<mask id="m">${ROUND}<circle cx="50" cy="50" r="18"/><circle cx="50" cy="50" r="9" fill="#fff"/></mask>${WATER}`,
  ],
  ["its strokes too", `<mask id="m"><path d="M5 30L95 60" stroke="#fff" stroke-width="12"/></mask>${WATER}`],
  [
    "a circle that is clear in part: kept above a half",
    `<mask id="m"><g opacity=".7">${ROUND}</g></mask>${WATER}`,
  ],
  [
    "faint white: nothing",
    `<mask id="m"><circle cx="50" cy="50" r="28" fill="#fff" fill-opacity=".3"/></mask>${WATER}`,
  ],
  [
    "dark colours by how bright they are",
    `<mask id="m"><rect width="100" height="50" fill="#ffd23f"/><rect y="50" width="100" height="50" fill="#245a75"/></mask>${WATER}`,
  ],
  [
    "by alpha: black lets through",
    `<mask id="m" mask-type="alpha"><circle cx="30" cy="40" r="20"/></mask>${WATER}`,
  ],
  [
    "its window, a tenth larger than the box",
    `<mask id="m"><rect width="100" height="100" fill="#fff"/></mask><g mask="url(#m)"><path d="M20 50H80" stroke="#245a75" stroke-width="30" fill="none"/><path d="M50 40V60" stroke="#245a75" fill="none"/></g>`,
  ],
  [
    "a window of its own",
    `<mask id="m" maskUnits="userSpaceOnUse" x="30" y="0" width="25" height="60"><rect width="100" height="100" fill="#fff"/></mask>${WATER}`,
  ],
  [
    "measured in the box",
    `<mask id="m" maskContentUnits="objectBoundingBox"><circle cx=".5" cy=".5" r=".4" fill="#fff"/></mask>${WATER}`,
  ],
  [
    "on a group that is turned",
    `<mask id="m">${ROUND}</mask><g mask="url(#m)" transform="rotate(20) translate(12 -8)"><rect x="10" y="20" width="80" height="30" fill="#245a75"/><rect x="10" y="50" width="80" height="30" fill="#8fb8c9"/></g>`,
  ],
  [
    "a mask that is clipped and masked itself",
    `<mask id="n"><rect width="60" height="100" fill="#fff"/></mask><clipPath id="c"><rect y="40" width="100" height="60"/></clipPath><mask id="m" mask="url(#n)"><g clip-path="url(#c)">${ROUND}</g></mask>${WATER}`,
  ],
];

describe("what a mask lets half through, or more, is sewn", () => {
  it.each(CASES)("%s", (_, content) => {
    const { pieces } = readContent(content);
    const sewnMm2 = regionArea(union(pieces.map(({ region }) => region)));
    expect(Math.abs(sewnMm2 - drawnMm2(svg(content)))).toBeLessThan(6);
  });

  it("says where a mask is soft, and where one can't be followed", () => {
    const fade = `<linearGradient id="g"><stop stop-color="#fff"/><stop offset="1"/></linearGradient>`;
    expect(
      codes(
        readContent(`${fade}<mask id="m"><rect width="100" height="100" fill="url(#g)"/></mask>${WATER}`),
      ),
    ).toContain("mask-hard-edged");
    expect(codes(readContent(`<mask id="m">${ROUND}</mask>${WATER}`))).toEqual([]);
    expect(codes(readContent(`<mask id="m"><g mask="url(#m)">${ROUND}</g></mask>${WATER}`))).toEqual([
      "mask-left-out",
    ]);
    expect(codes(readContent(WATER))).toEqual(["missing-reference"]);
  });
});

/** The area that is drawn at half strength or more: of 1 mm² some thousandths belong to pixels on the edge. */
function drawnMm2(text: string): number {
  const { rgba } = svgToPixels(text, 800);
  let pixels = 0;
  for (let at = 3; at < rgba.length; at += 4) if (rgba[at] >= 128) pixels++;
  return pixels / 64;
}
