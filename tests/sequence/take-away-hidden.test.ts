/** Fill that nobody sees is not sewn. Amounts are common practice, no source; areas are checked with jsts. */
import BufferOp from "jsts/org/locationtech/jts/operation/buffer/BufferOp.js";
import OverlayOp from "jsts/org/locationtech/jts/operation/overlay/OverlayOp.js";
import { describe, expect, test } from "vitest";
import type { Piece } from "../../core/artwork/types.ts";
import { regionArea, subtract, union } from "../../core/geometry/region.ts";
import type { Point, Ring } from "../../core/geometry/types.ts";
import { takeAwayHidden } from "../../core/sequence/take-away-hidden.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { jstsPolygon } from "../support/jsts-cover.ts";
import { area, box, CREAM, inOrder, NAVY, REED, runAlong } from "../support/pieces.ts";

const { underlapMm } = DEFAULT_SETTINGS;

const taken = (...pieces: Piece[]): readonly Piece[] =>
  takeAwayHidden(inOrder(...pieces), DEFAULT_SETTINGS).sequence.pieces;

const areaOf = ({ region }: Piece): number => regionArea(region);

/** The sun behind the heron: a circle. */
const disc = (id: string, [x, y]: Point, radius: number, colour: string): Piece =>
  area(
    id,
    Array.from({ length: 96 }, (_, k): Point => {
      const angle = (2 * Math.PI * k) / 96;
      return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
    }),
    colour,
  );

describe("a crest's field under what is drawn on it", () => {
  test("keeps an underlap of 1.5 mm round what it frames, by jsts", () => {
    const field = box("field", 0, 0, 40, 40);
    const sun = disc("sun", [20, 20], 12, REED);
    const [rest] = taken(field, sun);
    const hole = BufferOp.bufferOp(jstsPolygon(sun.region[0]), -underlapMm);
    const expected = 40 * 40 - hole.getArea();
    expect(rest.region[0].holes).toHaveLength(1);
    expect(Math.abs(areaOf(rest) - expected)).toBeLessThan(0.02 * hole.getArea());
    // Never less than the underlap, but for what outlines with fewer points are off.
    const lost = OverlayOp.difference(jstsPolygon(field.region[0]), jstsPolygon(rest.region[0]));
    const tooMuch = OverlayOp.difference(lost, hole);
    expect(tooMuch.getArea()).toBeLessThan(1);
  });

  test("where both outlines run together, nothing is left along them", () => {
    const [rest] = taken(box("hull", 0, 0, 40, 20), box("deck", 0, 0, 40, 12, CREAM));
    expect(rest.region).toHaveLength(1);
    expect(Math.min(...rest.region[0].outer.map(([, y]) => y))).toBeCloseTo(12 - underlapMm, 0);
  });

  test("what is taken lies under what is sewn later", () => {
    const pieces = [
      box("water", 0, 0, 60, 40),
      box("hull", 5, 5, 30, 30, CREAM),
      box("deck", 20, 10, 35, 20, REED),
      disc("sun", [30, 20], 9, NAVY),
    ];
    const rest = taken(...pieces);
    for (const [k, piece] of rest.entries()) {
      const lost = subtract(pieces[k].region, piece.region);
      const later = union(rest.slice(k + 1).map(({ region }) => region));
      expect(regionArea(subtract(lost, later))).toBeLessThan(0.01);
      expect(piece.region).toHaveLength(1);
    }
    expect(areaOf(rest[0])).toBeLessThan(0.6 * areaOf(pieces[0]));
  });
});

describe("what stays as it is", () => {
  test("a field under a piece too small to be worth it", () => {
    const field = box("field", 0, 0, 40, 40);
    expect(taken(field, box("eye", 18, 18, 6, 6, REED))[0]).toBe(field);
  });

  test("a field under a narrow band", () => {
    const field = box("field", 0, 0, 40, 40);
    expect(taken(field, box("band", 2, 18, 36, 6.5, REED))[0]).toBe(field);
  });

  test("a field under running stitches, which hide nothing", () => {
    const field = box("field", 0, 0, 40, 40);
    const line: Ring = [
      [5, 20],
      [35, 20],
    ];
    expect(taken(field, runAlong("rigging", line, REED))[0]).toBe(field);
  });

  test("what lies on top, and what is sewn earlier over nothing", () => {
    const pieces = [box("sail", 0, 0, 20, 20), box("pennant", 30, 0, 20, 20, REED)];
    expect(taken(...pieces)).toEqual(pieces);
  });

  test("a piece of a strand that the artist named, though all of it is hidden", () => {
    const wanted = box("keel", 15, 15, 8, 8, NAVY, { strand: "boat" });
    expect(taken(wanted, box("hull", 0, 0, 40, 40, CREAM))).toHaveLength(2);
  });
});

describe("a rim left of a disc", () => {
  const shadow = disc("shadow", [20, 20], 18, NAVY);
  const sun = disc("sun", [21, 21], 17, REED);

  test("is sewn as a satin column, which keeps its edge crisp", () => {
    expect(taken(shadow, sun)[0]).toMatchObject({ technique: "satin", parts: [{ technique: "satin" }] });
  });

  test("stays fill where the artist asks for it", () => {
    const asked = { ...shadow, overrides: { technique: "fill" as const } };
    expect(taken(asked, sun)[0]).toMatchObject({ technique: "fill" });
  });
});

describe("a band right across", () => {
  const halves = () => taken(box("pennant", 0, 0, 40, 30), box("stripe", -2, 8, 44, 14, CREAM));

  test("does not cut the piece in two: a bridge stays", () => {
    const [rest] = halves();
    expect(rest.region).toHaveLength(1);
    expect(areaOf(rest)).toBeLessThan(40 * 30 - 40 * (14 - 2 * underlapMm) + 60);
  });
});

describe("a neck in a collar", () => {
  /** Half of the rower's shirt: the two meet in the middle and leave the neck open down to a point. */
  const half = (id: string, side: number): Piece =>
    area(
      id,
      [
        [22 + 14 * side, -2],
        [22 + 30 * side, -2],
        [22 + 30 * side, 28],
        [22, 28],
        [22, 22.2],
      ],
      CREAM,
    );

  test("ends under the collar: a corner that no patch fits into and nobody sees is not held by a bridge", () => {
    const [skin] = taken(box("skin", -4, 0, 52, 28), half("left", -1), half("right", 1));
    expect(skin.region).toHaveLength(1);
    expect(Math.max(...skin.region[0].outer.map(([, y]) => y))).toBeLessThan(22.2 + 3 * underlapMm);
  });
});

describe("a piece hidden whole", () => {
  test("is left out, and a finding says so", () => {
    const { sequence, findings } = takeAwayHidden(
      inOrder(box("old-name", 15, 15, 6, 6), box("hull", 0, 0, 40, 40, CREAM)),
      DEFAULT_SETTINGS,
    );
    expect(sequence.pieces.map(({ id }) => id)).toEqual(["hull"]);
    expect(sequence.blocks).toEqual([{ colour: CREAM, start: 0, end: 1 }]);
    expect(findings).toMatchObject([{ code: "piece-hidden", severity: "info", piece: "old-name" }]);
  });

  test("stays where its edge comes nearer to the cover's than the underlap", () => {
    expect(taken(box("keel", 1, 15, 6, 6), box("hull", 0, 0, 40, 40, CREAM))).toHaveLength(2);
  });
});
