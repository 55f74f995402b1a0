import { describe, expect, it } from "vitest";
import { distance, lerp } from "../../core/geometry/point.ts";
import { nearestOnEdge, regionContains } from "../../core/geometry/region.ts";
import type { Point } from "../../core/geometry/types.ts";
import { type FillOptions, layFill } from "../../core/techniques/fill.ts";
import type { StitchPart } from "../../core/techniques/types.ts";
import { randomPointIn, seededRandom } from "../support/random-region.ts";
import { coverage, travelSeen } from "../support/stitch-raster.ts";
import { bar, ZOO } from "./fill-zoo.ts";

// What is laid under which width, and how far inside, is common practice, no source.
const OPTIONS: FillOptions = {
  angleDeg: 0,
  spacingMm: 0.4,
  lengthMm: 4,
  minStitchMm: 0.4,
  maxStitchMm: 12.1,
  pullMm: 0.2,
  underlay: ["edge run", "cross fill"],
};

const underlayOf = (parts: readonly StitchPart[]): readonly Point[] =>
  parts.find(({ role }) => role === "underlay")?.points ?? [];

/** Points along a needle path, some ten a stitch. */
const along = (points: readonly Point[]): Point[] =>
  points.slice(1).flatMap((p, i) => Array.from({ length: 10 }, (_, k) => lerp(points[i], p, k / 10)));

/** How long the stitches are that run across the rows, more upright than level. */
const acrossMm = (points: readonly Point[]): number =>
  points.slice(1).reduce((sum, [x, y], i) => {
    const [dx, dy] = [x - points[i][0], y - points[i][1]];
    return Math.abs(dy) > 2 * Math.abs(dx) ? sum + Math.abs(dy) : sum;
  }, 0);

describe("underlay of a fill", () => {
  it("is an edge run and open rows across under a wide pennant", () => {
    const points = underlayOf(layFill(bar(30, 12), OPTIONS).stitch([0, 6], [30, 6]));
    // Rows 2 mm apart over 28.4 mm are 14, each some 10.4 mm; the edge run adds both short sides.
    expect(acrossMm(points)).toBeGreaterThan(14 * 10);
    const corner = Math.min(...points.map((p) => distance(p, [0.8, 0.8])));
    expect(corner).toBeLessThan(0.2);
  });

  it("is an edge run alone where a reed is 5 mm wide, nothing where it is 2", () => {
    const points = underlayOf(layFill(bar(40, 5), OPTIONS).stitch([0, 2], [40, 2]));
    const edgeMm = 2 * (38.4 + 3.4);
    const mm = points.slice(1).reduce((sum, p, i) => sum + distance(points[i], p), 0);
    expect(mm).toBeGreaterThan(edgeMm - 1);
    expect(mm).toBeLessThan(edgeMm + 45);
    expect(acrossMm(points)).toBeLessThan(3 * 3.4);
    expect(underlayOf(layFill(bar(40, 2), OPTIONS).stitch([0, 1], [40, 1]))).toEqual([]);
  });

  it("is left out where none is asked for", () => {
    const parts = layFill(bar(30, 12), { ...OPTIONS, underlay: [] }).stitch([0, 6], [30, 6]);
    expect(parts.some(({ role }) => role === "underlay")).toBe(false);
  });

  it("goes round the holes of a wheel too", () => {
    const points = underlayOf(
      layFill(ZOO.ring, { ...OPTIONS, underlay: ["edge run"] }).stitch([16, 8], [0, 8]),
    );
    // The ring is 3 mm wide and only just wide enough; a wider one has its hole's edge run 0.8 mm outside the hole.
    expect(points).toEqual(points.filter((p) => regionContains(ZOO.ring, p) || p === points[0]));
    const cheese = layFill(ZOO["cheese with 12 holes"], { ...OPTIONS, underlay: ["edge run"] });
    const near = underlayOf(cheese.stitch([0, 9], [24, 9]));
    const around = near.filter((p) => Math.abs(distance(p, [9.2, 9.1]) - 2.2) < 0.3);
    expect(around.length).toBeGreaterThan(5);
  });
});

describe.each([
  "disc",
  "letter B",
  "star",
  "C shape",
  "two blobs with a neck",
  "cheese with 12 holes",
  "leaf",
])("underlay of the %s", (name) => {
  const region = ZOO[name];
  const random = seededRandom(8);
  const sewn = [0, 35, 90].flatMap((angleDeg) => {
    const fill = layFill(region, { ...OPTIONS, angleDeg });
    return [0, 1, 2].map(() => {
      const [entry, exit] = [randomPointIn(region, random, 0.6), randomPointIn(region, random, 0.6)];
      return { entry, exit, parts: fill.stitch(entry, exit) };
    });
  });

  it("leads from the entry on, without a gap, and the fill still ends at the exit", () => {
    for (const { entry, exit, parts } of sewn) {
      expect(parts[0].points[0]).toEqual(entry);
      expect(parts.at(-1)?.points.at(-1)).toEqual(exit);
      for (let i = 1; i < parts.length; i++) expect(parts[i].points[0]).toEqual(parts[i - 1].points.at(-1));
      for (const { points } of parts)
        for (let i = 1; i < points.length; i++)
          expect(distance(points[i - 1], points[i])).toBeLessThanOrEqual(OPTIONS.lengthMm + 1e-6);
    }
  });

  it("keeps inside the edge, but for the way from the entry and through necks", () => {
    for (const { parts } of sewn) {
      const places = along(underlayOf(parts));
      const near = places.filter(
        (p) => !regionContains(region, p) || nearestOnEdge(region, p).distance < 0.6,
      );
      expect(places.length).toBeGreaterThan(20);
      expect(near.length / places.length).toBeLessThan(name === "two blobs with a neck" ? 0.3 : 0.12);
    }
  });

  it("shows nowhere, and takes nothing from the cover", () => {
    let hiddenMm = 0;
    let visibleMm = 0;
    for (const { parts } of sewn) {
      visibleMm += travelSeen(region, parts, 0.42, 0.05).visibleMm;
      for (const { role, points } of parts)
        for (let i = 1; role !== "cover" && i < points.length; i++)
          hiddenMm += distance(points[i - 1], points[i]);
      expect(coverage(region, parts, 0.42, 0.1).share).toBeGreaterThan(0.96);
    }
    expect(visibleMm / hiddenMm).toBeLessThan(0.01);
  });
});
