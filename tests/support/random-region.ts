/** Random regions and points in them, for tests: the same seed gives the same ones. */
import { distance } from "../../core/geometry/point.ts";
import {
  nearestOnEdge,
  regionArea,
  regionBox,
  regionContains,
  subtract,
  union,
} from "../../core/geometry/region.ts";
import type { Point, Region, Ring } from "../../core/geometry/types.ts";

export type Random = () => number;

/** Numbers from 0 up to 1 (mulberry32: a 32 bit counter, scrambled; written from memory). */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** A star-shaped ring of `count` points round a centre; the more `ruggedness` (0 to 1), the deeper its notches. */
export function randomRing(
  random: Random,
  { centre, radius, count, ruggedness }: { centre: Point; radius: number; count: number; ruggedness: number },
): Ring {
  return Array.from({ length: count }, (_, i): Point => {
    const angle = ((i + 0.8 * random()) / count) * 2 * Math.PI;
    const r = radius * (1 - ruggedness * random());
    return [centre[0] + r * Math.cos(angle), centre[1] + r * Math.sin(angle)];
  });
}

const areaOf = (ring: Ring): Region => union([[{ outer: ring, holes: [] }]]);

/** A few blobs some 10 mm wide, joined, with smaller ones cut out of them. */
export function randomRegion(
  random: Random,
  size: { blobs?: number; cuts?: number; points?: number } = {},
): Region {
  const { blobs = 3, cuts = 6, points = 12 } = size;
  const blob = (radius: number): Region =>
    areaOf(
      randomRing(random, {
        centre: [20 * random(), 20 * random()],
        radius: radius * (0.5 + random()),
        count: 3 + Math.floor(points * random()),
        ruggedness: 0.7 * random(),
      }),
    );
  const body = union(Array.from({ length: blobs }, () => blob(9)));
  return subtract(body, union(Array.from({ length: cuts }, () => blob(2.5))));
}

/** A rectangle with square holes in rows and columns: many of their corners are in line. */
export function latticeRegion(columns: number, rows: number, holeMm = 1, gapMm = 1): Region {
  const pitch = holeMm + gapMm;
  const width = columns * pitch + gapMm;
  const height = rows * pitch + gapMm;
  const square = (x: number, y: number, w: number, h: number): Ring => [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ];
  const holes = Array.from({ length: columns * rows }, (_, i) =>
    square(
      gapMm + (i % columns) * pitch,
      gapMm + Math.floor(i / columns) * pitch,
      holeMm,
      holeMm,
    ).toReversed(),
  );
  return [{ outer: square(0, 0, width, height), holes }];
}

/** A point inside the region; this share of them on its edge, give or take rounding. */
export function randomPointIn(region: Region, random: Random, onEdge = 0.25): Point {
  if (regionArea(region) <= 0) throw new Error("the region has no inside");
  const box = regionBox(region);
  for (;;) {
    const p: Point = [
      box.minX + (box.maxX - box.minX) * random(),
      box.minY + (box.maxY - box.minY) * random(),
    ];
    if (!regionContains(region, p)) continue;
    return random() < onEdge ? nearestOnEdge(region, p).point : p;
  }
}

/** How far the farthest of some samples along a line lies outside the region. */
export function strayOutside(line: readonly Point[], region: Region, samplesPerSegment = 40): number {
  let worst = 0;
  for (let i = 1; i < line.length; i++)
    for (let k = 0; k <= samplesPerSegment; k++) {
      const t = k / samplesPerSegment;
      const p: Point = [
        line[i - 1][0] + (line[i][0] - line[i - 1][0]) * t,
        line[i - 1][1] + (line[i][1] - line[i - 1][1]) * t,
      ];
      if (!regionContains(region, p)) worst = Math.max(worst, distance(p, nearestOnEdge(region, p).point));
    }
  return worst;
}
