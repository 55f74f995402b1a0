import { describe, expect, it } from "vitest";
import { readArtwork } from "../../core/artwork/read.ts";
import { distance, lerp, rotate } from "../../core/geometry/point.ts";
import { distanceToRegion, regionFromRings, union } from "../../core/geometry/region.ts";
import type { Point, Region } from "../../core/geometry/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { type FillOptions, layFill } from "../../core/techniques/fill.ts";
import { brickPoints, type Gate, tautBends } from "../../core/techniques/fill-path.ts";
import type { StitchPart } from "../../core/techniques/types.ts";
import { readDrawing, spreadNames } from "../support/drawing-sets.ts";
import { type Random, randomPointIn, seededRandom } from "../support/random-region.ts";
import { coverage, travelSeen } from "../support/stitch-raster.ts";
import { bar, turned, ZOO } from "./fill-zoo.ts";

// Settings and thresholds below are common practice, no source, unless a line says otherwise.
const OPTIONS: FillOptions = {
  angleDeg: 0,
  spacingMm: 0.4,
  lengthMm: 4,
  minStitchMm: 0.4,
  maxStitchMm: 12.1,
  pullMm: 0.2,
};
const THREAD_MM = 0.42;
const ANGLES = [null, 0, 30, 90, 117];

/** Too slim or too small for rows: held to less where ends of stitches are most of what there is. */
const SLIGHT = ["crescent", "strip", "dot", "sharp triangle"];

/** Mostly on the outline or a hole's edge, else inside. */
const anywhereIn = (region: Region, random: Random): Point => randomPointIn(region, random, 0.6);

interface Sewn {
  readonly entry: Point;
  readonly exit: Point;
  readonly angleDeg: number | null;
  readonly parts: readonly StitchPart[];
}

/** A shape filled at all angles, each with some random entries and exits. */
function sewAll(region: Region, times: number, seed: number): Sewn[] {
  const random = seededRandom(seed);
  return ANGLES.flatMap((angleDeg) => {
    const fill = layFill(region, { ...OPTIONS, angleDeg });
    return Array.from({ length: times }, () => {
      const entry = anywhereIn(region, random);
      const exit = anywhereIn(region, random);
      return { entry, exit, angleDeg, parts: fill.stitch(entry, exit) };
    });
  });
}

const stitchesOf = (parts: readonly StitchPart[], role?: StitchPart["role"]): number[] =>
  parts
    .filter((part) => role === undefined || part.role === role)
    .flatMap(({ points }) => points.slice(1).map((p, i) => distance(points[i], p)));

/** Points along a needle path, some ten a stitch. */
const along = (points: readonly Point[]): Point[] =>
  points.slice(1).flatMap((p, i) => Array.from({ length: 10 }, (_, k) => lerp(points[i], p, k / 10)));

const travelOf = (parts: readonly StitchPart[]): number =>
  stitchesOf(parts, "travel").reduce((sum, length) => sum + length, 0);

describe.each(Object.entries(ZOO))("a fill of the %s", (name, region) => {
  const sewn = sewAll(region, 3, 11);
  const isSlight = SLIGHT.includes(name);

  it("runs from the entry to the exit without a gap", () => {
    for (const { entry, exit, parts } of sewn) {
      expect(parts[0].points[0]).toEqual(entry);
      const last = parts[parts.length - 1].points;
      expect(last[last.length - 1]).toEqual(exit);
      for (let i = 1; i < parts.length; i++) {
        const before = parts[i - 1].points;
        expect(parts[i].points[0]).toEqual(before[before.length - 1]);
      }
    }
  });

  it("has no stitch too long, and too short ones only where entry or exit force them", () => {
    for (const { parts } of sewn) {
      const all = stitchesOf(parts);
      expect(Math.max(...all)).toBeLessThanOrEqual(OPTIONS.lengthMm + 1e-6);
      const short = all.filter((length) => length < OPTIONS.minStitchMm - 1e-6);
      expect(short.length).toBeLessThanOrEqual(2);
    }
  });

  it("shows next to none of its travel", () => {
    let travelMm = 0;
    let visibleMm = 0;
    for (const { parts } of sewn) {
      const seen = travelSeen(region, parts, THREAD_MM, 0.05);
      travelMm += seen.travelMm;
      visibleMm += seen.visibleMm;
      // All bits together that show in one fill.
      expect(seen.visibleMm).toBeLessThan(4);
    }
    expect(visibleMm).toBeLessThanOrEqual(travelMm * (isSlight ? 0.03 : 0.011) + (name === "dot" ? 2 : 0));
  });

  it("covers the shape", () => {
    for (const { parts } of sewn) {
      const { share, bareMm } = coverage(region, parts, 0.4, 0.1);
      expect(share).toBeGreaterThan(name === "dot" ? 0.4 : isSlight ? 0.9 : 0.96);
      expect(bareMm).toBeLessThan(0.6);
    }
  });
});

it("hides all but one per cent of the travel of all shapes together", () => {
  let travelMm = 0;
  let visibleMm = 0;
  for (const region of Object.values(ZOO))
    for (const { parts } of sewAll(region, 1, 3)) {
      const seen = travelSeen(region, parts, THREAD_MM, 0.05);
      travelMm += seen.travelMm;
      visibleMm += seen.visibleMm;
    }
  expect(travelMm).toBeGreaterThan(1000);
  expect(visibleMm / travelMm).toBeLessThan(0.01);
});

describe("rows", () => {
  it("share out the height evenly: 4 mm at 0.4 mm are ten rows, the first 0.2 mm from the edge", () => {
    const parts = layFill(bar(12, 4), OPTIONS).stitch([0, 0], [12, 4]);
    // Away from the ends, where rows turn.
    const points = parts.flatMap((part) => part.points).filter(([x]) => x > 2 && x < 10);
    const ys = [...new Set(points.map(([, y]) => Math.round(y * 1000) / 1000))].sort((a, b) => a - b);
    expect(ys).toEqual([0.2, 0.6, 1, 1.4, 1.8, 2.2, 2.6, 3, 3.4, 3.8]);
  });

  it("leave no flat edge bare: beside a row that ends short of it a line is sewn along the edge", () => {
    // A pennant on its pole: rows share out the pole's 8 mm, so that the pennant's edges fall between two of them.
    for (const low of [2.9, 3, 3.1, 3.2, 3.3]) {
      const pennant = union([
        bar(3, 8),
        regionFromRings(
          [
            [
              [2, 1.3],
              [14, 1.3],
              [14, low],
              [2, low],
            ],
          ],
          "nonzero",
        ),
      ]);
      for (const exit of [
        [0, 8],
        [14, 2],
        [3, 6],
      ] as Point[]) {
        const parts = layFill(pennant, OPTIONS).stitch([0, 0], exit);
        expect(coverage(pennant, parts, 0.42, 0.05).share).toBeGreaterThan(0.993);
        // Nor does a step from row to row cut across bare fabric beside the pole.
        for (const [x, y] of parts.flatMap(({ points }) => along(points)))
          expect(distanceToRegion(pennant, [x, y])).toBeLessThan(0.25);
      }
    }
  });

  it("are drawn in by the push allowance at the first and the last of them", () => {
    const parts = layFill(bar(12, 40), { ...OPTIONS, pushMm: 0.2 }).stitch([0, 20], [12, 20]);
    const ys = parts.flatMap(({ points }) => points.map(([, y]) => y));
    expect(Math.min(...ys)).toBeCloseTo(0.4, 3);
    expect(Math.max(...ys)).toBeCloseTo(39.6, 3);
  });

  it("reach beyond the outline by the pull compensation", () => {
    const parts = layFill(bar(12, 4), OPTIONS).stitch([0, 0], [12, 4]);
    const xs = parts.flatMap(({ points }) => points.map(([x]) => x));
    expect(Math.min(...xs)).toBeCloseTo(-0.2, 6);
    expect(Math.max(...xs)).toBeCloseTo(12.2, 6);
  });

  it("turn counter-clockwise as seen with the angle", () => {
    const parts = layFill(bar(12, 12), { ...OPTIONS, angleDeg: 30 }).stitch([0, 0], [12, 12]);
    const long = parts.flatMap(({ points }) =>
      points.slice(1).map((p, i) => [p[0] - points[i][0], p[1] - points[i][1]]),
    );
    const [dx, dy] = long.find(([x, y]) => Math.hypot(x, y) > 3.9) as [number, number];
    // y points down: going right, a rising row goes up.
    expect(dy / dx).toBeCloseTo(-Math.tan(Math.PI / 6), 3);
  });

  it("follow the long direction when no angle is set", () => {
    const oar = turned(bar(20, 0.3), 0.7);
    const [entry, exit] = [oar[0].outer[0], oar[0].outer[2]];
    const parts = layFill(oar, { ...OPTIONS, angleDeg: null }).stitch(entry, exit);
    // One row, sewn once: little more thread than the oar is long.
    expect(stitchesOf(parts).reduce((sum, length) => sum + length, 0)).toBeLessThan(23);
  });

  it("shift their penetrations, so that no two neighbours line up", () => {
    const parts = layFill(bar(30, 8), OPTIONS).stitch([0, 0], [30, 8]);
    const rows = new Map<number, number[]>();
    for (const { points } of parts)
      for (const [x, y] of points)
        if (x > 4 && x < 26) rows.set(Math.round(y * 100), [...(rows.get(Math.round(y * 100)) ?? []), x]);
    const sorted = [...rows].sort(([a], [b]) => a - b).map(([, xs]) => xs);
    expect(sorted.length).toBe(20);
    for (let i = 1; i < sorted.length; i++)
      for (const x of sorted[i])
        for (const other of sorted[i - 1]) expect(Math.abs(x - other)).toBeGreaterThan(0.9);
  });

  it("form no ribs: no penetration lines up with those of the next four rows, nor do three on a slant", () => {
    const shifts = Array.from({ length: 32 }, (_, row) => brickPoints(0, 40, row, 0, 4)[4] % 4);
    const apart = (a: number, b: number): number => Math.min((a - b + 8) % 4, (b - a + 8) % 4);
    for (let row = 0; row < 16; row++) {
      for (let k = 1; k <= 4; k++) expect(apart(shifts[row], shifts[row + k])).toBeGreaterThan(0.45);
      const [a, b, c, d] = shifts.slice(row, row + 4);
      const isSlant =
        apart((b - a + 4) % 4, (c - b + 4) % 4) < 0.1 && apart((c - b + 4) % 4, (d - c + 4) % 4) < 0.1;
      expect(isSlant).toBe(false);
    }
  });

  it("have no penetration within half a millimetre of their ends", () => {
    for (let row = 0; row < 16; row++)
      for (let width = 1.6; width < 9; width += 0.17)
        for (const x of brickPoints(0, width, row, -3, 1.5)) {
          expect(x).toBeGreaterThan(0.49);
          expect(width - x).toBeGreaterThan(0.49);
        }
  });

  it("are all the same when shape, angle, entry and exit turn together", () => {
    const angle = 0.61;
    for (const name of ["letter B", "star", "comb"]) {
      const region = ZOO[name];
      const random = seededRandom(5);
      const [entry, exit] = [anywhereIn(region, random), anywhereIn(region, random)];
      const level = layFill(region, { ...OPTIONS, angleDeg: 20 }).stitch(entry, exit);
      const angleDeg = 20 - (angle * 180) / Math.PI;
      const other = layFill(turned(region, angle), { ...OPTIONS, angleDeg }).stitch(
        rotate(entry, angle),
        rotate(exit, angle),
      );
      expect(stitchesOf(other).length).toBe(stitchesOf(level).length);
      expect(travelOf(other)).toBeCloseTo(travelOf(level), 3);
    }
  });
});

it("sews polygons that nothing joins as one thread all the same", () => {
  const pennants: Region = [...ZOO.disc, ...turned(ZOO.disc, Math.PI)];
  const parts = layFill(pennants, OPTIONS).stitch([6, 0], [-6, -12]);
  expect(Math.max(...stitchesOf(parts))).toBeLessThanOrEqual(OPTIONS.lengthMm + 1e-6);
  expect(coverage(pennants, parts, 0.4, 0.1).share).toBeGreaterThan(0.97);
});

describe("the estimate of travel", () => {
  it.each(["disc", "letter B", "comb", "cheese with 12 holes", "star", "spiral"])(
    "ranks entries and exits of the %s as their stitches do",
    (name) => {
      const region = ZOO[name];
      const fill = layFill(region, OPTIONS);
      const random = seededRandom(9);
      const pairs = Array.from({ length: 40 }, () => {
        const [entry, exit] = [anywhereIn(region, random), anywhereIn(region, random)];
        return [fill.travelMm(entry, exit), travelOf(fill.stitch(entry, exit))];
      });
      expect(correlation(pairs)).toBeGreaterThan(0.6);
    },
  );
});

/** Pearson's coefficient (textbook formula, from memory). */
function correlation(pairs: readonly number[][]): number {
  const mean = (k: number): number => pairs.reduce((sum, pair) => sum + pair[k], 0) / pairs.length;
  const [mx, my] = [mean(0), mean(1)];
  const sum = (f: (x: number, y: number) => number): number =>
    pairs.reduce((total, [x, y]) => total + f(x - mx, y - my), 0);
  return sum((x, y) => x * y) / Math.sqrt(sum((x) => x * x) * sum((_, y) => y * y));
}

it("pulls the string as taut as trying every chain of gate ends does", () => {
  const random = seededRandom(21);
  for (let round = 0; round < 200; round++) {
    const gates: Gate[] = Array.from({ length: 6 }, (_, i) => {
      const left = random() * 8 - 4;
      return { y: i + 1, left, right: left + random() * 3 };
    });
    const [from, to]: Point[] = [
      [random() * 6 - 3, 0],
      [random() * 6 - 3, 7],
    ];
    const path = [from, ...tautBends(from, to, gates), to];
    const length = path.slice(1).reduce((sum, p, i) => sum + distance(path[i], p), 0);
    expect(length).toBeCloseTo(shortestThrough(from, to, gates), 9);
  }
});

/** A shortest path through parallel gates bends only at their ends: best chain of ends, by trying all. */
function shortestThrough(from: Point, to: Point, gates: readonly Gate[]): number {
  const ends = gates.flatMap(({ y, left, right }): Point[] => [
    [left, y],
    [right, y],
  ]);
  const stops = [from, ...ends, to];
  const best = stops.map((_, i) => (i === 0 ? 0 : Number.POSITIVE_INFINITY));
  const isClear = (a: Point, b: Point): boolean =>
    gates.every(({ y, left, right }) => {
      if (y <= a[1] || y >= b[1]) return true;
      const x = a[0] + ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]);
      return x > left - 1e-9 && x < right + 1e-9;
    });
  for (let j = 1; j < stops.length; j++)
    for (let i = 0; i < j; i++)
      if (stops[i][1] < stops[j][1] && isClear(stops[i], stops[j]))
        best[j] = Math.min(best[j], best[i] + distance(stops[i], stops[j]));
  return best[stops.length - 1];
}

// Real shapes: the open emoji set of the package @twemoji/svg (art under CC BY 4.0).
it("fills the areas of real drawings, each in one go", () => {
  let travelMm = 0;
  let visibleMm = 0;
  let areas = 0;
  for (const name of spreadNames("emoji", 12)) {
    const { text } = readDrawing("emoji", name);
    const { pieces } = readArtwork(text, name, { ...DEFAULT_SETTINGS, widthMm: 60 });
    for (const { region } of pieces.slice(0, 8)) {
      const random = seededRandom(areas++);
      const [entry, exit] = [anywhereIn(region, random), anywhereIn(region, random)];
      const parts = layFill(region, { ...OPTIONS, angleDeg: null }).stitch(entry, exit);
      expect(Math.max(...stitchesOf(parts))).toBeLessThanOrEqual(OPTIONS.lengthMm + 1e-6);
      const seen = travelSeen(region, parts, THREAD_MM, 0.1);
      travelMm += seen.travelMm;
      visibleMm += seen.visibleMm;
      expect(coverage(region, parts, 0.4, 0.1).bareMm).toBeLessThan(1);
    }
  }
  expect(areas).toBeGreaterThan(20);
  expect(visibleMm).toBeLessThan(travelMm * 0.01);
});

/** The stitches of the rows themselves. */
const coverStitches = (parts: readonly StitchPart[]): [Point, Point][] =>
  parts
    .filter(({ role }) => role === "cover")
    .flatMap(({ points }) => points.slice(1).map((to, k): [Point, Point] => [points[k], to]));

describe("rows that another region's height is shared out over", () => {
  /** The heights at which long stitches lie. */
  const rowsIn = (region: Region, rowsOver?: Region): number[] => {
    const fill = layFill(region, { ...OPTIONS, ...(rowsOver === undefined ? {} : { rowsOver }) });
    const level = coverStitches(fill.stitch([0, 5], [12, 5])).filter(
      ([[ax, ay], [bx, by]]) => Math.abs(ax - bx) > 2 && Math.abs(ay - by) < 0.01,
    );
    return [...new Set(level.map(([[, y]]) => Number(y.toFixed(2))))].sort((a, b) => a - b);
  };
  const whole = bar(12, 10);
  const lower: Region = whole.map(({ outer, holes }) => ({
    outer: outer.map(([x, y]): Point => [x, Math.max(y, 3.3)]),
    holes,
  }));

  it("lie where they lie there", () => {
    const there = rowsIn(whole);
    // The first row keeps within the outline.
    expect(rowsIn(lower, whole).slice(1)).toEqual(there.filter((y) => y > 3.3).slice(1));
    expect(rowsIn(lower).filter((y) => there.includes(y)).length).toBeLessThan(3);
  });

  it("go on beyond it", () => {
    const shared = rowsIn(whole, lower);
    expect(shared.filter((y) => y > 3.3)).toEqual(rowsIn(lower));
    expect(shared[0]).toBeLessThan(0.5);
    expect(Math.max(...shared.slice(1).map((y, k) => y - shared[k]))).toBeLessThan(0.45);
  });
});

it("turns rows at the same sides whether it is entered a little left or right of the middle", () => {
  const turnsFrom = (x: number): string[] =>
    coverStitches(layFill(bar(30, 12), OPTIONS).stitch([x, 0], [15, 12]))
      .filter(([[ax, ay], [bx, by]]) => Math.abs(ax - bx) < 1 && Math.abs(ay - by) > 0.2)
      .map(([[ax, ay], [, by]]) => `${ax < 15 ? "left" : "right"} ${Math.min(ay, by).toFixed(1)}`);
  expect(turnsFrom(17).length).toBeGreaterThan(4);
  expect(turnsFrom(17)).toEqual(turnsFrom(13));
});
