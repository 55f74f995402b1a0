/** Shapes that are hard to fill in one go: what a club's crest, its letters and its water are made of, and worse. */

import { rotate } from "../../core/geometry/point.ts";
import { regionFromRings, subtract, union } from "../../core/geometry/region.ts";
import type { Point, Region, Ring } from "../../core/geometry/types.ts";

const ellipse = (cx: number, cy: number, rx: number, ry = rx, steps = 64): Ring =>
  Array.from({ length: steps }, (_, i): Point => {
    const t = (2 * Math.PI * i) / steps;
    return [cx + rx * Math.cos(t), cy + ry * Math.sin(t)];
  });

const box = (x: number, y: number, width: number, height: number): Ring => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
];

const shape = (...rings: Ring[]): Region => regionFromRings(rings, "nonzero");

/** A level bar with its upper left corner at the origin. */
export const bar = (width: number, height: number): Region => shape(box(0, 0, width, height));

const without = (whole: Region, ...holes: Ring[]): Region => subtract(whole, shape(...holes));

/** A band along a curve: `at(t)` for t from 0 to 1, `width(t)` across it. */
function band(at: (t: number) => Point, width: (t: number) => number, steps: number): Region {
  const left: Point[] = [];
  const right: Point[] = [];
  for (let i = 0; i <= steps; i++) {
    const t = i / steps;
    const [x, y] = at(t);
    const [ax, ay] = at(Math.max(0, t - 1e-4));
    const [bx, by] = at(Math.min(1, t + 1e-4));
    const length = Math.hypot(bx - ax, by - ay);
    const [nx, ny] = [(-(by - ay) / length) * (width(t) / 2), ((bx - ax) / length) * (width(t) / 2)];
    left.push([x + nx, y + ny]);
    right.push([x - nx, y - ny]);
  }
  return shape([...left, ...right.reverse()]);
}

const spiral = band(
  (t) => {
    const turn = 2 * Math.PI * 2.5 * t;
    const r = 1.5 + 7 * t;
    return [10 + r * Math.cos(turn), 10 + r * Math.sin(turn)];
  },
  () => 1.6,
  160,
);

const comb = shape(box(0, 0, 20, 3), ...Array.from({ length: 6 }, (_, i) => box(i * 3.6, 2, 2, 10)));
const combUpright: Region = comb.map(({ outer, holes }) => ({
  outer: outer
    .map(([x, y]): Point => [y, -x])
    .reverse()
    .reverse(),
  holes,
}));

const star: Ring = Array.from({ length: 10 }, (_, i): Point => {
  const r = i % 2 === 0 ? 9 : 3.6;
  const t = (Math.PI * i) / 5 - Math.PI / 2;
  return [9 + r * Math.cos(t), 9 + r * Math.sin(t)];
});

const letterB = without(
  union([shape(box(0, 0, 5, 14)), shape(ellipse(5, 3.7, 4.5, 3.7)), shape(ellipse(5, 10, 5.5, 4))]),
  ellipse(4.6, 3.7, 2, 1.4),
  ellipse(4.9, 10, 2.6, 1.6),
);
const letterE = shape(box(0, 0, 3, 14), box(2, 0, 8, 2.6), box(2, 5.6, 6, 2.6), box(2, 11.4, 8, 2.6));
const letterA = without(
  shape([
    [0, 14],
    [5, 0],
    [7, 0],
    [12, 14],
    [9, 14],
    [8, 10.5],
    [4, 10.5],
    [3, 14],
  ] as Point[]),
  [
    [4.8, 8.2],
    [6, 4.5],
    [7.2, 8.2],
  ] as Point[],
);
const figureEight = without(
  union([shape(ellipse(5, 4, 4)), shape(ellipse(5, 11, 5, 4.5))]),
  ellipse(5, 4, 1.8),
  ellipse(5, 11, 2.4, 2),
);
const cheese = without(
  shape(ellipse(12, 9, 12, 9, 96)),
  ...Array.from({ length: 12 }, (_, i) =>
    ellipse(
      4 + (i % 4) * 5.2 + (i > 7 ? 0.7 : 0),
      5 + Math.floor(i / 4) * 4.1,
      0.7 + (i % 3) * 0.35,
      undefined,
      24,
    ),
  ),
);
const cShape = without(shape(ellipse(8, 8, 8)), ellipse(8, 8, 4.5), box(10, 6, 8, 4));
const crescent = without(shape(ellipse(10, 10, 10, undefined, 128)), ellipse(10, 10.5, 10, undefined, 128));
const leaf = band(
  (t) => [16 * t, 3 * Math.sin(Math.PI * t)],
  (t) => 5 * Math.sin(Math.PI * t) + 0.001,
  60,
);
const zigzag = shape([
  [0, 0],
  [4, 6],
  [8, 0],
  [12, 6],
  [16, 0],
  [16, 2.2],
  [12, 8.2],
  [8, 2.2],
  [4, 8.2],
  [0, 2.2],
] as Point[]);
const dumbbell = shape(ellipse(4, 4, 4), ellipse(16, 4, 4), box(6, 3.93, 8, 0.2));

export const ZOO: Readonly<Record<string, Region>> = {
  disc: shape(ellipse(6, 6, 6)),
  ring: without(shape(ellipse(8, 8, 8)), ellipse(8, 8, 5)),
  "letter B": letterB,
  "letter E": letterE,
  "letter A": letterA,
  "figure 8": figureEight,
  spiral,
  comb,
  "comb upright": combUpright,
  star: shape(star),
  "C shape": cShape,
  crescent,
  "two blobs with a neck": dumbbell,
  "sharp triangle": shape([
    [0, 0],
    [24, 1.5],
    [24, 4],
  ] as Point[]),
  strip: shape(box(0, 0, 20, 0.3)),
  dot: shape(ellipse(1, 1, 0.25, undefined, 16)),
  "cheese with 12 holes": cheese,
  leaf,
  zigzag,
};

export const turned = (region: Region, angleRad: number): Region =>
  region.map(({ outer, holes }) => ({
    outer: outer.map((p) => rotate(p, angleRad)),
    holes: holes.map((ring) => ring.map((p) => rotate(p, angleRad))),
  }));
