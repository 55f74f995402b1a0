/** Pieces by hand, for tests of order and routing that need no drawing. */
import type { Piece, PieceOverrides } from "../../core/artwork/types.ts";
import { distance } from "../../core/geometry/point.ts";
import type { Point, Polyline, Ring } from "../../core/geometry/types.ts";
import { blocksOf } from "../../core/sequence/blocks.ts";
import type { Sequence } from "../../core/sequence/types.ts";
import type { Stitcher } from "../../core/techniques/types.ts";

export const NAVY = "#1b3a5c";
export const REED = "#6b8e4e";
export const CREAM = "#f6f1e1";

/** A filled area. */
export const area = (id: string, outer: Ring, colour = NAVY, overrides: PieceOverrides = {}): Piece => ({
  id,
  element: id,
  paint: "fill",
  colour,
  region: [{ outer, holes: [] }],
  technique: "fill",
  overrides,
});

/** A filled rectangle: left, top, width and height in millimetres. */
export const box = (
  id: string,
  x: number,
  y: number,
  width: number,
  height: number,
  colour = NAVY,
  overrides: PieceOverrides = {},
): Piece =>
  area(
    id,
    [
      [x, y],
      [x + width, y],
      [x + width, y + height],
      [x, y + height],
    ],
    colour,
    overrides,
  );

/** A running stitch along a line. */
export const runAlong = (id: string, line: Polyline, colour = NAVY): Piece => ({
  id,
  element: id,
  paint: "stroke",
  colour,
  region: [{ outer: [...line, ...[...line].reverse().map(([x, y]): Point => [x, y + 0.4])], holes: [] }],
  line,
  widthMm: 0.4,
  technique: "run",
  overrides: {},
});

export const inOrder = (...pieces: Piece[]): Sequence => ({ pieces, blocks: blocksOf(pieces) });

/** Sews nothing: for routing, all that counts is how far entry and exit lie apart. */
export const plainStitcher: Stitcher = {
  snap: (p) => p,
  travelMm: (entry, exit) => distance(entry, exit),
  stitch: (entry, exit) => [{ role: "cover", points: [entry, exit] }],
};
