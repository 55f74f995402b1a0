import { describe, expect, it } from "vitest";
import type { Piece, PieceOverrides, Technique } from "../../core/artwork/types.ts";
import { distance } from "../../core/geometry/point.ts";
import { polylineLength } from "../../core/geometry/polyline.ts";
import { intersect } from "../../core/geometry/region.ts";
import type { Point, Polyline, Region } from "../../core/geometry/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { coverOf } from "../../core/techniques/cover-of.ts";
import { stitcherFor } from "../../core/techniques/stitcher.ts";
import type { StitchPart } from "../../core/techniques/types.ts";
import { strokeRegion } from "./satin-sew-out.ts";

const OAR: Polyline = [
  [0, 0],
  [20, 0],
];

const FEATHER: Region = [
  {
    outer: [
      [0, 0],
      [12, 0],
      [12, 5],
      [0, 5],
    ],
    holes: [],
  },
];

const stroke = (technique: Technique, widthMm: number, overrides: PieceOverrides = {}): Piece => ({
  id: "oar.stroke",
  element: "oar",
  paint: "stroke",
  colour: "#804020",
  region: strokeRegion(OAR, widthMm),
  line: OAR,
  widthMm,
  technique,
  overrides,
});

const fill = (technique: Technique, overrides: PieceOverrides = {}): Piece => ({
  id: "feather",
  element: "feather",
  paint: "fill",
  colour: "#334455",
  region: FEATHER,
  technique,
  overrides,
});

function sew(piece: Piece): readonly StitchPart[] {
  const stitcher = stitcherFor(piece, DEFAULT_SETTINGS);
  const [entry, exit] = [stitcher.snap([0, 0]), stitcher.snap([20, 0])];
  return stitcher.stitch(entry, exit);
}

const coverOfParts = (parts: readonly StitchPart[]): Point[] =>
  parts.filter((part) => part.role === "cover").flatMap((part) => part.points);

const longest = (points: Polyline): number =>
  Math.max(...points.slice(1).map((p, i) => distance(points[i], p)));

const countNear = (points: Polyline, y: number): number =>
  points.filter((p) => Math.abs(p[1] - y) < 0.01).length;

describe("from a piece to its stitcher", () => {
  it("sews a thin stroke as a running stitch of 2.5 mm on its line, out and back", () => {
    const points = coverOfParts(stitcherFor(stroke("run", 0.6), DEFAULT_SETTINGS).stitch([0, 0], [0, 0]));
    expect(longest(points)).toBeCloseTo(2.5, 9);
    expect(polylineLength(points)).toBeCloseTo(40, 9);
    expect(points.every(([, y]) => y === 0)).toBe(true);
  });

  it("sews it as often as the piece asks for", () => {
    const once: Piece = { ...stroke("run", 0.6), passes: 1 };
    expect(coverOfParts(sew(once))).toHaveLength(9);
  });

  it("sews a stroke of 3 mm as satin, half its width and the pull to either side", () => {
    const points = coverOfParts(sew(stroke("satin", 3)));
    expect(countNear(points, -1.7)).toBeGreaterThan(45);
    expect(countNear(points, 1.7)).toBeGreaterThan(45);
  });

  it("sews an area as fill", () => {
    const points = coverOfParts(sew(fill("fill")));
    expect(points.length).toBeGreaterThan(40);
    expect(longest(points)).toBeLessThan(5);
  });

  it("obeys what the artist set on the element", () => {
    expect(longest(coverOfParts(sew(stroke("run", 0.6, { lengthMm: 1.25 }))))).toBeCloseTo(1.25, 6);
    const wide = coverOfParts(sew(stroke("satin", 3, { spacingMm: 0.8, pullMm: 0.5 })));
    expect(countNear(wide, -2)).toBeGreaterThan(20);
    expect(countNear(wide, -2)).toBeLessThan(30);
    const sparse = coverOfParts(sew(fill("fill", { spacingMm: 1 })));
    expect(sparse.length).toBeLessThan(coverOfParts(sew(fill("fill"))).length / 1.8);
  });

  it("lays fill rows at the artist's angle", () => {
    const across = coverOfParts(sew(fill("fill", { angleDeg: 90 })));
    const steep = across.slice(1).filter((p, i) => {
      const [dx, dy] = [p[0] - across[i][0], p[1] - across[i][1]];
      return Math.abs(dy) > 2 * Math.abs(dx);
    });
    expect(steep.length).toBeGreaterThan(across.length / 2);
  });

  it("makes split satin of a stroke that is wider than satin is sewn", () => {
    const points = coverOfParts(sew(stroke("satin", 9)));
    expect(longest(points)).toBeLessThanOrEqual(7);
    expect(points.some(([, y]) => Math.abs(y) < 2.5)).toBe(true);
  });

  it("falls back to fill where satin has no line, or the line was clipped away from what is painted", () => {
    const rows = coverOfParts(sew(fill("fill")));
    expect(coverOfParts(sew(fill("satin")))).toEqual(rows);
    const left: Region = [
      {
        outer: [
          [0, -2],
          [8, -2],
          [8, 2],
          [0, 2],
        ],
        holes: [],
      },
    ];
    const whole = stroke("satin", 3);
    const clipped = { ...whole, region: intersect(whole.region, left) };
    expect(Math.max(...coverOfParts(sew(clipped)).map(([x]) => x))).toBeLessThan(8.5);
  });

  it("follows the outline where a run has no line", () => {
    const points = coverOfParts(sew(fill("run")));
    for (const corner of FEATHER[0].outer) expect(points).toContainEqual(corner);
  });

  it("sews nothing that is set to be skipped", () => {
    expect(() => stitcherFor(fill("skip"), DEFAULT_SETTINGS)).toThrow(RangeError);
  });
});

describe("what covers", () => {
  // Common practice, no source: satin and fill hide thread that lies under them, single threads do not.
  it("is the painted area of fill and satin, and nothing of running stitches", () => {
    expect(coverOf(fill("fill"))).toBe(FEATHER);
    const satin = stroke("satin", 3);
    expect(coverOf(satin)).toBe(satin.region);
    expect(coverOf(stroke("run", 0.6))).toBeNull();
    expect(coverOf(fill("skip"))).toBeNull();
  });
});
