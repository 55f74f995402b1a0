/**
 * Filled shapes sewn as columns, fills and runs by their width. The limits of width, the spacing and the figures
 * of coverage are common practice in the trade, no source, where nothing else is said.
 */
import { describe, expect, it } from "vitest";
import type { Piece } from "../../core/artwork/types.ts";
import { distance } from "../../core/geometry/point.ts";
import { intersect, regionArea, regionBox, regionContains, union } from "../../core/geometry/region.ts";
import type { Point } from "../../core/geometry/types.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { chooseTechniques } from "../../core/techniques/choose-techniques.ts";
import { layColumn, spineOf } from "../../core/techniques/columns.ts";
import { shapeParts } from "../../core/techniques/shape-parts.ts";
import { stitcherFor } from "../../core/techniques/stitcher.ts";
import type { StitchPart } from "../../core/techniques/types.ts";
import { type Random, seededRandom } from "../support/random-region.ts";
import { readContent } from "../support/read.ts";
import { SHAPES, type ShapeName } from "./columns-shapes.ts";
import { sewOut } from "./satin-sew-out.ts";

const AUTO: Settings = { ...DEFAULT_SETTINGS, technique: "auto" };

const piecesIn = (content: string, settings = AUTO): readonly Piece[] =>
  chooseTechniques(readContent(content), settings).pieces;

const pieceOf = (name: ShapeName, transform = ""): Piece =>
  piecesIn(`<path transform="${transform}" d="${SHAPES[name]}"/>`)[0];

/** Techniques of a piece's parts by their first letters, sorted: "fss" is a fill and two satins. */
const recipeOf = ({ technique, parts }: Piece): string =>
  parts
    ? parts
        .map((part) => part.technique[0])
        .sort()
        .join("")
    : technique;

const TURNS = ["", "rotate(37 30 30)", "translate(60 0) scale(-1 1) rotate(11 30 30)"];

describe("the technique that a shape gets", () => {
  const expected: readonly [ShapeName, string, string][] = [
    ["bow line", "run", "0.7 mm wide: a run, out on one side and back on the other"],
    ["reed leaf", "s", "one column that tapers"],
    ["letter S", "s", "one column that turns"],
    ["life ring", "s", "one column, closed"],
    ["pennant", "s", "one column that comes to a point"],
    ["heron eye", "s", "a dot of 5 mm"],
    ["boat house corner", "s", "one column round the corner"],
    ["mooring", "ss", "the bar, and the post under it"],
    ["crossed oars", "sss", "one oar whole, the other in two"],
    ["letter A", "ss", "both legs in one, and the cross bar"],
    ["heron feather", "fill", "too wide for satin, and its tips too short"],
    ["leaf with a stem", "fss", "the blade's foot and the stem beside the blade"],
    ["star with long points", "fsssss", "a body and five points"],
    ["oar", "fs", "the blade and the shaft"],
  ];
  for (const [name, recipe, why] of expected)
    it(`${name}: ${why}`, () => expect(recipeOf(pieceOf(name))).toBe(recipe));

  it("does not hang on how the shape is turned", () => {
    for (const name of ["letter S", "star with long points", "mooring", "heron feather", "oar"] as const)
      for (const turn of TURNS) expect(recipeOf(pieceOf(name, turn)), turn).toBe(recipeOf(pieceOf(name)));
  });

  it("follows the width as the same pennant is drawn larger", () => {
    const strip = (width: number) =>
      recipeOf(piecesIn(`<rect x="5" y="5" width="60" height="${width}"/>`)[0]);
    // Common practice, no source: under 1 mm a run, from 1 to 7 mm satin, wider a fill.
    expect([0.8, 1.2, 6.9, 9].map(strip)).toEqual(["run", "s", "s", "fill"]);
  });

  it("is the same for a stroke and for the same area filled", () => {
    const [stroke, filled] = piecesIn(
      `<path d="M10 20H60" stroke="#123" stroke-width="4" fill="none"/><rect x="10" y="38" width="50" height="4"/>`,
    );
    expect([stroke.technique, filled.technique]).toEqual(["satin", "satin"]);
  });

  it("gives a stroke that is wider than two threads a third pass", () => {
    const [thin, wide] = piecesIn(
      `<g fill="none" stroke="#123"><path d="M10 20H60" stroke-width="0.4"/><path d="M10 30H60" stroke-width="0.8"/></g>`,
    );
    expect([thin.technique, wide.technique]).toEqual(["run", "run"]);
    expect([thin.passes, wide.passes]).toEqual([undefined, 3]);
  });

  it("sews an area as satin where the artist asks for it, however wide", () => {
    const asked = (d: string) =>
      chooseTechniques(readContent(`<path data-tuck-technique="satin" d="${d}"/>`), AUTO);
    const blade = asked("M0 0H40V9H0Z");
    expect(blade.pieces.map(recipeOf)).toEqual(["s"]);
    expect(blade.findings).toEqual([]);
    const buoy = asked("M30 0L36 22 58 12 44 31 60 46 37 41 30 62 23 41 0 46 16 31 2 12 24 22Z");
    expect(buoy.pieces.map(recipeOf).join("")).toMatch(/^s+$/);
  });

  it("leaves alone what the artist set, and everything where the settings say as drawn", () => {
    const fill = `<path data-tuck-technique="fill" d="${SHAPES["reed leaf"]}"/>`;
    const run = `<path data-tuck-technique="run" d="${SHAPES["reed leaf"]}"/>`;
    expect(piecesIn(fill + run).map(recipeOf)).toEqual(["fill", "run"]);
    const drawing = readContent(`<path d="${SHAPES["reed leaf"]}"/>`);
    expect(chooseTechniques(drawing, { ...AUTO, technique: "as-drawn" })).toBe(drawing);
  });
});

describe("the parts of a shape", () => {
  for (const name of Object.keys(SHAPES) as ShapeName[]) {
    const piece = pieceOf(name);
    const { parts, joints } = shapeParts(piece.region[0], AUTO);
    if (parts.length < 2) continue;

    it(`are the whole of it, and hang together by joints within both: ${name}`, () => {
      const whole = union(parts.map(({ region }) => region));
      expect(regionArea(whole)).toBeCloseTo(regionArea(piece.region), 1);
      expect(joints).toHaveLength(parts.length - 1);
      for (const { parts: sides, at } of joints)
        for (const k of sides) expect(Math.min(...awayFrom(parts[k].region, at))).toBeLessThan(0.01);
    });

    it(`overlap by about half a millimetre where they meet: ${name}`, () => {
      for (const {
        parts: [a, b],
      } of joints) {
        const shared = intersect(parts[a].region, parts[b].region);
        const box = regionBox(shared);
        // As wide as the cut, half a millimetre deep: its area over its length.
        const long = Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
        expect(regionArea(shared) / long).toBeGreaterThan(0.2);
        expect(regionArea(shared) / long).toBeLessThan(0.8);
      }
    });
  }
});

/** 0 for a point in the region, else its distance to each vertex and edge. */
function awayFrom(region: Piece["region"], p: Point): number[] {
  if (regionContains(region, p)) return [0];
  return region.flatMap(({ outer }) =>
    outer.map((q, i) => {
      const next = outer[(i + 1) % outer.length];
      const long = distance(q, next);
      const t = Math.max(
        0,
        Math.min(1, ((p[0] - q[0]) * (next[0] - q[0]) + (p[1] - q[1]) * (next[1] - q[1])) / long ** 2),
      );
      return distance(p, [q[0] + (next[0] - q[0]) * t, q[1] + (next[1] - q[1]) * t]);
    }),
  );
}

const RUNGS = { spacingMm: 0.4, pullMm: 0, threadWidthMm: 0.4 };

describe("a column", () => {
  const columnOf = (name: ShapeName) => {
    const [polygon] = pieceOf(name).region;
    const spine = spineOf(polygon);
    if (spine === null) throw new Error(`${name} has no spine`);
    const ladder = layColumn(spine, polygon, RUNGS);
    if (ladder === null) throw new Error(`${name} has no rungs`);
    return ladder;
  };

  it("is none where no place on the spine lies inside: a hair that rounding has left beside it", () => {
    const [pennant] = pieceOf("pennant").region;
    const beside = {
      line: [[0, 60] as const, [0.02, 60] as const],
      halfWidthsMm: [0.01, 0.01],
      closed: false,
    };
    expect(layColumn(beside, pennant, RUNGS)).toBeNull();
  });

  it("has its rungs from edge to edge of the outline", () => {
    const ladder = columnOf("pennant");
    // The edges of the pennant: y = 30 ± 4 · (x − 5) / 50.
    for (const { left, right } of ladder.rungs)
      for (const [x, y] of [left, right])
        expect(Math.abs(Math.abs(y - 30) - (4 * (x - 5)) / 50)).toBeLessThan(0.03);
  });

  it("reaches its ends, squared and pointed", () => {
    const xs = columnOf("pennant").rungs.map(({ centre }) => centre[0]);
    expect(Math.min(...xs)).toBeLessThan(5.5);
    expect(Math.max(...xs)).toBeGreaterThan(54.7);
    expect(Math.max(...xs)).toBeLessThanOrEqual(55);
  });

  it("turns with the shape: rungs of a ring point to its middle, half a spacing apart on its outer edge", () => {
    const ladder = columnOf("life ring");
    expect(ladder.closed).toBe(true);
    const outer = ladder.rungs.map(({ left, right }) =>
      distance(left, [30, 30]) > distance(right, [30, 30]) ? left : right,
    );
    for (const { left, right } of ladder.rungs) {
      const [ax, ay, bx, by] = [left[0] - 30, left[1] - 30, right[0] - 30, right[1] - 30];
      expect(Math.abs(ax * by - ay * bx) / (Math.hypot(ax, ay) * Math.hypot(bx, by))).toBeLessThan(0.02);
    }
    const gaps = outer.slice(1).map((p, i) => distance(p, outer[i]));
    expect(Math.max(...gaps)).toBeLessThan(0.22);
    expect(Math.min(...gaps)).toBeGreaterThan(0.17);
  });

  it("never crosses one rung with the next", () => {
    for (const name of ["letter S", "boat house corner", "reed leaf", "life ring"] as const) {
      const { rungs } = columnOf(name);
      for (let i = 1; i < rungs.length; i++) {
        const [a, b] = [rungs[i - 1], rungs[i]];
        const side = (p: Point): number =>
          (a.right[0] - a.left[0]) * (p[1] - a.left[1]) - (a.right[1] - a.left[1]) * (p[0] - a.left[0]);
        // A hair of rounding apart, the next rung lies wholly on one side of the one before.
        expect(Math.min(side(b.left) * side(b.right), 0), `${name} ${i}`).toBeGreaterThan(-0.02);
      }
    }
  });
});

describe("what is sewn", () => {
  for (const name of Object.keys(SHAPES) as ShapeName[])
    it(`covers the shape, stays on it, joins up and hides its travel: ${name}`, () => {
      const random = seededRandom(17);
      for (const transform of ["", "rotate(37 30 30)", "scale(.6)"]) {
        const piece = pieceOf(name, transform);
        const stitcher = stitcherFor(piece, AUTO);
        const [entry, exit] = [stitcher.snap(placeIn(piece, random)), stitcher.snap(placeIn(piece, random))];
        const parts = stitcher.stitch(entry, exit);
        expectJoined(parts, entry, exit);
        const { coveredShare, outsideShare, travelMm, visibleTravelMm } = sewOut(
          parts,
          piece.region,
          0.3 + AUTO.pullMm,
        );
        expect(coveredShare, transform).toBeGreaterThan(0.97);
        expect(outsideShare, transform).toBeLessThan(0.01);
        expect(visibleTravelMm, transform).toBeLessThan(0.01 * travelMm + 0.5);
      }
    }, 60_000);

  it("is the same each time", () => {
    const sew = () => {
      const piece = pieceOf("star with long points");
      return stitcherFor(piece, AUTO).stitch([30, 2.5], [30, 30]);
    };
    expect(sew()).toEqual(sew());
  });

  it("estimates more travel for an exit beside the entry than for one at the far end", () => {
    const stitcher = stitcherFor(pieceOf("mooring"), AUTO);
    const near = stitcher.travelMm([9, 9], [9, 12]);
    const far = stitcher.travelMm([9, 9], [30, 53]);
    expect(near).toBeGreaterThan(far);
  });
});

/** Anywhere in the piece, or on a corner of its outline. */
function placeIn({ region }: Piece, random: Random): Point {
  const { outer } = region[0];
  if (random() < 0.4) return outer[Math.floor(random() * outer.length)];
  const box = regionBox(region);
  for (;;) {
    const p: Point = [
      box.minX + random() * (box.maxX - box.minX),
      box.minY + random() * (box.maxY - box.minY),
    ];
    if (regionContains(region, p)) return p;
  }
}

function expectJoined(parts: readonly StitchPart[], entry: Point, exit: Point): void {
  let at = entry;
  let stitches = 0;
  let short = 0;
  for (const { points } of parts) {
    expect(distance(at, points[0])).toBeLessThan(1e-6);
    for (let i = 1; i < points.length; i++) {
      const long = distance(points[i - 1], points[i]);
      expect(long).toBeLessThan(AUTO.maxMoveMm);
      stitches++;
      if (long < AUTO.minStitchMm - 1e-6) short++;
    }
    at = points[points.length - 1];
  }
  expect(distance(at, exit)).toBeLessThan(1e-6);
  // A fill may end on a short stitch rather than leave its last row open.
  expect(short).toBeLessThanOrEqual(Math.max(2, stitches / 200));
}
