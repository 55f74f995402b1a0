/**
 * What a drawing may ask of us before reading it is refused with an `ArtworkError`. Each limit lies far above
 * any real embroidery design and is there so that a hostile or broken file gets an answer within seconds.
 */

import { ArtworkError } from "../errors.ts";

/** Characters of SVG text. A large hand-drawn design is some hundred thousand; traced photographs reach this. */
export const MAX_TEXT_LENGTH = 32_000_000;

/** Elements of the file, and elements drawn, where each instance of a `use` counts anew. */
export const MAX_ELEMENTS = 100_000;

/** Nesting of elements, `use` included. Deeper nesting is met in no real file and would exhaust the stack. */
export const MAX_DEPTH = 256;

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

/** The greatest coordinate at sewn size, and the greatest sewn size: beyond it the polygon library's integers grow slow. */
export const MAX_COORDINATE_MM = 10_000;
