/** Where a patch's outline lies, judged by jsts, a port of the JTS Topology Suite, which the core does not use. */
import "jsts/org/locationtech/jts/monkey.js";
import MinimumBoundingCircle from "jsts/org/locationtech/jts/algorithm/MinimumBoundingCircle.js";
import Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
import GeometryFactory from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import { describe, expect, it } from "vitest";
import { boxOf, distance } from "../../core/geometry/point.ts";
import { closeRing, polylineLength, signedArea } from "../../core/geometry/polyline.ts";
import { offset, regionContains, ringsOf } from "../../core/geometry/region.ts";
import type { Point, Ring } from "../../core/geometry/types.ts";
import { patchOutline, silhouetteOf } from "../../core/patch/outline.ts";
import { rectangleRing, shieldRing, smallestCircle } from "../../core/patch/smallest-shapes.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { BADGE } from "../support/badge.ts";
import { jstsPolygon } from "../support/jsts-cover.ts";
import { area, box } from "../support/pieces.ts";
import { seededRandom } from "../support/random-region.ts";
import { read } from "../support/read.ts";

/** What the chords of several offsets one after another may take, or the smoothing give: a quarter of the thread. */
const ROUND_MM = 0.1;

const factory = new GeometryFactory();
const { pieces } = read(BADGE);
const settings = (patch: Settings["patch"], others: Partial<Settings> = {}): Settings => ({
  ...DEFAULT_SETTINGS,
  patch,
  ...others,
});
const outlineOf = (patch: Settings["patch"], others?: Partial<Settings>): Ring =>
  patchOutline(pieces, settings(patch, others))!;
const asLine = (ring: Ring) =>
  factory.createLineString(closeRing(ring).map(([x, y]) => new Coordinate(x, y)));
/** From the artwork to a ring round it, by JTS. */
const clearance = (ring: Ring): number =>
  Math.min(
    ...pieces.flatMap(({ region }) =>
      region.map((polygon) => DistanceOp.distance(jstsPolygon(polygon), asLine(ring)) as number),
    ),
  );

const points = (seed: number): Point[] => {
  const random = seededRandom(seed);
  return Array.from({ length: 3 + Math.floor(40 * random()) }, (): Point => [60 * random(), 30 * random()]);
};
const SEEDS = Array.from({ length: 30 }, (_, k) => k + 1);

describe("the smallest shapes", () => {
  it("a circle is as large as that of JTS", () => {
    for (const seed of SEEDS) {
      const coordinates = points(seed).map(([x, y]) => new Coordinate(x, y));
      const theirs = new MinimumBoundingCircle(factory.createMultiPointFromCoords(coordinates));
      expect(smallestCircle(points(seed)).radius, `seed ${seed}`).toBeCloseTo(theirs.getRadius(), 6);
    }
  });

  it("a circle round a single point or a line has no more than that", () => {
    expect(smallestCircle([[3, 4]])).toEqual({ centre: [3, 4], radius: 0 });
    const { centre, radius } = smallestCircle([
      [0, 0],
      [5, 5],
      [10, 10],
    ]);
    expect(centre).toEqual([5, 5]);
    expect(radius).toBeCloseTo(5 * Math.SQRT2, 9);
  });

  it("a shield that is given a shield is that shield", () => {
    const shield = shieldRing([
      [0, 0],
      [30, 0],
      [15, 40],
    ]);
    const again = shieldRing(shield);
    for (const [k, p] of again.entries()) expect(distance(p, shield[k])).toBeLessThan(1e-3);
  });

  it("a shield holds all points, and a hair smaller it would not", () => {
    for (const seed of SEEDS) {
      const shield = shieldRing(points(seed));
      const holdsAll = (ring: Ring) =>
        points(seed).every((p) => regionContains(offset([{ outer: ring, holes: [] }], 1e-3), p));
      expect(holdsAll(shield), `seed ${seed}`).toBe(true);
      const { minX, maxX, minY, maxY } = boxOf(shield);
      // Shrunk about any of these places, wherever the points leave it room.
      for (const x of [minX, (minX + maxX) / 2, maxX])
        for (const y of [minY, (minY + maxY) / 2, maxY]) {
          const smaller = shield.map(([px, py]): Point => [x + 0.995 * (px - x), y + 0.995 * (py - y)]);
          expect(holdsAll(smaller), `seed ${seed}, about ${x} ${y}`).toBe(false);
        }
    }
  });

  it("a rectangle is the box", () => {
    expect(
      rectangleRing([
        [2, 1],
        [7, 9],
        [4, 5],
      ]),
    ).toEqual([
      [2, 1],
      [7, 1],
      [7, 9],
      [2, 9],
    ]);
  });
});

describe("the outline of a patch", () => {
  it.each(["circle", "rounded", "shield", "outline"] as const)(
    "%s: the margin lies between artwork and edge, and no more than that where they come nearest",
    (shape) => {
      const { patchMarginMm, patchEdgeMm } = DEFAULT_SETTINGS;
      expect(clearance(outlineOf(shape))).toBeGreaterThan(patchMarginMm + patchEdgeMm - ROUND_MM);
      expect(clearance(outlineOf(shape))).toBeLessThan(patchMarginMm + patchEdgeMm + ROUND_MM);
      expect(clearance(outlineOf(shape, { patchMarginMm: 5 }))).toBeGreaterThan(5 + patchEdgeMm - ROUND_MM);
    },
  );

  it("silhouette: the edge reaches out by the margin, and over the rim with the rest of its width", () => {
    // A disc has no narrow part and no corner.
    const disc = area(
      "sun",
      Array.from(
        { length: 200 },
        (_, k): Point => [20 + 15 * Math.cos((k * Math.PI) / 100), 20 + 15 * Math.sin((k * Math.PI) / 100)],
      ),
    );
    const outline = patchOutline([disc], settings("silhouette"))!;
    for (const p of outline) expect(distance(p, [20, 20])).toBeCloseTo(15 + 2.5, 1);
  });

  it("silhouette: a pole too thin to lie under an edge shows whole between its two sides", () => {
    const banner = box("banner", 0, 0, 30, 20);
    const pole = box("pole", 14, 20, 1.6, 25);
    const outline = patchOutline([banner, pole], settings("silhouette"))!;
    const inner = offset([{ outer: outline, holes: [] }], -DEFAULT_SETTINGS.patchEdgeMm, "round");
    for (let y = 26; y < 44; y++)
      for (const x of [14.1, 14.8, 15.5]) expect(regionContains(inner, [x, y]), `${x} ${y}`).toBe(true);
  });

  it("is one ring round parts that lie apart, and fills what they enclose", () => {
    const oars = [box("oar-1", 0, 0, 4, 60), box("oar-2", 40, 0, 4, 60)];
    const silhouette = silhouetteOf(oars);
    for (const p of oars.flatMap(({ region }) => ringsOf(region)).flat())
      expect(regionContains(offset([{ outer: silhouette, holes: [] }], 0.05), p)).toBe(true);
    expect(signedArea(silhouette)).toBeGreaterThan(2 * 4 * 60);
  });

  it.each(["silhouette", "circle", "rounded", "shield", "outline"] as const)(
    "%s: is nowhere bent outwards more sharply than the edge is wide",
    (shape) => {
      // What a disc of that radius rolls over from within is all of it, but for what flattening takes.
      const outline = outlineOf(shape, { patchEdgeMm: 3 });
      const whole = [{ outer: outline, holes: [] }];
      const rolled = offset(offset(whole, -2.9, "round"), 2.9, "round");
      const lost = signedArea(outline) - rolled.reduce((sum, { outer }) => sum + signedArea(outer), 0);
      expect(lost / polylineLength(closeRing(outline))).toBeLessThan(0.02);
    },
  );

  it("is none where nothing is sewn", () => {
    expect(patchOutline([], settings("circle"))).toBeNull();
    expect(patchOutline([{ ...box("pond", 0, 0, 9, 9), technique: "skip" }], settings("circle"))).toBeNull();
    expect(patchOutline(pieces, settings("none"))).toBeNull();
  });
});
