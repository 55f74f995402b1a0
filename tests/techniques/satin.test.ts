import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { distance } from "../../core/geometry/point.ts";
import { polylineLength } from "../../core/geometry/polyline.ts";
import { type LineCap, type LineJoin, regionBox, regionContains } from "../../core/geometry/region.ts";
import type { Point, Polyline, Region } from "../../core/geometry/types.ts";
import { laySatin } from "../../core/techniques/satin.ts";
import { fitsSatin } from "../../core/techniques/satin-fit.ts";
import { layRungs } from "../../core/techniques/satin-rungs.ts";
import type { StitchPart } from "../../core/techniques/types.ts";
import { svgToPixels } from "../support/png.ts";
import { awayFrom, circle, curve, sewOut, strokeRegion, THREAD_MM } from "./satin-sew-out.ts";

// Common practice, no source: spacing 0.4, pull 0.2 a side, no stitch below 0.4, running stitches of 2.5,
// a machine's reach of 12.1 and thread of 0.4 mm.
const OPTIONS = {
  spacingMm: 0.4,
  pullMm: 0.2,
  minStitchMm: 0.4,
  runLengthMm: 2.5,
  maxStitchMm: 12.1,
  threadWidthMm: 0.4,
};

interface Stroke {
  readonly name: string;
  readonly line: Polyline;
  readonly widthMm: number;
  readonly cap?: LineCap;
  readonly join?: LineJoin;
}

const PI = Math.PI;

const STROKES: readonly Stroke[] = [
  {
    name: "oar shaft",
    line: [
      [0, 0],
      [20, 0],
    ],
    widthMm: 3,
  },
  {
    name: "heron's neck",
    line: curve((t) => [20 * t, 4 * Math.sin(2 * PI * t)], 20),
    widthMm: 3,
    cap: "round",
  },
  {
    name: "bow of a boat",
    line: curve((t) => [12 * Math.sin((t * PI) / 2), 12 - 12 * Math.cos((t * PI) / 2)], 7),
    widthMm: 4,
  },
  {
    name: "boat house corner",
    line: [
      [0, 0],
      [12, 0],
      [12, 12],
    ],
    widthMm: 4,
    join: "miter",
  },
  {
    name: "rounded corner",
    line: [
      [0, 0],
      [12, 0],
      [12, 12],
    ],
    widthMm: 4,
    cap: "square",
  },
  {
    name: "widest corner",
    line: [
      [0, 0],
      [16, 0],
      [16, 16],
    ],
    widthMm: 7,
    join: "miter",
  },
  {
    name: "pennant's tip",
    line: [
      [0, 0],
      [14, 2],
      [0, 6],
    ],
    widthMm: 2,
    join: "miter",
  },
  {
    name: "ripples",
    line: [
      [0, 0],
      [4, 8],
      [8, 0],
      [12, 8],
      [16, 0],
    ],
    widthMm: 2.5,
    cap: "round",
    join: "miter",
  },
  { name: "life ring", line: circle(8, 8, 7), widthMm: 3 },
  { name: "ring without a hole", line: circle(3, 3, 1.2), widthMm: 4 },
  {
    name: "frame",
    line: [
      [0, 0],
      [12, 0],
      [12, 12],
      [0, 12],
      [0, 0],
    ],
    widthMm: 3,
    join: "miter",
  },
  {
    name: "coil of rope",
    line: curve(
      (t) => [10 + (2 + 8 * t) * Math.cos(5 * PI * t), 10 + (2 + 8 * t) * Math.sin(5 * PI * t)],
      120,
    ),
    widthMm: 2,
    cap: "round",
  },
  {
    name: "bent reed",
    line: [
      [0, 0],
      [12, 0],
      [0, 0.8],
    ],
    widthMm: 2,
    cap: "round",
  },
  {
    name: "oarlock",
    line: [
      [0, 0],
      [8, 0],
      [9, 1],
      [8, 2],
      [0, 2],
    ],
    widthMm: 3,
  },
  {
    name: "figure eight knot",
    line: curve((t) => [10 + 9 * Math.sin(2 * PI * t), 6 + 5 * Math.sin(4 * PI * t)], 48),
    widthMm: 2,
  },
  {
    name: "star",
    line: [
      [0, 6],
      [14, 6],
      [2, 14],
      [7, 0],
      [12, 14],
      [0, 6],
    ],
    widthMm: 2,
    join: "miter",
  },
  { name: "eye", line: [[0, 0]], widthMm: 3, cap: "round" },
  {
    name: "drop",
    line: [
      [0, 0],
      [0.1, 0.1],
    ],
    widthMm: 2,
    cap: "round",
  },
];

const regionOf = ({ line, widthMm, cap, join }: Stroke): Region => strokeRegion(line, widthMm, cap, join);

/** Seven places in a region: near its box's corners, sides and middle, moved in. */
function placesIn(region: Region, snap: (p: Point) => Point): Point[] {
  const { minX, minY, maxX, maxY } = regionBox(region);
  const at = (tx: number, ty: number): Point => [minX + (maxX - minX) * tx, minY + (maxY - minY) * ty];
  return [at(0, 0), at(1, 0), at(1, 1), at(0, 1), at(0.5, 0.5), at(0.2, 0.6), at(0.9, 0.45)].map(snap);
}

function expectJoined(parts: readonly StitchPart[], entry: Point, exit: Point): void {
  expect(parts[0].points[0]).toEqual(entry);
  parts.forEach((part, k) => {
    const next = k + 1 < parts.length ? parts[k + 1].points[0] : exit;
    expect(part.points[part.points.length - 1]).toEqual(next);
  });
  expect(parts.flatMap((part) => part.points.flat()).every(Number.isFinite)).toBe(true);
}

const stitchesOf = (parts: readonly StitchPart[]): number[] =>
  parts.flatMap(({ points }) => points.slice(1).map((p, i) => distance(points[i], p)));

describe.each(STROKES)("satin: $name", (stroke) => {
  const region = regionOf(stroke);
  const satin = laySatin(stroke.line, stroke.widthMm, region, OPTIONS);
  const places = placesIn(region, satin.snap);
  const sewn = places.map((entry, i) => {
    const exit = places[(i * 3 + 1) % places.length];
    return { entry, exit, parts: satin.stitch(entry, exit) };
  });

  it("begins at the entry and ends at the exit, and all between joins", () => {
    for (const { entry, exit, parts } of sewn) expectJoined(parts, entry, exit);
  });

  it("makes no stitch below 0.4 mm and none beyond the machine's reach", () => {
    for (const { parts } of sewn) {
      const lengths = stitchesOf(parts);
      expect(Math.min(...lengths)).toBeGreaterThanOrEqual(0.4 - 1e-9);
      expect(Math.max(...lengths)).toBeLessThanOrEqual(12.1);
    }
  });

  it("covers its stroke, stays on it but for the pull, and hides its travel", () => {
    let travelMm = 0;
    let visibleMm = 0;
    for (const { parts } of sewn) {
      const look = sewOut(parts, region, OPTIONS.pullMm + 0.25);
      expect(look.coveredShare).toBeGreaterThan(0.97);
      expect(look.outsideShare).toBeLessThan(0.005);
      travelMm += look.travelMm;
      visibleMm += look.visibleTravelMm;
    }
    expect(visibleMm).toBeLessThanOrEqual(0.01 * travelMm);
  });

  it("has no needle hole further outside than pull and 0.15 mm", () => {
    for (const { parts } of sewn)
      for (const { points } of parts)
        for (const p of points)
          if (!regionContains(region, p)) expect(awayFrom(region, p)).toBeLessThan(0.35);
  });

  it("suits satin", () => {
    const ladder = layRungs(stroke.line, stroke.widthMm, region, OPTIONS);
    expect(fitsSatin(ladder, region, stroke.widthMm, OPTIONS.pullMm)).toBe(true);
  });

  it("is sewn the same way every time", () => {
    const again = laySatin(stroke.line, stroke.widthMm, region, OPTIONS);
    expect(again.stitch(sewn[0].entry, sewn[0].exit)).toEqual(sewn[0].parts);
  });
});

describe("satin", () => {
  const oar: Polyline = [
    [0, 0],
    [20, 0],
  ];
  const oarSatin = laySatin(oar, 3, strokeRegion(oar, 3), OPTIONS);
  const holesOf = (parts: readonly StitchPart[], role: string): Point[] =>
    parts.filter((part) => part.role === role).flatMap((part) => part.points);

  it("sets needle holes 0.4 mm apart on each side, half a width and the pull from the centre", () => {
    const [part, ...rest] = oarSatin.stitch([0, 0], [20, 0]);
    expect(rest).toEqual([]);
    const upper = part.points.filter(([, y]) => Math.abs(y + 1.7) < 1e-9);
    expect(upper.length).toBeGreaterThan(45);
    for (let i = 1; i < upper.length; i++) expect(upper[i][0] - upper[i - 1][0]).toBeCloseTo(0.4, 1);
  });

  it("needs no travel from end to end, and the stroke's length of it from an end back to itself", () => {
    expect(oarSatin.travelMm([0, 0], [20, 0])).toBeCloseTo(0, 6);
    expect(oarSatin.travelMm([0, 0], [0, 1])).toBeCloseTo(20, 0);
    const travel = holesOf(oarSatin.stitch([0, 1], [0, -1]), "travel");
    expect(polylineLength(travel)).toBeCloseTo(20, -1);
  });

  it("estimates the travel that it then sews", () => {
    for (const [entry, exit] of [
      [
        [2, 0],
        [15, 1],
      ],
      [
        [15, 0],
        [4, -1],
      ],
      [
        [9, 1],
        [9, 1],
      ],
    ] as [Point, Point][]) {
      const parts = oarSatin.stitch(entry, exit).filter((part) => part.role === "travel");
      const sewn = parts.reduce((sum, part) => sum + polylineLength(part.points), 0);
      expect(Math.abs(sewn - oarSatin.travelMm(entry, exit))).toBeLessThan(3);
    }
  });

  it("spaces a bend on its outer side and draws crowded inner holes in", () => {
    const bow = curve((t) => [4 * Math.cos(t * PI), 4 * Math.sin(t * PI)], 24);
    const region = strokeRegion(bow, 5);
    const [part] = laySatin(bow, 5, region, OPTIONS).stitch(bow[0], bow[24]);
    const radii = part.points.map(([x, y]) => Math.hypot(x, y));
    const outer = part.points.filter((_, i) => radii[i] > 6.5);
    for (let i = 1; i < outer.length; i++) expect(distance(outer[i - 1], outer[i])).toBeLessThan(0.43);
    const inner = part.points.slice(1, -1).filter((_, i) => radii[i + 1] < 4);
    for (let i = 1; i < inner.length; i++)
      expect(distance(inner[i - 1], inner[i])).toBeGreaterThanOrEqual(0.2 - 1e-6);
    expect(radii.filter((r) => r > 1.6 && r < 5).length).toBeGreaterThan(5);
  });

  it("runs over the beginning of a ring for a millimetre", () => {
    const ring = circle(0, 0, 8);
    const satin = laySatin(ring, 3, strokeRegion(ring, 3), OPTIONS);
    const parts = satin.stitch([8, 0], [8, 0]);
    const turned = holesOf(parts, "cover")
      .slice(1, -1)
      .reduce((sum, p, i, all) => {
        if (i === 0) return 0;
        const [q, r] = [all[i - 1], p];
        return sum + Math.atan2(q[0] * r[1] - q[1] * r[0], q[0] * r[0] + q[1] * r[1]);
      }, 0);
    expect(Math.abs(turned) * 8).toBeGreaterThan(2 * PI * 8 + 0.7);
    expect(Math.abs(turned) * 8).toBeLessThan(2 * PI * 8 + 1.5);
  });

  it("splits stitches that are too long, and staggers where", () => {
    const region = strokeRegion(oar, 9);
    const parts = laySatin(oar, 9, region, { ...OPTIONS, maxStitchMm: 7 }).stitch([0, 0], [20, 0]);
    expect(Math.max(...stitchesOf(parts))).toBeLessThanOrEqual(7);
    const between = parts[0].points.filter(([, y]) => Math.abs(y) < 4).map(([, y]) => y.toFixed(1));
    expect(new Set(between).size).toBeGreaterThanOrEqual(3);
  });

  it("looks the same to another rasteriser as to the one of these tests", () => {
    // Source: @resvg/resvg-js draws region and thread; 20 pixels a millimetre.
    const neck = STROKES[1];
    const region = regionOf(neck);
    const { minX, minY } = regionBox(region);
    const satin = laySatin(neck.line, neck.widthMm, region, OPTIONS);
    const parts = satin.stitch(satin.snap([0, 0]), satin.snap([20, 0]));
    const draw = (body: string): Uint8Array =>
      svgToPixels(
        `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${minX - 1} ${minY - 1} 26 14">${body}</svg>`,
        520,
      ).rgba;
    const area = draw(`<path d="M${region[0].outer.join(" ")}Z"/>`);
    const thread = draw(
      parts
        .filter((part) => part.role === "cover")
        .map(
          (part) =>
            `<polyline points="${part.points.join(" ")}" fill="none" stroke="#000" stroke-width="${THREAD_MM}" stroke-linecap="round" stroke-linejoin="round"/>`,
        )
        .join(""),
    );
    let inside = 0;
    let covered = 0;
    for (let i = 3; i < area.length; i += 4) {
      if (area[i] < 128) continue;
      inside++;
      if (thread[i] >= 128) covered++;
    }
    expect(covered / inside).toBeCloseTo(sewOut(parts, region, 0.45).coveredShare, 2);
  });

  it("says that a scribble much smaller than its width suits no satin", () => {
    const scribble: Polyline = [
      [0, 0],
      [1, 0.2],
      [0.1, 0.4],
      [0.9, 0.9],
      [0, 0.7],
    ];
    const region = strokeRegion(scribble, 6.6, "square", "miter");
    expect(fitsSatin(layRungs(scribble, 6.6, region, OPTIONS), region, 6.6, 0.2)).toBe(false);
  });

  it("throws where there is no finite point to sew at", () => {
    expect(() => laySatin([[Number.NaN, 0]], 3, [], OPTIONS)).toThrow(RangeError);
  });

  it("joins, ends well and keeps its stitches in bounds on whatever line it suits", () => {
    const coordinate = fc.double({ min: 0, max: 15, noNaN: true });
    const point = fc.tuple(coordinate, coordinate);
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 2, maxLength: 7 }),
        fc.double({ min: 1, max: 7, noNaN: true }),
        fc.constantFrom<LineCap>("butt", "round", "square"),
        fc.constantFrom<LineJoin>("miter", "round", "bevel"),
        point,
        point,
        (line, widthMm, cap, join, from, to) => {
          fc.pre(polylineLength(line) > 2);
          const region = strokeRegion(line, widthMm, cap, join);
          fc.pre(fitsSatin(layRungs(line, widthMm, region, OPTIONS), region, widthMm, OPTIONS.pullMm));
          const satin = laySatin(line, widthMm, region, OPTIONS);
          const [entry, exit] = [satin.snap(from), satin.snap(to)];
          const parts = satin.stitch(entry, exit);
          expectJoined(parts, entry, exit);
          const lengths = stitchesOf(parts);
          expect(Math.min(...lengths)).toBeGreaterThanOrEqual(0.4 - 1e-9);
          expect(Math.max(...lengths)).toBeLessThanOrEqual(12.1);
        },
      ),
      { seed: 11, numRuns: 150 },
    );
  });
});

describe("a satin looks the same wherever it is begun", () => {
  const holesIn = (parts: readonly StitchPart[]): Set<string> =>
    new Set(
      parts
        .filter((part) => part.role === "cover")
        .flatMap((part) => part.points.map((p) => p.map((x) => x.toFixed(6)).join(" "))),
    );
  const line: Polyline = curve((t) => [20 * t, 4 * Math.sin(2 * PI * t)], 20);

  it("sewn one way, the other way, or out from its middle: the same needle holes", () => {
    const region = strokeRegion(line, 3);
    const satin = laySatin(line, 3, region, OPTIONS);
    const [start, middle, end] = [line[0], line[10], line[20]].map(satin.snap);
    const there = holesIn(satin.stitch(start, end));
    for (const [entry, exit] of [
      [end, start],
      [middle, end],
      [start, middle],
    ]) {
      const holes = holesIn(satin.stitch(entry, exit));
      // All but where thread comes in and goes out, and at an end the corner that it came from.
      expect([...there].filter((hole) => !holes.has(hole)).length).toBeLessThanOrEqual(4);
      expect([...holes].filter((hole) => !there.has(hole)).length).toBeLessThanOrEqual(4);
    }
  });

  it("a ring, begun anywhere: the same needle holes, and no two on one side where it meets itself", () => {
    for (const radiusMm of [7, 7.05, 7.1, 7.15]) {
      const ring = circle(8, 8, radiusMm);
      const satin = laySatin(ring, 3, strokeRegion(ring, 3), OPTIONS);
      const [east, west] = [ring[0], ring[ring.length >> 1]];
      const holes = holesIn(satin.stitch(east, east));
      const others = holesIn(satin.stitch(east, west));
      expect([...holes].filter((hole) => !others.has(hole)).length).toBeLessThanOrEqual(4);
      const cover = satin.stitch(west, west).filter(({ role }) => role === "cover");
      const outside = cover
        .flatMap(({ points }) => points.slice(1, -1))
        .map(([x, y]) => Math.hypot(x - 8, y - 8) > radiusMm);
      expect(outside.slice(1).every((isOut, k) => isOut !== outside[k])).toBe(true);
    }
  });
});
