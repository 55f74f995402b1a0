/** From a piece to its stitcher: the technique, with the settings and what the artist set on the element. */
import type { Piece } from "../artwork/types.ts";
import { arcLengths, pointAlong } from "../geometry/polyline.ts";
import { regionContains } from "../geometry/region.ts";
import type { Polyline, Region } from "../geometry/types.ts";
import type { Settings } from "../settings.ts";
import { layFill } from "./fill.ts";
import { layRun } from "./run.ts";
import { laySatin } from "./satin.ts";
import type { Stitcher } from "./types.ts";

/** Places along a centre line at which it is compared with what the piece paints. */
const PROBES = 64;

/** Share of those places that must lie in the painted region for the line to stand for it. */
const PROBES_INSIDE = 0.97;

/**
 * The stitcher for a piece, by its technique. A satin without a centre line, or with one that runs outside the
 * painted area (a clipped stroke), is sewn as fill; a run without a line follows the outline. Throws a
 * RangeError for "skip": such a piece is not sewn.
 */
export function stitcherFor(piece: Piece, settings: Settings): Stitcher {
  const { technique, overrides, region } = piece;
  const line = piece.line !== undefined && hasFinitePoint(piece.line) ? piece.line : undefined;
  switch (technique) {
    case "run":
      return layRun(line ?? outlineOf(region), {
        lengthMm: overrides.lengthMm ?? settings.runLengthMm,
        minStitchMm: settings.minStitchMm,
      });
    case "satin":
      if (line === undefined || piece.widthMm === undefined || !runsInside(line, region))
        return fillFor(piece, settings);
      return laySatin(line, piece.widthMm, region, {
        spacingMm: overrides.spacingMm ?? settings.satinSpacingMm,
        pullMm: overrides.pullMm ?? settings.pullMm,
        minStitchMm: settings.minStitchMm,
        runLengthMm: settings.runLengthMm,
        maxStitchMm: longestSatinStitch(piece.widthMm, settings),
        threadWidthMm: settings.threadWidthMm,
      });
    case "fill":
      return fillFor(piece, settings);
    case "skip":
      throw new RangeError(`${piece.id} is set to be skipped and has no stitches`);
  }
}

/** Wider than satin is sewn, it becomes split satin: no stitch is longer than a satin's width. */
const longestSatinStitch = (widthMm: number, settings: Settings): number =>
  widthMm > settings.satinMaxWidthMm
    ? Math.min(settings.satinMaxWidthMm, settings.maxMoveMm)
    : settings.maxMoveMm;

function fillFor({ region, overrides }: Piece, settings: Settings): Stitcher {
  return layFill(region, {
    angleDeg: overrides.angleDeg ?? settings.fillAngleDeg,
    spacingMm: overrides.spacingMm ?? settings.fillSpacingMm,
    lengthMm: overrides.lengthMm ?? settings.fillLengthMm,
    minStitchMm: settings.minStitchMm,
    maxStitchMm: settings.maxMoveMm,
    pullMm: overrides.pullMm ?? settings.pullMm,
  });
}

const hasFinitePoint = (line: Polyline): boolean =>
  line.some(([x, y]) => Number.isFinite(x) && Number.isFinite(y));

const outlineOf = (region: Region): Polyline => [...region[0].outer, region[0].outer[0]];

/** Whether a centre line lies in the region. Its very ends are left out: a butt cap's edge runs through them. */
function runsInside(line: Polyline, region: Region): boolean {
  const lengths = arcLengths(line);
  const total = lengths[lengths.length - 1];
  let inside = 0;
  for (let k = 0; k < PROBES; k++)
    if (regionContains(region, pointAlong(line, lengths, ((k + 0.5) * total) / PROBES))) inside++;
  return inside >= PROBES_INSIDE * PROBES;
}
