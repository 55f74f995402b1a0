/**
 * What a drawing may ask of us before reading it is refused with an `ArtworkError`. Each limit lies far above
 * any real embroidery design and is there so that a hostile or broken file gets an answer within seconds.
 */

import { ArtworkError } from "../errors.ts";
// From no module that computes with polygons: whoever only reads XML would load that, too.
import { boxOf, EMPTY_BOX, joinBoxes } from "../geometry/point.ts";
import type { Piece } from "./types.ts";

/** Characters of SVG text. A large hand-drawn design is some hundred thousand; traced photographs reach this. */
export const MAX_TEXT_LENGTH = 32_000_000;

/** Elements of the file, and elements drawn, where each instance of a `use` counts anew. */
export const MAX_ELEMENTS = 100_000;

/** Nesting of elements, `use` included. Deeper nesting is met in no real file and would exhaust the stack. */
export const MAX_DEPTH = 256;

/**
 * Steps of matching style rules to elements: a rule asked about an element, a sibling looked at on the way. Two
 * thousand classes on twenty thousand elements are this many, and take a second or two.
 */
export const MAX_STYLE_STEPS = 40_000_000;

/** Points of all outlines after flattening. A square metre of dense embroidery has no more stitches. */
export const MAX_POINTS = 400_000;

/** Characters that entities of the document type may add in all: room for every namespace of an editor. */
export const MAX_ENTITY_TEXT = 100_000;

/** @throws ArtworkError where an outline, or all of them, have more points than the limit */
export function requirePoints(count: number): void {
  if (count > MAX_POINTS)
    throw new ArtworkError(
      `The drawing’s outlines have more than ${MAX_POINTS} points: simplify its paths, or sew it smaller.`,
    );
}

/**
 * Pairs of edges whose boxes overlap, over all outlines that are uncommonly long. Each pair may be a crossing,
 * and polygon sums take time with every crossing: this many are worth a second or two. A drawing that exceeds
 * it is a scribble of thousands of long lines, each crossing most of the others.
 */
export const MAX_CROSSINGS = 3_000_000;

/** Dashes of one stroke. More than this on one line is a mistake in units, and no needle could sew it. */
export const MAX_DASHES = 20_000;

/**
 * Characters of path data that are drawn. More than this has more points than the limit on them allows, and
 * saying so at once spares seconds of parsing.
 */
export const MAX_PATH_TEXT = 4_000_000;

/**
 * The greatest width and height of what is sewn. Twice the widest hoop that the settings know; grids over the
 * design stay below some 16 million cells of a millimetre, and coordinates below those at which polygon sums grow
 * slow.
 */
export const MAX_SEWN_MM = 4_000;

/** @throws ArtworkError where pieces reach over more than the limit */
export function requireSewnSize(pieces: readonly Piece[]): void {
  const outers = pieces.flatMap(({ region }) => region.map(({ outer }) => boxOf(outer)));
  const box = outers.reduce(joinBoxes, EMPTY_BOX);
  const [widthMm, heightMm] = [box.maxX - box.minX, box.maxY - box.minY];
  if (Math.max(widthMm, heightMm) > MAX_SEWN_MM)
    throw new ArtworkError(
      `What is to be sewn would be ${metres(widthMm)} by ${metres(heightMm)} m, and ${MAX_SEWN_MM / 1000} m is the most: set a smaller width, or sew fewer copies.`,
    );
}

const metres = (mm: number): string => (mm / 1000).toFixed(1);

/**
 * Stitches of a design, as expected from its areas. At the usual 800 a minute this many are sewn in 42 hours: some
 * twenty times a large jacket back (common practice, no source). Planning takes some 25 µs and 1 kB a stitch, so that this
 * many take a minute and 2 GB.
 */
export const MAX_STITCHES = 2_000_000;

/** @throws ArtworkError where a design is expected to take more stitches than the limit */
export function requireStitches(expected: number): void {
  if (expected > MAX_STITCHES)
    throw new ArtworkError(
      `The design would take some ${(expected / 1e6).toFixed(1)} million stitches, and ${MAX_STITCHES / 1e6} million is the most: sew it smaller, or raise the spacing of rows and the stitch length.`,
    );
}

/** The greatest coordinate at sewn size, and the greatest sewn size: beyond it the polygon library's integers grow slow. */
export const MAX_COORDINATE_MM = 10_000;
