/**
 * Rings that touch themselves come apart just as clipper-lib itself takes them apart, and edges that are used again
 * leave nothing behind: the outside source is the library as it is published, loaded anew beside the one that is made
 * quicker.
 */
import { createRequire } from "node:module";
import type ClipperLib from "clipper-lib";
import type { Path, Paths } from "clipper-lib";
import { expect, test } from "vitest";
import quicker, { startAnew } from "../../core/geometry/clipper.ts";
import { diceFrom } from "../fuzz/mutate.ts";

const require = createRequire(import.meta.url);
const published = loadAnew();

function loadAnew(): typeof ClipperLib {
  const path = require.resolve("clipper-lib");
  const loaded = require.cache[path];
  delete require.cache[path];
  const fresh = require("clipper-lib") as typeof ClipperLib;
  if (loaded) require.cache[path] = loaded;
  return fresh;
}

function united(library: typeof ClipperLib, rings: Paths, fill: number): Paths {
  if (library === quicker) startAnew();
  const clipper = new library.Clipper();
  clipper.StrictlySimple = true;
  clipper.AddPaths(rings, library.PolyType.ptSubject, true);
  const solution: Paths = [];
  clipper.Execute(library.ClipType.ctUnion, solution, fill, fill);
  return solution;
}

const { pftEvenOdd, pftNonZero } = quicker.PolyFillType;

test("the library beside is the one that is published", () => {
  expect(published.Clipper.prototype.DoSimplePolygons).not.toBe(quicker.Clipper.prototype.DoSimplePolygons);
});

test("random walks over a coarse lattice, which meet in most of its points", () => {
  for (let seed = 1; seed <= 100; seed++) {
    const dice = diceFrom(seed);
    const walk = (): Path => Array.from({ length: 30 }, () => ({ X: dice.below(7), Y: dice.below(7) }));
    const rings = [walk(), walk()];
    for (const fill of [pftEvenOdd, pftNonZero])
      expect(united(quicker, rings, fill)).toEqual(united(published, rings, fill));
  }
});

test("sums, what two have in common, what one leaves of the other, and outlines, one after the other", () => {
  const { ctUnion, ctIntersection, ctDifference, ctXor } = published.ClipType;
  for (let seed = 1; seed <= 100; seed++) {
    const dice = diceFrom(seed);
    const walk = (): Path =>
      Array.from({ length: 3 + dice.below(40) }, () => ({ X: dice.below(1000), Y: dice.below(1000) }));
    const [one, other] = [[walk(), walk()], [walk()]];
    const combined = (library: typeof ClipperLib, clip: number): Paths => {
      if (library === quicker) startAnew();
      const clipper = new library.Clipper();
      clipper.StrictlySimple = true;
      clipper.AddPaths(one, library.PolyType.ptSubject, true);
      clipper.AddPaths(other, library.PolyType.ptClip, true);
      const solution: Paths = [];
      clipper.Execute(clip, solution, pftNonZero, pftEvenOdd);
      return solution;
    };
    const outlined = (library: typeof ClipperLib, by: number): Paths => {
      if (library === quicker) startAnew();
      const tool = new library.ClipperOffset(2, 1);
      tool.AddPaths(one, library.JoinType.jtRound, library.EndType.etClosedPolygon);
      const solution: Paths = [];
      tool.Execute(solution, by);
      return solution;
    };
    for (const clip of [ctUnion, ctIntersection, ctDifference, ctXor])
      expect(combined(quicker, clip)).toEqual(combined(published, clip));
    for (const by of [20, -5]) expect(outlined(quicker, by)).toEqual(outlined(published, by));
  }
});

const square = (x: number, y: number): Path => [
  { X: x, Y: y },
  { X: x + 1, Y: y },
  { X: x + 1, Y: y + 1 },
  { X: x, Y: y + 1 },
];
const board = (size: number): Paths =>
  Array.from({ length: size * size }, (_, k) => [k % size, Math.floor(k / size)])
    .filter(([x, y]) => (x + y) % 2 === 0)
    .map(([x, y]) => square(x, y));

test("a board of squares that meet in corners, and the sieve of what lies between them", () => {
  const sieve = [
    ...board(15),
    [-2, 20].flatMap((x) => [-2, 20].map((y) => ({ X: x, Y: x < 0 ? y : 18 - y }))),
  ];
  for (const rings of [board(15), sieve])
    expect(united(quicker, rings, pftEvenOdd)).toEqual(united(published, rings, pftEvenOdd));
});

test("a sieve whose ten thousand holes meet in corners", () => {
  const rim: Path = [-2, 150].flatMap((x) => [-2, 150].map((y) => ({ X: x, Y: x < 0 ? y : 148 - y })));
  const rings = united(quicker, [...board(142), rim], pftEvenOdd);
  expect(rings.length).toBeGreaterThan(10_000);
  for (const ring of rings) expect(new Set(ring.map(({ X, Y }) => `${X} ${Y}`)).size).toBe(ring.length);
});
