/**
 * How many stitches pieces will take, from areas, lengths and spacing alone: known in no time, before anything
 * is sewn. Elementary geometry for what is seen; the rest by its usual share. The tests hold it against what is
 * sewn.
 */
import type { Piece, PiecePart } from "../artwork/types.ts";
import { closeRing, polylineLength } from "../geometry/polyline.ts";
import { regionArea, ringsOf } from "../geometry/region.ts";
import type { Polyline, Region } from "../geometry/types.ts";
import type { Settings } from "../settings.ts";
import { LINE_PASSES } from "./stitcher.ts";

/** So much of all stitches is cover, the rest underlay, travel and ties: as measured over all drawing sets. */
const COVER_SHARE = 0.7;

/** The stitches of pieces as they are to be sewn: techniques chosen, hidden fill taken away. */
export const expectedStitches = (pieces: readonly Piece[], settings: Settings): number =>
  pieces.reduce((sum, piece) => sum + coverStitches(piece, settings), 0) / COVER_SHARE;

function coverStitches(piece: Piece, settings: Settings): number {
  const { technique, region, line, lines, widthMm, overrides, passes = LINE_PASSES, parts } = piece;
  const runMm = overrides.lengthMm ?? settings.runLengthMm;
  if (technique === "skip") return 0;
  if (parts !== undefined) return parts.reduce((sum, part) => sum + coverOfPart(part, piece, settings), 0);
  if (technique === "run") return (passes * lengthOf(lines ?? [line ?? closeRing(region[0].outer)])) / runMm;
  return technique === "satin" && line !== undefined && widthMm !== undefined
    ? zigzagStitches(line, widthMm, piece, settings)
    : fillStitches(region, piece, settings);
}

function coverOfPart({ technique, region, line }: PiecePart, piece: Piece, settings: Settings): number {
  if (technique === "fill" || line === undefined) return fillStitches(region, piece, settings);
  const lengthMm = polylineLength(line);
  if (technique === "run")
    return (LINE_PASSES * lengthMm) / (piece.overrides.lengthMm ?? settings.runLengthMm);
  return zigzagStitches(line, regionArea(region) / Math.max(lengthMm, settings.minStitchMm), piece, settings);
}

/** Rows full of stitches, and a step at each end of a row: edges cross rows at all angles, 2/π of them on average. */
function fillStitches(region: Region, { overrides }: Piece, settings: Settings): number {
  const spacingMm = overrides.spacingMm ?? settings.fillSpacingMm;
  const lengthMm = Math.min(overrides.lengthMm ?? settings.fillLengthMm, settings.maxMoveMm);
  const rowEnds = (2 / Math.PI) * (lengthOf(ringsOf(region).map(closeRing)) / spacingMm);
  return regionArea(region) / (spacingMm * lengthMm) + rowEnds / 2;
}

/** Two stitches to a spacing, each in as many parts as its length asks for. */
function zigzagStitches(line: Polyline, widthMm: number, { overrides }: Piece, settings: Settings): number {
  const spacingMm = overrides.spacingMm ?? settings.satinSpacingMm;
  const partMm = Math.min(settings.splitSatinAboveMm, settings.maxMoveMm);
  return ((2 * polylineLength(line)) / spacingMm) * Math.max(1, Math.ceil(widthMm / partMm));
}

const lengthOf = (lines: readonly Polyline[]): number =>
  lines.reduce((sum, line) => sum + polylineLength(line), 0);
