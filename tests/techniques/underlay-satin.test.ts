import { describe, expect, it } from "vitest";
import { distance } from "../../core/geometry/point.ts";
import { nearestOnEdge, regionContains } from "../../core/geometry/region.ts";
import type { Point, Polyline } from "../../core/geometry/types.ts";
import type { UnderlayKind } from "../../core/recipes/advice.ts";
import { laySatin } from "../../core/techniques/satin.ts";
import type { StitchPart } from "../../core/techniques/types.ts";
import { randomPointIn, seededRandom } from "../support/random-region.ts";
import { travelSeen } from "../support/stitch-raster.ts";
import { circle, curve, strokeRegion } from "./satin-sew-out.ts";

// What is laid under which width is common practice, no source.
const OPTIONS = {
  spacingMm: 0.4,
  pullMm: 0.2,
  minStitchMm: 0.4,
  runLengthMm: 2.5,
  maxStitchMm: 12.1,
  threadWidthMm: 0.4,
};
const WOVEN: readonly UnderlayKind[] = ["centre run", "zigzag"];
const KNIT: readonly UnderlayKind[] = ["edge run", "zigzag"];

const oar: Polyline = [
  [0, 0],
  [30, 0],
];

const underlayOf = (parts: readonly StitchPart[]): readonly Point[] =>
  parts.filter(({ role }) => role === "underlay").flatMap(({ points }) => points);

const sewOar = (widthMm: number, underlay: readonly UnderlayKind[], entry: Point = [0, 0]) =>
  laySatin(oar, widthMm, strokeRegion(oar, widthMm), { ...OPTIONS, underlay }).stitch(entry, [30, 0]);

describe("underlay of a satin", () => {
  it("is a centre run under an oar's shaft of 3 mm, once out and once back", () => {
    const points = underlayOf(sewOar(3, WOVEN));
    expect(Math.max(...points.map(([, y]) => Math.abs(y)))).toBeLessThan(0.05);
    const mm = points.slice(1).reduce((sum, p, i) => sum + distance(points[i], p), 0);
    expect(mm).toBeGreaterThan(50);
    expect(mm).toBeLessThan(60);
  });

  it("is the travel itself where that leads along the middle anyway", () => {
    const parts = sewOar(3, WOVEN, [30, 0]);
    expect(underlayOf(parts)).toEqual([]);
    expect(parts.some(({ role }) => role === "travel")).toBe(true);
  });

  it("is a zigzag under an oar's blade of 6 mm, with edge runs besides on a knit", () => {
    for (const kinds of [WOVEN, KNIT]) {
      const points = underlayOf(sewOar(6, kinds));
      const across = points.slice(1).filter(([, y], i) => Math.abs(y - points[i][1]) > 4).length;
      expect(across).toBeGreaterThan(12);
    }
    const edges = underlayOf(sewOar(6, KNIT))
      .slice(1)
      .filter(([, y], i, all) => i > 0 && Math.abs(y) > 2.3 && y === all[i - 1][1]);
    expect(edges.length).toBeGreaterThan(16);
  });

  it("is none where the satin is narrow, or none is asked for", () => {
    expect(underlayOf(sewOar(1.6, KNIT))).toEqual([]);
    expect(underlayOf(sewOar(6, []))).toEqual([]);
  });
});

describe.each([
  ["oar's blade", oar, 6],
  ["heron's neck", curve((t) => [24 * t, 4 * Math.sin(2 * Math.PI * t)], 20), 5],
  ["life ring", circle(10, 10, 10), 5],
  [
    "boat house corner",
    [
      [0, 0],
      [14, 0],
      [14, 14],
    ] as Polyline,
    5,
  ],
] as const)("underlay of the %s", (_, line, widthMm) => {
  const region = strokeRegion(line, widthMm);
  const random = seededRandom(4);
  const sewn = [WOVEN, KNIT].flatMap((underlay) =>
    [0, 1, 2, 3].map(() => {
      const [entry, exit] = [randomPointIn(region, random, 0.5), randomPointIn(region, random, 0.5)];
      const parts = laySatin(line, widthMm, region, { ...OPTIONS, underlay }).stitch(entry, exit);
      return { entry, exit, parts };
    }),
  );

  it("keeps inside the edge and shows nowhere", () => {
    let hiddenMm = 0;
    let visibleMm = 0;
    for (const { parts } of sewn) {
      for (const p of underlayOf(parts).slice(1))
        if (nearestOnEdge(region, p).distance < 0.35) expect(regionContains(region, p)).toBe(true);
      visibleMm += travelSeen(region, parts, 0.42, 0.05).visibleMm;
      for (const { role, points } of parts)
        for (let i = 1; role !== "cover" && i < points.length; i++)
          hiddenMm += distance(points[i - 1], points[i]);
    }
    expect(hiddenMm).toBeGreaterThan(100);
    expect(visibleMm / hiddenMm).toBeLessThan(0.01);
  });

  it("joins the parts before and after it, from the very entry to the very exit", () => {
    for (const { entry, exit, parts } of sewn) {
      expect(parts[0].points[0]).toEqual(entry);
      expect(parts.at(-1)?.points.at(-1)).toEqual(exit);
      for (let i = 1; i < parts.length; i++) expect(parts[i].points[0]).toEqual(parts[i - 1].points.at(-1));
      for (const { points } of parts)
        for (let i = 1; i < points.length; i++)
          expect(distance(points[i - 1], points[i])).toBeLessThanOrEqual(OPTIONS.maxStitchMm);
    }
  });
});
