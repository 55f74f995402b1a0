import { describe, expect, it } from "vitest";
import { polylineLength } from "../../core/geometry/polyline.ts";
import { regionArea, regionBox } from "../../core/geometry/region.ts";
import { read, readContent, svg } from "../support/read.ts";

const pieces = (content: string) => readContent(content).pieces;

/** Ten times as large as the drawing, where the flattening tolerance hardly counts; in square user units. */
const area = (content: string) =>
  readContent(content, { widthMm: 1000 }).pieces.reduce((sum, { region }) => sum + regionArea(region), 0) /
  100;

const stroked = (d: string, more = "") =>
  `<path d="${d}" fill="none" stroke="#123" stroke-width="4" ${more}/>`;

/** Areas by elementary geometry. */
describe("the area of a stroke", () => {
  it.each([
    ["a straight line with butt caps", stroked("M10 10h50"), 200],
    ["with square caps", stroked("M10 10h50", 'stroke-linecap="square"'), 216],
    ["with round caps", stroked("M10 10h50", 'stroke-linecap="round"'), 200 + Math.PI * 4],
    ["a right angle, mitred", stroked("M10 10h40v40"), 160 + 160 - 4 + 4],
    ["a right angle, bevelled", stroked("M10 10h40v40", 'stroke-linejoin="bevel"'), 320 - 4 + 2],
    ["a right angle, rounded", stroked("M10 10h40v40", 'stroke-linejoin="round"'), 320 - 4 + Math.PI],
    ["a right angle beyond the miter limit", stroked("M10 10h40v40", 'stroke-miterlimit="1.4"'), 320 - 4 + 2],
    ["a closed square, mitred", stroked("M20 20h40v40h-40z"), 44 * 44 - 36 * 36],
    ["a turn back on itself", stroked("M10 10h50h-50"), 200],
    [
      "a circle",
      '<circle cx="50" cy="50" r="30" fill="none" stroke="red" stroke-width="4"/>',
      Math.PI * (32 ** 2 - 28 ** 2),
    ],
    [
      "an ellipse's, stretched with it",
      '<circle cx="50" cy="100" r="30" transform="scale(1 .5)" fill="none" stroke="red" stroke-width="4"/>',
      (Math.PI * (32 ** 2 - 28 ** 2)) / 2,
    ],
    [
      "of fixed width, not stretched",
      '<path d="M10 10h10" transform="scale(4)" vector-effect="non-scaling-stroke" stroke="red" stroke-width="3.7795275590551"/>',
      40,
    ],
    ["a dot with round caps", stroked("M50 50h0", 'stroke-linecap="round"'), Math.PI * 4],
    ["a dot with square caps", stroked("M50 50z", 'stroke-linecap="square"'), 16],
    ["a dot with butt caps", stroked("M50 50h0"), 0],
    ["a lone moveto", stroked("M50 50", 'stroke-linecap="round"'), 0],
  ])("%s", (_, content, expected) => {
    const tolerance = Math.max(0.005 * expected, 1e-6);
    expect(Math.abs(area(content) - expected)).toBeLessThanOrEqual(tolerance);
  });
});

describe("dashes", () => {
  const spans = (content: string) =>
    pieces(content).map(({ region }) => {
      const { minX, maxX } = regionBox(region);
      return [minX, maxX].map((mm) => Math.round(mm * 100) / 100);
    });
  it.each([
    [
      "one piece each",
      "20 10",
      "",
      [
        [10, 30],
        [40, 60],
      ],
    ],
    [
      "an odd list counts twice",
      "15 5 10",
      "",
      [
        [10, 25],
        [30, 40],
        [55, 60],
      ],
    ],
    [
      "an offset begins within the pattern",
      "20 10",
      'stroke-dashoffset="5"',
      [
        [10, 25],
        [35, 55],
      ],
    ],
    [
      "a negative offset begins with the gap's end",
      "20 10",
      'stroke-dashoffset="-5"',
      [
        [15, 35],
        [45, 60],
      ],
    ],
    ["a negative entry makes the line solid", "20 -10", "", [[10, 60]]],
    ["nothing but zeros makes it solid", "0 0", "", [[10, 60]]],
    [
      "pathLength rescales them",
      "2 1",
      'pathLength="5"',
      [
        [10, 30],
        [40, 60],
      ],
    ],
  ])("%s", (_, list, more, expected) =>
    expect(spans(stroked("M10 10h50", `stroke-dasharray="${list}" ${more}`))).toEqual(expected),
  );

  it("of a closed path begin at its start", () => {
    const [first] = pieces(stroked("M20 20h40v40h-40z", 'stroke-dasharray="10 150"'));
    expect(first.line?.at(0)).toEqual([20, 20]);
    expect(first.line?.at(-1)?.[0]).toBeCloseTo(30, 6);
  });

  it("without length are dots", () =>
    expect(area(stroked("M10 10h50", 'stroke-dasharray="0 25" stroke-linecap="round"'))).toBeCloseTo(
      3 * Math.PI * 4,
      0,
    ));
});

describe("the technique of a piece", () => {
  const techniques = (content: string) => pieces(content).map(({ technique }) => technique);
  const line = (width: number, more = "") =>
    `<path d="M10 50h80" stroke="red" stroke-width="${width}" ${more}/>`;
  // Common practice, no source: satin from 1 to 7 mm.
  it.each([
    ["fill for an area", '<rect width="9" height="9"/>', "fill"],
    ["run for a line below 1 mm", line(0.9), "run"],
    ["satin from 1 mm", line(1), "satin"],
    ["satin to 7 mm", line(7), "satin"],
    ["fill beyond", line(7.1), "fill"],
    ["what the element says", line(3, 'data-tuck-technique="run"'), "run"],
    ["what its group says", `<g data-tuck-technique="skip">${line(3)}</g>`, "skip"],
    [
      "the element before its group",
      `<g data-tuck-technique="skip">${line(3, 'data-tuck-technique="satin"')}</g>`,
      "satin",
    ],
    [
      "a fill at first where satin is asked of an area: its shape decides on the columns later",
      '<rect width="9" height="9" data-tuck-technique="satin"/>',
      "fill",
    ],
  ])("%s", (_, content, technique) => expect(techniques(content)).toEqual([technique]));

  it("run on an area follows its outer edge", () => {
    const [piece] = pieces('<rect width="20" height="10" data-tuck-technique="run"/>');
    expect(polylineLength(piece.line ?? [])).toBeCloseTo(60, 6);
    expect(piece.line?.at(0)).toEqual(piece.line?.at(-1));
  });

  it("keeps the artist's settings, and names what a bad one may be", () => {
    const art = readContent(
      '<rect width="9" height="9" data-tuck-angle="45" data-tuck-spacing="0.5" data-tuck-strand="wing" data-tuck-technique="zigzag"/>',
    );
    expect(art.pieces[0].overrides).toEqual({ angleDeg: 45, spacingMm: 0.5, strand: "wing" });
    expect(art.findings).toHaveLength(1);
    expect(art.findings[0].remedy).toBe("Use one of fill, satin, run, skip.");
  });
});

describe("a stroke as pieces", () => {
  it("comes after the fill, or before it by paint-order", () => {
    const rect = (more: string) => `<rect id="oar" x="9" y="9" width="30" height="30" stroke="red" ${more}/>`;
    expect(pieces(rect("")).map(({ id }) => id)).toEqual(["oar", "oar.stroke"]);
    expect(pieces(rect('paint-order="stroke"')).map(({ id }) => id)).toEqual(["oar.stroke", "oar"]);
  });

  it("has its centre line and width, closed where the path is", () => {
    const [open, closed] = pieces(stroked("M10 10h50M20 20h40v40h-40z"));
    expect(open.line).toEqual([
      [10, 10],
      [60, 10],
    ]);
    expect(open.widthMm).toBeCloseTo(4, 9);
    expect(closed.line).toHaveLength(5);
    expect(closed.line?.at(0)).toEqual(closed.line?.at(-1));
    expect(closed.region[0].holes).toHaveLength(1);
  });

  it("is cut into parts by a clip, each with its part of the line", () => {
    const clip = '<clipPath id="c"><path d="M0 0h20v90h-20zM40 0h30v90h-30z"/></clipPath>';
    const parts = pieces(clip + stroked("M10 10h50", 'clip-path="url(#c)"'));
    expect(parts.map(({ line }) => Math.round(polylineLength(line ?? [])))).toEqual([10, 20]);
    expect(parts.map(({ region }) => Math.round(regionArea(region)))).toEqual([40, 80]);
  });
});

describe("what can be seen in a piece does not depend on how its path is written", () => {
  const wing = "M20 20C40 0 60 10 80 30L70 70Q40 90 25 60z";
  const [piece] = pieces(`<path d="${wing}"/>`);

  it("whether it is drawn backwards", () => {
    const [back] = pieces('<path d="M20 20L25 60Q40 90 70 70L80 30C60 10 40 0 20 20z"/>');
    expect(regionArea(back.region)).toBeCloseTo(regionArea(piece.region), 6);
    expect(back.region[0].outer[0]).toEqual(piece.region[0].outer[0]);
  });

  it("whether it is mirrored twice", () => {
    const [mirrored] = pieces(`<g transform="scale(-1 1)"><path transform="scale(-1 1)" d="${wing}"/></g>`);
    expect(mirrored.region).toEqual(piece.region);
  });

  it("however large the user units are", () => {
    const [scaled] = read(
      svg(`<g transform="scale(100)"><path transform="scale(.01)" d="${wing}"/></g>`),
    ).pieces;
    expect(regionArea(scaled.region)).toBeCloseTo(regionArea(piece.region), 3);
  });

  it("nor is it the worse for being read twice", () =>
    expect(pieces(`<path d="${wing}"/>`)).toEqual([piece]));
});
