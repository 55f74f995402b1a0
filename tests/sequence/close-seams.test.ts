/** Neighbours that abut reach under one another. Amounts are common practice, no source. */
import { describe, expect, test } from "vitest";
import type { Piece } from "../../core/artwork/types.ts";
import { intersect, regionArea, subtract, union } from "../../core/geometry/region.ts";
import { closeSeams } from "../../core/sequence/close-seams.ts";
import { box, CREAM, inOrder, NAVY, REED } from "../support/pieces.ts";

const closed = (...pieces: Piece[]): readonly Piece[] => closeSeams(inOrder(...pieces)).pieces;
const shared = (a: Piece, b: Piece): number => regionArea(intersect(a.region, b.region));

describe("water and sky that abut along 20 mm", () => {
  const water = box("water", 0, 10, 20, 10, NAVY);
  const sky = box("sky", 0, 0, 20, 10, CREAM);

  test("the earlier one reaches 0.3 mm under the later one", () => {
    const [grown, same] = closed(water, sky);
    expect(same).toBe(sky);
    expect(shared(grown, sky)).toBeCloseTo(20 * 0.3, 0);
    expect(grown.region).toHaveLength(1);
  });

  test("whichever is the earlier one", () => {
    const [grown] = closed(sky, water);
    expect(shared(grown, water)).toBeCloseTo(20 * 0.3, 0);
  });

  test("what lies on top stays as drawn", () => {
    const [grown] = closed(water, sky);
    expect(regionArea(subtract(grown.region, union([water.region, sky.region])))).toBeLessThan(0.1);
  });

  test("a gap of 0.2 mm is bridged, one of 0.5 mm is a drawn line", () => {
    const apart = (mm: number) => box("sky", 0, -mm, 20, 10, CREAM);
    const [grown] = closed(water, apart(0.2));
    expect(regionArea(grown.region)).toBeGreaterThan(20 * 10 + 20 * 0.2 + 5);
    expect(closed(water, apart(0.5))[0]).toBe(water);
  });

  test("a gap that shows an earlier piece stays: that is a drawn line too", () => {
    const night = box("night", -5, -20, 30, 50, REED);
    const [, same] = closed(night, water, box("sky", 0, -0.2, 20, 10, CREAM));
    expect(regionArea(same.region)).toBeLessThan(20 * 10 + 0.5);
  });
});

describe("no seam", () => {
  test("pieces that overlap by more than the seam stay as they are", () => {
    const water = box("water", 0, 5, 20, 10, NAVY);
    expect(closed(water, box("sky", -2, 0, 24, 10, CREAM))[0]).toBe(water);
  });

  test("a corner that touches", () => {
    const water = box("water", 0, 10, 10, 10, NAVY);
    expect(closed(water, box("sky", 10, 0, 10, 10, CREAM))[0]).toBe(water);
  });

  test("an earlier satin is not reshaped", () => {
    const oar: Piece = { ...box("oar", 0, 10, 20, 3, NAVY), technique: "satin" };
    expect(closed(oar, box("sky", 0, 0, 20, 10, CREAM))[0]).toBe(oar);
  });
});
