import fc from "fast-check";
import { MultiUndirectedGraph } from "graphology";
import { dijkstra } from "graphology-shortest-path";
import { describe, expect, it } from "vitest";
import { distance } from "../../core/geometry/point.ts";
import { nearestOnPolyline, polylineLength } from "../../core/geometry/polyline.ts";
import type { Point, Polyline } from "../../core/geometry/types.ts";
import { stitchAlong } from "../../core/techniques/even-stitches.ts";
import { layRun } from "../../core/techniques/run.ts";
import { circle, curve } from "./satin-sew-out.ts";

const OPTIONS = { lengthMm: 2.5, minStitchMm: 0.4 };

const stitchLengths = (needle: Polyline): number[] => needle.slice(1).map((p, i) => distance(needle[i], p));

/** How far the line lies from the nearest of the stitches, at most. */
const strayOf = (line: Polyline, needle: Polyline): number =>
  Math.max(...line.map((p) => nearestOnPolyline(p, needle).distance));

const runAlong = (line: Polyline, entry: Point, exit: Point): Polyline => {
  const parts = layRun(line, OPTIONS).stitch(entry, exit);
  expect(parts.map((part) => part.role)).toEqual(["cover"]);
  return parts[0].points;
};

describe("even stitches along a line", () => {
  it("divides an oar's shaft of 11 mm into five stitches of 2.2 mm, not four of 2.5 and a rest", () => {
    const needle = stitchAlong(
      [
        [0, 0],
        [11, 0],
      ],
      2.5,
      0.4,
    );
    expect(needle).toHaveLength(6);
    for (const length of stitchLengths(needle)) expect(length).toBeCloseTo(2.2, 9);
  });

  it("puts the needle down on the corners of a pennant and divides each side by itself", () => {
    const pennant: Polyline = [
      [0, 0],
      [9, 3],
      [0, 6],
    ];
    const needle = stitchAlong(pennant, 2.5, 0.4);
    expect(needle).toContainEqual([9, 3]);
    const lengths = stitchLengths(needle);
    expect(Math.max(...lengths) - Math.min(...lengths)).toBeLessThan(1e-9);
  });

  it("takes a curve that is flattened into facets for a curve: the stitches stay even", () => {
    const bow = curve((t) => [12 * Math.cos(t * Math.PI), 12 * Math.sin(t * Math.PI)], 18);
    const lengths = stitchLengths(stitchAlong(bow, 2.5, 0.4));
    expect(Math.max(...lengths) / Math.min(...lengths)).toBeLessThan(1.03);
    expect(strayOf(bow, stitchAlong(bow, 2.5, 0.4))).toBeLessThanOrEqual(0.15);
  });

  it("shortens stitches on a tight bend only as far as the sagitta formula asks for", () => {
    // Source: sagitta of a chord c in a circle of radius R, R − √(R² − c²/4) (elementary geometry, from memory).
    for (const radius of [2, 3, 5]) {
      const ring = curve((t) => [radius * Math.cos(t * 6), radius * Math.sin(t * 6)], 400);
      const needle = stitchAlong(ring, 2.5, 0.4);
      const chord = Math.max(...stitchLengths(needle));
      expect(radius - Math.sqrt(radius ** 2 - chord ** 2 / 4)).toBeLessThanOrEqual(0.1);
      expect(chord).toBeGreaterThan(0.8 * Math.min(2.5, Math.sqrt(8 * radius * 0.1)));
    }
  });

  it("shares only the corners with a pass that is half a stitch off", () => {
    const line: Polyline = [
      [0, 0],
      [10, 0],
      [10, 10],
    ];
    const there = stitchAlong(line, 2.5, 0.4);
    const shared = stitchAlong(line, 2.5, 0.4, true).filter((p) => there.some((q) => distance(p, q) < 0.1));
    expect(shared).toEqual([
      [0, 0],
      [10, 0],
      [10, 10],
    ]);
  });

  it("keeps to length, to the line and to its ends, whatever the line", () => {
    const coordinate = fc.double({ min: -20, max: 20, noNaN: true });
    const line = fc.array(fc.tuple(coordinate, coordinate), { minLength: 2, maxLength: 12 });
    fc.assert(
      fc.property(
        line,
        fc.double({ min: 1, max: 5, noNaN: true }),
        fc.boolean(),
        (path, lengthMm, shifted) => {
          const needle = stitchAlong(path, lengthMm, 0.4, shifted);
          expect(needle[0]).toEqual(path[0]);
          const lengths = stitchLengths(needle);
          if (needle.length > 1) expect(needle[needle.length - 1]).toEqual(path[path.length - 1]);
          expect(Math.max(0, ...lengths)).toBeLessThan(lengthMm + 0.4);
          if (needle.length > 2) expect(Math.min(...lengths)).toBeGreaterThanOrEqual(0.4 - 1e-9);
          for (const p of needle) expect(nearestOnPolyline(p, path).distance).toBeLessThan(1e-6);
          expect(strayOf(path, needle)).toBeLessThan(0.5);
        },
      ),
      { seed: 8, numRuns: 400 },
    );
  });

  it("passes over points that are not numbers, and over repeated ones", () => {
    const needle = stitchAlong(
      [
        [0, 0],
        [0, 0],
        [Number.NaN, 1],
        [2, 0],
        [2, 0],
        [4, 0],
      ],
      2.5,
      0.4,
    );
    expect(needle).toEqual([
      [0, 0],
      [2, 0],
      [4, 0],
    ]);
    expect(stitchAlong([[1, 1]], 2.5, 0.4)).toEqual([[1, 1]]);
    expect(stitchAlong([], 2.5, 0.4)).toEqual([]);
  });
});

describe("running stitch", () => {
  const reed: Polyline = [
    [0, 0],
    [10, 0],
  ];

  it("sews a reed once from end to end", () => {
    expect(polylineLength(runAlong(reed, [0, 0], [10, 0]))).toBeCloseTo(10, 9);
  });

  it("goes out and back where it must end where it began, half a stitch off on the way back", () => {
    const needle = runAlong(reed, [0, 0], [0, 0]);
    expect(polylineLength(needle)).toBeCloseTo(20, 9);
    const holes = needle.map(([x]) => x.toFixed(3));
    expect(new Set(holes).size).toBe(holes.length - 1);
  });

  it("sews what lies between entry and exit once, and the rest out and back", () => {
    const needle = runAlong(reed, [3, 0], [8, 0]);
    expect(polylineLength(needle)).toBeCloseTo(5 + 2 * 3 + 2 * 2, 9);
    expect(needle).toContainEqual([0, 0]);
    expect(needle).toContainEqual([10, 0]);
    expect(layRun(reed, OPTIONS).travelMm([3, 0], [8, 0])).toBeCloseTo(5, 9);
  });

  it("goes once round a ring and on to the exit by the shorter way", () => {
    const ring = circle(0, 0, 5);
    const once = polylineLength(ring);
    const run = layRun(ring, OPTIONS);
    const exit = run.snap([0, 5]);
    expect(run.travelMm([5, 0], [5, 0])).toBe(0);
    expect(run.travelMm([5, 0], exit)).toBeCloseTo(once / 4, 1);
    const sewn = polylineLength(runAlong(ring, [5, 0], exit));
    expect(sewn).toBeGreaterThan(0.98 * 1.25 * once);
    expect(sewn).toBeLessThan(1.01 * 1.25 * once);
  });

  it("leaves a loop at its crossing by whichever strand of it needs less thread", () => {
    const loop: Polyline = [
      [0, 0],
      [10, 0],
      [10, 6],
      [5, 6],
      [5, -4],
    ];
    // The crossing lies at arc lengths 5 and 27 of 31: entered at the start, it is better left at the second.
    expect(layRun(loop, OPTIONS).travelMm([0, 0], [5, 0])).toBeCloseTo(4, 9);
    const needle = runAlong(loop, [0, 0], [5, 0]);
    expect(polylineLength(needle)).toBeCloseTo(35, 6);
  });

  it("needs no more thread than route inspection says, on open and closed lines", () => {
    // Source: shortest paths by graphology-shortest-path. Every edge once, plus the least set of edges that makes
    // the degrees even but for entry and exit (the route inspection problem): pairs of odd nodes, best pairing.
    const side = fc.integer({ min: 1, max: 9 });
    const sides = fc.array(side, { minLength: 3, maxLength: 7 });
    fc.assert(
      fc.property(sides, fc.nat(), fc.nat(), fc.boolean(), (steps, a, b, closed) => {
        const line = stairs(steps, closed);
        const nodes = closed ? line.length - 1 : line.length;
        const [entry, exit] = [a % nodes, b % nodes];
        const surplus = layRun(line, OPTIONS).travelMm(line[entry], line[exit]);
        expect(surplus).toBeCloseTo(leastSurplus(line, closed, entry, exit), 9);
      }),
      { seed: 4, numRuns: 200 },
    );
  });

  it("begins at the entry, ends at the exit, sews all of the line and lies on it, whatever the line", () => {
    const coordinate = fc.double({ min: 0, max: 15, noNaN: true });
    const point = fc.tuple(coordinate, coordinate);
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 2, maxLength: 8 }),
        point,
        point,
        fc.boolean(),
        (open, from, to, closed) => {
          const line = closed ? [...open, open[0]] : open;
          const run = layRun(line, OPTIONS);
          const [entry, exit] = [run.snap(from), run.snap(to)];
          const needle = run.stitch(entry, exit)[0].points;
          expect(needle[0]).toEqual(entry);
          expect(needle[needle.length - 1]).toEqual(exit);
          expect(needle.flat().every(Number.isFinite)).toBe(true);
          const short = polylineLength(line) < 2;
          if (!short) expect(Math.min(...stitchLengths(needle).slice(1, -1))).toBeGreaterThan(0.4 - 1e-6);
          for (const p of line) expect(nearestOnPolyline(p, needle).distance).toBeLessThan(0.5);
        },
      ),
      { seed: 2, numRuns: 300 },
    );
  });

  it("sews a dot of line work with one stitch there and back", () => {
    expect(runAlong([[3, 3]], [3, 3], [3, 3])).toEqual([
      [3, 3],
      [3.4, 3],
      [3, 3],
    ]);
    expect(
      runAlong(
        [
          [3, 3],
          [3, 3.1],
        ],
        [3, 3],
        [3, 3.1],
      ),
    ).toHaveLength(3);
    expect(() => layRun([[Number.NaN, 0]], OPTIONS)).toThrow(RangeError);
  });
});

/** A staircase down and to the right; closed by a way round that meets nothing. */
function stairs(steps: readonly number[], closed: boolean): Point[] {
  const line: Point[] = [[0, 0]];
  steps.forEach((step, i) => {
    const [x, y] = line[line.length - 1];
    line.push(i % 2 === 0 ? [x + step, y] : [x, y + step]);
  });
  if (!closed) return line;
  const [x, y] = line[line.length - 1];
  return [...line, [x, y + 5], [-5, y + 5], [-5, 0], [0, 0]];
}

function leastSurplus(line: Polyline, closed: boolean, entry: number, exit: number): number {
  const graph = new MultiUndirectedGraph();
  const nodes = closed ? line.length - 1 : line.length;
  for (let i = 0; i < nodes; i++) graph.addNode(i);
  for (let i = 1; i < line.length; i++)
    graph.addEdge(i - 1, i % nodes, { weight: distance(line[i - 1], line[i]) });
  const odd: number[] = [];
  for (let i = 0; i < nodes; i++) {
    const isEnd = entry !== exit && (i === entry || i === exit);
    if ((graph.degree(i) + (isEnd ? 1 : 0)) % 2 === 1) odd.push(i);
  }
  const apart = (a: number, b: number): number => {
    const path = dijkstra.bidirectional(graph, a, b, "weight").map(Number);
    return path.slice(1).reduce((sum, node, i) => sum + distance(line[path[i]], line[node]), 0);
  };
  const bestPairing = (rest: readonly number[]): number => {
    if (rest.length === 0) return 0;
    const [first, ...others] = rest;
    return Math.min(
      ...others.map((other) => apart(first, other) + bestPairing(others.filter((o) => o !== other))),
    );
  };
  return bestPairing(odd);
}
