/** Places to take a mean over: each stands for the same share of the area. */
import { describe, expect, test } from "vitest";
import { spreadPoints } from "../../core/artwork/spread-points.ts";
import { regionContains } from "../../core/geometry/region.ts";
import type { Region } from "../../core/geometry/types.ts";

const box = (x: number, y: number, width: number, height: number): Region => [
  {
    outer: [
      [x, y],
      [x + width, y],
      [x + width, y + height],
      [x, y + height],
    ],
    holes: [],
  },
];

describe("places spread over an area", () => {
  test("fall on its parts by their size, however narrow: a paddle's blade and its shaft", () => {
    const places = spreadPoints([...box(0, 0, 10, 20), ...box(10, 9.8, 500, 0.4)]);
    const onBlade = places.filter(([x]) => x < 10).length;
    expect(places.length).toBeGreaterThan(200);
    // 200 mm² of blade, 200 mm² of shaft.
    expect(onBlade / places.length).toBeGreaterThan(0.45);
    expect(onBlade / places.length).toBeLessThan(0.55);
  });

  test("lie inside, and not in its holes: a lifebuoy", () => {
    const buoy: Region = [{ ...box(0, 0, 30, 30)[0], holes: [[...box(10, 10, 10, 10)[0].outer].reverse()] }];
    expect(spreadPoints(buoy).every((place) => regionContains(buoy, place))).toBe(true);
  });

  test("are one at least where there is anything, and none where there is nothing", () => {
    expect(spreadPoints(box(3, 4, 1e-4, 1e-4)).length).toBeGreaterThan(0);
    expect(spreadPoints([])).toEqual([]);
  });
});
