import { describe, expect, it } from "vitest";
import { polylineRegionDistance, regionDistance } from "../../core/geometry/distance.ts";
import { distance, nearestOnSegment } from "../../core/geometry/point.ts";
import { closeRing } from "../../core/geometry/polyline.ts";
import { distanceToRegion, ringsOf } from "../../core/geometry/region.ts";
import type { Point, Polyline, Region } from "../../core/geometry/types.ts";
import { randomRegion, randomRing, seededRandom } from "../support/random-region.ts";

const square = (x: number, y: number, size: number): Region => [
  {
    outer: [
      [x, y],
      [x + size, y],
      [x + size, y + size],
      [x, y + size],
    ],
    holes: [],
  },
];
const shift = (region: Region, by: number): Region =>
  region.map(({ outer, holes }) => {
    const move = (ring: Polyline): Point[] => ring.map(([x, y]) => [x + by, y]);
    return { outer: move(outer), holes: holes.map(move) };
  });

describe("the distance of two regions", () => {
  it("lies between their nearest edges", () => {
    expect(regionDistance(square(0, 0, 2), square(5, 1, 4), 10)?.distance).toBe(3);
    const gap = regionDistance(square(0, 0, 2), square(5, 6, 4), 10);
    expect(gap).toEqual({ distance: 5, from: [2, 2], to: [5, 6] });
  });

  it("is none beyond the limit, and just there at it", () => {
    expect(regionDistance(square(0, 0, 2), square(5, 0, 2), 2.99)).toBeNull();
    expect(regionDistance(square(0, 0, 2), square(5, 0, 2), 3)?.distance).toBe(3);
    expect(regionDistance([], square(5, 0, 2), 3)).toBeNull();
  });

  it("is 0 with a common point where they touch, cross, or one holds the other", () => {
    for (const other of [square(2, 2, 1), square(1, 1, 5), square(0.5, 0.5, 1), square(-3, -3, 9)]) {
      const gap = regionDistance(square(0, 0, 2), other, 1);
      expect(gap?.distance).toBe(0);
      expect(gap?.from).toEqual(gap?.to);
      for (const region of [square(0, 0, 2), other])
        expect(distanceToRegion(region, gap?.from as Point)).toBeLessThan(1e-12);
    }
  });

  it("reaches across a hole to what lies in it", () => {
    const pond: Region = [
      { outer: square(0, 0, 10)[0].outer, holes: [square(2, 2, 6)[0].outer.toReversed()] },
    ];
    expect(regionDistance(pond, square(4, 4, 1), 5)?.distance).toBe(2);
  });

  it("equals that of all edges compared with all", () => {
    for (let seed = 1; seed <= 30; seed++) {
      const random = seededRandom(seed);
      const [a, b] = [randomRegion(random), shift(randomRegion(random, { points: 40 }), 48 + 10 * random())];
      const least = Math.min(...allDistances(a, b), ...allDistances(b, a));
      expect(regionDistance(a, b, 100)?.distance).toBeCloseTo(least, 12);
      expect(regionDistance(b, a, 100)?.distance).toBeCloseTo(least, 12);
      expect(regionDistance(a, b, least - 1e-9)).toBeNull();
    }
  });
});

/** Distances of every vertex of one region to every edge of the other: for regions apart, the least is theirs. */
const allDistances = (a: Region, b: Region): number[] =>
  ringsOf(a)
    .flat()
    .flatMap((p) =>
      ringsOf(b)
        .map(closeRing)
        .flatMap((line) => line.slice(1).map((q, i) => distance(p, nearestOnSegment(p, line[i], q)))),
    );

describe("the distance of a polyline and a region", () => {
  it("goes from the line to the region", () => {
    const oar: Polyline = [
      [-4, 1],
      [-1, 1],
      [-1, 8],
    ];
    expect(polylineRegionDistance(oar, square(0, 0, 2), 5)).toMatchObject({
      distance: 1,
      from: [-1, 1],
      to: [0, 1],
    });
    expect(polylineRegionDistance(oar, square(0, 0, 2), 0.9)).toBeNull();
  });

  it("is 0 where the line crosses, ends on, or lies in the region", () => {
    const crossing: Polyline = [
      [-1, 1],
      [3, 1],
    ];
    const ending: Polyline = [
      [-1, 1],
      [0, 1],
    ];
    const within: Polyline = [
      [0.5, 0.5],
      [1, 1],
    ];
    for (const line of [crossing, ending, within]) {
      const gap = polylineRegionDistance(line, square(0, 0, 2), 1);
      expect(gap?.distance).toBe(0);
      expect(gap?.from).toEqual(gap?.to);
    }
  });

  it("takes a line of one point, and none of no points", () => {
    expect(polylineRegionDistance([[5, 1]], square(0, 0, 2), 9)?.distance).toBe(3);
    expect(polylineRegionDistance([], square(0, 0, 2), 9)).toBeNull();
  });

  it("does not depend on whether an index is used", () => {
    const random = seededRandom(8);
    const many = randomRing(random, { centre: [0, 0], radius: 5, count: 200, ruggedness: 0.3 });
    const line: Polyline = [
      [8, -3],
      [7, 4],
      [9, 6],
    ];
    const few = Math.min(
      ...closeRing(many)
        .slice(1)
        .map(
          (q, i) =>
            polylineRegionDistance(line, [{ outer: [many[i], q, [0, 0]], holes: [] }], 20)?.distance ?? 99,
        ),
    );
    expect(polylineRegionDistance(line, [{ outer: many, holes: [] }], 20)?.distance).toBe(few);
  });
});
