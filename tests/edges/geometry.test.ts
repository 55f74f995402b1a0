/**
 * Geometry at its edges: what has no area, what meets in a point, what is finer than a thread, what winds without
 * end. All that must hold of any plan (`tests/fuzz/judge.ts`: sound needle path, tucked means covered by jsts,
 * strip restores, planning again changes nothing) holds of each.
 */
import { expect, test } from "vitest";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { judge } from "../fuzz/judge.ts";
import { svg } from "../support/read.ts";
import {
  comb,
  dragon,
  hilbertLine,
  nestedRings,
  pathThrough,
  snowflake,
  spiralBand,
  star,
} from "./shapes.ts";

const NAVY = 'fill="#1b3a5c"';
const WATER = 'fill="#9cc3d5"';
const path = (data: string, paint = NAVY): string => `<path d="${data}" ${paint}/>`;
const line = (data: string, widthMm: number): string =>
  path(data, `fill="none" stroke="#1b3a5c" stroke-width="${widthMm}"`);
const evenOdd = (data: string): string => path(data, `${NAVY} fill-rule="evenodd"`);
const many = (count: number, drawn: (k: number) => string): string =>
  Array.from({ length: count }, (_, k) => drawn(k)).join("");
const inGrid = (k: number, across: number, stepMm: number): string =>
  `M${8 + (k % across) * stepMm} ${8 + Math.floor(k / across) * stepMm}`;
/** Painted last, across the middle: what connectors may hide under. */
const BAND = path("M10 40h80v20h-80z", WATER);

test.each<[string, string]>([
  ["points in one line", path("M10 10H50H90H20V10z") + path("M10 10L90 90L10 10V12z") + BAND],
  ["no area at all", path("M10 10L90 90L10 10z") + path("M10 10z") + path("M20 20H20H20z") + BAND],
  ["a needle's prick", line("M50 50L50 50", 1).replace("<path", '<path stroke-linecap="round"') + BAND],
  ["a spike that comes back on itself", path("M10 50H50V90H30L60 50L30 90H10z") + BAND],
  ["the same blade twenty times", many(20, () => path("M10 10H60V60H10z"))],
  ["twenty blades by turns in two threads", many(20, (k) => path("M10 10H60V60H10z", k % 2 ? NAVY : WATER))],
  ["blades that meet in a corner", many(5, (k) => path(`${inGrid(k * 6, 5, 16)}h16v16h-16z`)) + BAND],
  [
    "blades that share edges, in two threads",
    many(25, (k) => path(`${inGrid(k, 5, 16)}h16v16h-16z`, k % 2 ? NAVY : WATER)),
  ],
  ["an hourglass", path("M10 10L50 50L90 10V90L50 50L10 90z") + BAND],
  [
    "reeds with a hair between them",
    many(30, (k) => path(`M${5 + k * 3} 10h2.97v80h-2.97z`, k % 3 ? WATER : NAVY)),
  ],
  [
    "reeds with less than a hair between them",
    many(30, (k) => path(`M${5 + k * 3} 10h2.999v80h-2.999z`)) + BAND,
  ],
  [
    "blades finer than a thread",
    path("M10 10L90 10.05L10 10.1z") + path("M10 20H90V20.2H10z") + path("M10 30H90V30.02H10z"),
  ],
  ["dots of 0.1 mm", many(200, (k) => path(`${inGrid(k, 20, 4.2)}h.1v.1h-.1z`)) + BAND],
  ["dots of 0.5 mm, 0.1 mm apart", many(100, (k) => path(`${inGrid(k, 10, 0.6)}h.5v.5h-.5z`))],
  ["a sieve", path(`M5 5H95V95H5z${many(36, (k) => `${inGrid(k, 6, 14)}v4h4v-4z`)}`) + BAND],
  [
    "a sieve whose holes meet in corners",
    evenOdd(`M5 5H95V95H5z${many(100, (k) => `${inGrid(k, 10, 8)}v8h8v-8z`)}`),
  ],
  [
    "a fan of slivers",
    many(24, (k) =>
      path(
        pathThrough([
          [50, 50],
          ...[k, k + 1].map((n): [number, number] => [
            50 + 45 * Math.cos(n / 3.82),
            50 + 45 * Math.sin(n / 3.82),
          ]),
        ]),
        k % 2 ? WATER : NAVY,
      ),
    ),
  ],
  ["a star of five, and its middle", path(pathThrough(star(5, 2))) + BAND],
  ["a star of five without its middle", evenOdd(pathThrough(star(5, 2))) + BAND],
  ["a star of 21 that crosses itself everywhere", evenOdd(pathThrough(star(21, 10)))],
  ["rings within rings", evenOdd(nestedRings(16)) + BAND],
  ["a spiral", path(pathThrough(spiralBand(5, 0.5))) + BAND],
  ["a spiral finer than satin", path(pathThrough(spiralBand(12, 0.6))) + BAND],
  ["a spiral with hardly a gap", path(pathThrough(spiralBand(6, 0.98))) + BAND],
  ["a comb", path(pathThrough(comb(20))) + BAND],
  ["a comb with teeth finer than a thread", path(pathThrough(comb(80)))],
  ["von Koch's snowflake", path(pathThrough(snowflake(4))) + BAND],
  ["the dragon's outline", path(pathThrough(dragon(8))) + BAND],
  ["the dragon as a line", line(pathThrough(dragon(9), false), 0.4)],
  ["Hilbert's line, fine", line(pathThrough(hilbertLine(5), false), 0.5)],
  ["Hilbert's line, wide", line(pathThrough(hilbertLine(4), false), 2)],
  ["a line forty times there and back", line(`M10 50${many(40, (k) => `H${k % 2 ? 10 : 90}`)}`, 2)],
  ["a crest of feathers finer than the pen", line(`M8 70${"q9 -40 .42 0q-9 40 .42 0".repeat(100)}`, 4)],
  [
    "a scribble",
    line(`M${many(120, (k) => `${50 + 40 * Math.sin(k * k * 0.7)} ${50 + 40 * Math.cos(k * 1.3)} `)}`, 1),
  ],
])("%s", (name, content) => {
  const { kind, faults } = judge({ name, text: svg(content), settings: DEFAULT_SETTINGS, done: [] });
  expect(faults).toEqual([]);
  expect(kind).toBe("planned");
});
