import { describe, expect, it } from "vitest";
import { distance, rotate } from "../../core/geometry/point.ts";
import { regionFromRings, ringsOf } from "../../core/geometry/region.ts";
import { buildPathFinder, SNAP_MM } from "../../core/geometry/shortest-path.ts";
import { buildSightLineFinder } from "../../core/geometry/sight-lines.ts";
import type { Point, Region, Ring } from "../../core/geometry/types.ts";
import {
  latticeRegion,
  randomPointIn,
  randomRegion,
  seededRandom,
  strayOutside,
} from "../support/random-region.ts";

const rectangle = (x: number, y: number, width: number, height: number): Ring => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
];

/** A pond, 20 by 10 mm, with a square island in its middle. */
const pond: Region = [{ outer: rectangle(0, 0, 20, 10), holes: [rectangle(8, 3, 4, 4).toReversed()] }];

const mapRegion = (region: Region, map: (p: Point) => Point): Region =>
  region.map(({ outer, holes }) => ({ outer: outer.map(map), holes: holes.map((hole) => hole.map(map)) }));

const lengthIn = (region: Region, from: Point, to: Point): number | null =>
  buildPathFinder(region).shortestPath(from, to)?.length ?? null;

describe("a shortest path", () => {
  it("is the straight line where nothing is in the way", () => {
    expect(buildPathFinder(pond).shortestPath([1, 1], [19, 2])).toEqual({
      points: [
        [1, 1],
        [19, 2],
      ],
      length: distance([1, 1], [19, 2]),
    });
  });

  it("bends round the corners of an island, on its shorter side", () => {
    const path = buildPathFinder(pond).shortestPath([5, 4], [15, 4]);
    expect(path?.points).toEqual([
      [5, 4],
      [8, 3],
      [12, 3],
      [15, 4],
    ]);
  });

  it("may run along the edge and start on it", () => {
    expect(lengthIn(pond, [10, 3], [10, 7])).toBeCloseTo(8, 12);
  });

  it("has no length from a point to itself, but both ends", () => {
    expect(buildPathFinder(pond).shortestPath([1, 1], [1, 1])).toEqual({
      points: [
        [1, 1],
        [1, 1],
      ],
      length: 0,
    });
  });

  it("keeps ends as given that lie a rounding error outside, and refuses those farther out", () => {
    const from: Point = [-0.9 * SNAP_MM, 4];
    const to: Point = [20 + 0.9 * SNAP_MM, 4];
    const path = buildPathFinder(pond).shortestPath(from, to);
    expect(path?.points[0]).toEqual(from);
    expect(path?.points.at(-1)).toEqual(to);
    expect(path?.points).toHaveLength(4);
    expect(lengthIn(pond, [-0.01, 4], to)).toBeNull();
  });

  it("goes round a corner from just outside an edge, along that edge", () => {
    const path = buildPathFinder(pond).shortestPath([10, 3 + 1e-4], [14, 7]);
    expect(path?.points[1]).toEqual([12, 3]);
    expect(path?.length).toBeCloseTo(2 + Math.hypot(2, 4), 4);
  });

  it("does not exist between the island of a pond and the pond", () => {
    const withIsland: Region = [...pond, { outer: rectangle(9, 4, 2, 2), holes: [] }];
    const finder = buildPathFinder(withIsland);
    expect(finder.shortestPath([1, 1], [10, 5])).toBeNull();
    expect(finder.componentOf([1, 1])).not.toBe(finder.componentOf([10, 5]));
    expect(finder.componentOf([30, 5])).toBe(-1);
  });

  it("runs straight past corners in line", () => {
    const reeds = latticeRegion(5, 3);
    expect(lengthIn(reeds, [0, 1], [11, 1])).toBeCloseTo(11, 12);
    expect(lengthIn(reeds, [2, 2], [4, 4])).toBeCloseTo(distance([2, 2], [4, 3]) + 1, 12);
  });

  it("passes between two corners that touch the same straight line from both sides", () => {
    const gate: Region = [
      {
        outer: rectangle(0, 0, 10, 10),
        holes: [rectangle(2, 0.5, 2, 4.5), rectangle(6, 5, 2, 4.5)].map((r) => r.toReversed()),
      },
    ];
    expect(lengthIn(gate, [0, 5], [10, 5])).toBeCloseTo(10, 12);
  });
});

describe("rings that touch", () => {
  it("part two pennants that meet in one point", () => {
    const pennants: Region = [
      {
        outer: [
          [0, 0],
          [5, 5],
          [0, 10],
        ],
        holes: [],
      },
      {
        outer: [
          [5, 5],
          [10, 0],
          [10, 10],
        ],
        holes: [],
      },
    ];
    expect(lengthIn(pennants, [1, 5], [9, 5])).toBeNull();
    expect(lengthIn(pennants, [1, 5], [5, 5])).toBeCloseTo(4, 12);
  });

  it("part a pond where its island reaches both banks", () => {
    const parted: Region = [
      {
        outer: rectangle(0, 0, 20, 10),
        holes: [
          [
            [10, 0],
            [8, 5],
            [10, 10],
            [12, 5],
          ],
        ],
      },
    ];
    expect(lengthIn(parted, [1, 5], [19, 5])).toBeNull();
  });

  it("send a path round an island that touches a bank with one corner", () => {
    const reaching: Region = [
      {
        outer: rectangle(0, 0, 20, 10),
        holes: [
          [
            [10, 0],
            [9, 6],
            [11, 6],
          ],
        ],
      },
    ];
    expect(lengthIn(reaching, [9, 0], [11, 0])).toBeCloseTo(2 * Math.hypot(0, 6) + 2, 12);
  });

  it("join two polygons that share a stretch of edge, with corners on one another's edges", () => {
    const sideBySide: Region = [
      { outer: rectangle(0, 0, 5, 10), holes: [] },
      { outer: rectangle(5, 4, 5, 2), holes: [] },
    ];
    expect(lengthIn(sideBySide, [4, 1], [6, 5])).toBeCloseTo(
      distance([4, 1], [5, 4]) + distance([5, 4], [6, 5]),
      12,
    );
  });

  it("may cross by a rounding error", () => {
    const poking: Region = [
      {
        outer: rectangle(0, 0, 20, 10),
        holes: [
          [
            [9, 5],
            [11, 5],
            [10, -1e-4],
          ],
        ],
      },
    ];
    expect(lengthIn(poking, [8, 1], [12, 1])).toBeGreaterThan(2 * Math.hypot(1, 4));
  });
});

describe("what holds in every region", () => {
  const cases = Array.from({ length: 40 }, (_, i) => {
    const random = seededRandom(500 + i);
    const region = i % 4 === 0 ? latticeRegion(2 + (i % 3), 2) : randomRegion(random);
    const [a, b, c] = Array.from({ length: 3 }, () => randomPointIn(region, random, 0));
    return { region, a, b, c };
  });

  it("the path keeps its length when the drawing is turned, mirrored, scaled or the ends swapped", () => {
    const maps: [number, (p: Point) => Point][] = [
      [1, (p) => rotate(p, 0.7)],
      [1, ([x, y]) => [-x, y]],
      [2.5, ([x, y]) => [2.5 * x + 3, 2.5 * y - 8]],
    ];
    for (const { region, a, b } of cases) {
      const length = lengthIn(region, a, b);
      expect(lengthIn(region, b, a) ?? -1).toBeCloseTo(length ?? -1, 9);
      for (const [scale, map] of maps)
        expect(lengthIn(mapRegion(region, map), map(a), map(b)) ?? -scale).toBeCloseTo(
          scale * (length ?? -1),
          7,
        );
    }
  });

  it("no detour by a third point is shorter", () => {
    for (const { region, a, b, c } of cases) {
      const { shortestPath } = buildPathFinder(region);
      const [ab, ac, cb] = [shortestPath(a, b), shortestPath(a, c), shortestPath(c, b)];
      if (ab && ac && cb) expect(ab.length).toBeLessThanOrEqual(ac.length + cb.length + 1e-9);
      expect(ab === null).toBe(
        buildPathFinder(region).componentOf(a) !== buildPathFinder(region).componentOf(b),
      );
    }
  });

  it("the path stays in the region and bends only at its vertices", () => {
    for (const { region, a, b } of cases) {
      const path = buildPathFinder(region).shortestPath(a, b);
      if (path === null) continue;
      expect(strayOutside(path.points, region)).toBeLessThan(1e-9);
      const vertices = new Set(ringsOf(region).flat().map(String));
      for (const p of path.points.slice(1, -1)) expect(vertices.has(String(p))).toBe(true);
    }
  });

  it("sight lines, the slow way, find the same lengths", () => {
    for (const { region, a, b } of cases) {
      const slow = buildSightLineFinder(region, 1e-9).shortestPath(a, b)?.length ?? -1;
      expect(lengthIn(region, a, b) ?? -1).toBeCloseTo(slow, 6);
    }
  });
});

describe("input that is no region", () => {
  it("has no paths and does not throw", () => {
    const bad: Region[] = [
      [],
      [{ outer: [], holes: [] }],
      [
        {
          outer: [
            [0, 0],
            [1, 0],
            [2, 0],
          ],
          holes: [],
        },
      ],
      [
        {
          outer: [
            [0, 0],
            [Number.NaN, 1],
            [2, 5],
          ],
          holes: [],
        },
      ],
    ];
    for (const region of bad) expect(lengthIn(region, [0, 0.1], [1, 0.3])).toBeNull();
  });

  it("that crosses itself everywhere is settled all the same", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const random = seededRandom(seed);
      const outer = Array.from(
        { length: 20 },
        (): Point => [Math.floor(6 * random()), Math.floor(6 * random())],
      );
      const finder = buildPathFinder([{ outer, holes: [] }]);
      const clean = buildPathFinder(regionFromRings([outer], "evenodd"));
      const p: Point = [0.37 + 5 * random(), 0.41 + 5 * random()];
      expect(finder.componentOf(p) < 0).toBe(clean.componentOf(p) < 0);
    }
  });
});
