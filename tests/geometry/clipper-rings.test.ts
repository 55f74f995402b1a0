/**
 * Rings that touch themselves come apart just as clipper-lib itself takes them apart: the outside source is the
 * library as it is published, loaded anew beside the one that is made quicker.
 */
import { createRequire } from "node:module";
import type ClipperLib from "clipper-lib";
import type { Path, Paths } from "clipper-lib";
import { expect, test } from "vitest";
import quicker from "../../core/geometry/clipper.ts";
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
