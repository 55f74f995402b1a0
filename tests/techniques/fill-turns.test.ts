import { describe, expect, it } from "vitest";
import { distance } from "../../core/geometry/point.ts";
import { regionFromRings } from "../../core/geometry/region.ts";
import type { Point, Region } from "../../core/geometry/types.ts";
import { layFill } from "../../core/techniques/fill.ts";
import { coverage } from "../support/stitch-raster.ts";
import { bar, ZOO } from "./fill-zoo.ts";

// That a stitch under 1 mm is short, and under 0.4 mm not worth sewing, is common practice, no source.
const SHORT_MM = 1;
const OPTIONS = {
  angleDeg: 0,
  spacingMm: 0.4,
  lengthMm: 4,
  minStitchMm: 0.4,
  maxStitchMm: 12.1,
  pullMm: 0.2,
};

function needlePoints(region: Region, entry: Point, exit: Point): Point[] {
  const parts = layFill(region, OPTIONS).stitch(entry, exit);
  return parts.flatMap(({ points }, i) => (i === 0 ? points : points.slice(1)));
}

const lengthsOf = (points: readonly Point[]): number[] =>
  points.slice(1).map((p, i) => distance(points[i], p));

/** Heights of needle points on one edge, sorted. */
const heightsAt = (points: readonly Point[], x: number): number[] =>
  points
    .filter((p) => Math.abs(p[0] - x) < 1e-6)
    .map((p) => p[1])
    .sort((a, b) => a - b);

/** The field of a flag with a small tab beyond its lower left corner, as is left where something covers the rest. */
const FIELD_WITH_TAB = regionFromRings(
  [
    [
      [0.5, 0],
      [70, 0],
      [70, 25],
      [1.8, 25],
      [1.4, 25.32],
      [0.86, 25.32],
      [1.25, 25],
      [0.56, 25],
      [0, 24],
    ],
  ],
  "nonzero",
);

describe("rows turn", () => {
  it("from one of a tab into a long one without a slant over its whole length", () => {
    for (const [entry, exit] of [
      [
        [20, 24.5],
        [70, 5],
      ],
      [
        [1.2, 25.2],
        [70, 5],
      ],
      [
        [70, 5],
        [1.2, 25.2],
      ],
    ] as [Point, Point][]) {
      const points = needlePoints(FIELD_WITH_TAB, entry, exit);
      const slanting = points
        .slice(1)
        .filter((p, i) => Math.abs(p[0] - points[i][0]) > 2 && Math.abs(p[1] - points[i][1]) > 0.01)
        .filter((p) => p[1] > 24.4);
      // One stitch may lead to the exit, and travel goes from row to row.
      expect(slanting.length).toBeLessThan(4);
    }
  });

  it("without a short stitch, but where the needle comes and goes", () => {
    for (const width of [1.2, 1.8, 2.5, 3, 6, 20]) {
      const short = lengthsOf(needlePoints(bar(width, 12), [0, 0], [width, 12])).filter(
        (mm) => mm < SHORT_MM - 1e-6,
      );
      expect(short.length, `${width} mm wide`).toBeLessThanOrEqual(4);
    }
  });

  it("with a needle point on the outline for every row, on both sides", () => {
    for (const width of [1.2, 1.8, 3, 20]) {
      const points = needlePoints(bar(width, 12), [0, 0], [width, 12]);
      // The pull compensation moves the edges out by 0.2 mm.
      for (const x of [-0.2, width + 0.2]) {
        const heights = heightsAt(points, x);
        const gaps = heights.slice(1).map((y, i) => y - heights[i]);
        expect(Math.max(...gaps), `${width} mm wide`).toBeLessThan(0.45);
      }
    }
  });

  it("by hooks of several depths, so that their needle points draw no line along the edge", () => {
    const points = needlePoints(bar(20, 12), [0, 0], [20, 12]);
    for (const [edge, inward] of [
      [-0.2, 1],
      [20.2, -1],
    ]) {
      const hooks = points.filter((p, i) => {
        const [before, after] = [points[i - 1], points[i + 1]];
        return before && after && [before, after].every((q) => Math.abs(q[0] - edge) < 1e-6) && p[0] !== edge;
      });
      const depths = hooks.map((p) => Math.round(10 * inward * (p[0] - edge)) / 10);
      expect(hooks.length).toBeGreaterThan(10);
      expect(new Set(depths).size).toBeGreaterThanOrEqual(4);
      expect(Math.max(...depths)).toBeLessThan(1.7);
      for (let i = 1; i < depths.length; i++) expect(depths[i]).not.toBe(depths[i - 1]);
    }
  });

  it("never twice in one needle hole", () => {
    for (const width of [1.8, 20]) {
      const points = needlePoints(bar(width, 12), [0, 0], [width, 12]);
      for (const x of [-0.2, width + 0.2]) {
        const heights = heightsAt(points, x).slice(1, -1);
        for (let i = 1; i < heights.length; i++) expect(heights[i] - heights[i - 1]).toBeGreaterThan(0.19);
      }
    }
  });

  it("as a zigzag where it is slim, which leaves nothing bare", () => {
    for (const width of [1, 1.4, 2]) {
      const parts = layFill(bar(width, 12), OPTIONS).stitch([0, 0], [width, 12]);
      expect(coverage(bar(width, 12), parts, 0.42, 0.05).share, `${width} mm wide`).toBeGreaterThan(0.98);
    }
  });

  it("so that at most an eighth of all stitches are short, even in shapes that are mostly edge", () => {
    for (const name of ["disc", "ring", "letter B", "C shape", "star", "comb"]) {
      const [entry, exit] = [ZOO[name][0].outer[0], ZOO[name][0].outer[5]];
      const all = lengthsOf(needlePoints(ZOO[name], entry, exit));
      const short = all.filter((mm) => mm < SHORT_MM - 1e-6);
      expect(short.length / all.length, name).toBeLessThan(0.125);
    }
  });

  it("plainly where rows lie so far apart that the step between them is a stitch", () => {
    const open = layFill(bar(20, 12), { ...OPTIONS, spacingMm: 1.5 }).stitch([0, 0], [20, 12]);
    const points = open.flatMap((part) => part.points);
    // No needle point between two rows: all lie on the eight rows, but entry and exit.
    const heights = new Set(points.slice(1, -1).map((p) => Math.round(p[1] * 1000)));
    expect(heights.size).toBe(8);
  });
});
