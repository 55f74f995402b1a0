/** From a piece to its stitcher: the technique, with the settings and what the artist set on the element. */
import type { Piece } from "../artwork/types.ts";
import type { Polyline, Region } from "../geometry/types.ts";
import { ADVICE, type UnderlayKind } from "../recipes/advice.ts";
import type { Settings } from "../settings.ts";
import { partsStitcher } from "./columns-parts.ts";
import { type FillOptions, layFill } from "./fill.ts";
import { layNetwork } from "./network.ts";
import { layRun, type RunOptions } from "./run.ts";
import { type SatinOptions, satinOn } from "./satin.ts";
import { fitsSatin } from "./satin-fit.ts";
import { layRungs } from "./satin-rungs.ts";
import type { Stitcher } from "./types.ts";

/**
 * The stitcher for a piece, by its technique. A satin without a centre line, or one that its stroke does not
 * suit (`satin-fit.ts`), is sewn as fill; a run without a line follows the outline. Throws a RangeError for
 * "skip": such a piece is not sewn.
 */
export function stitcherFor(piece: Piece, settings: Settings): Stitcher {
  const { technique, region } = piece;
  if (piece.parts !== undefined)
    return partsStitcher(
      piece,
      { fill: fillOptions(piece, settings), satin: satinOptions(piece, settings) },
      settings,
    );
  const line = piece.line !== undefined && hasFinitePoint(piece.line) ? piece.line : undefined;
  switch (technique) {
    case "run":
      return piece.lines !== undefined
        ? layNetwork(piece.lines, runOptions(piece, settings))
        : layRun(line ?? outlineOf(region), runOptions(piece, settings));
    case "satin":
      return satinFor(piece, line, settings) ?? fillFor(piece, settings);
    case "fill":
      return fillFor(piece, settings);
    case "skip":
      throw new RangeError(`${piece.id} is set to be skipped and has no stitches`);
  }
}

function satinFor(piece: Piece, line: Polyline | undefined, settings: Settings): Stitcher | null {
  const { region, widthMm } = piece;
  if (line === undefined || widthMm === undefined) return null;
  const options = { ...satinOptions(piece, settings), maxStitchMm: longestSatinStitch(widthMm, settings) };
  const ladder = layRungs(line, widthMm, region, options);
  return fitsSatin(ladder, region, widthMm, options.pullMm) ? satinOn(ladder, region, options) : null;
}

/** Wider than satin is sewn, it becomes split satin: no stitch is longer than a satin's width. */
const longestSatinStitch = (widthMm: number, settings: Settings): number =>
  widthMm > settings.satinMaxWidthMm
    ? Math.min(settings.satinMaxWidthMm, settings.maxMoveMm)
    : settings.maxMoveMm;

/** Out and back: one thread by itself looks thin, and a line that is sewn now once, now twice, uneven. */
export const LINE_PASSES = 2;

const runOptions = ({ overrides, passes }: Piece, settings: Settings): RunOptions => ({
  lengthMm: overrides.lengthMm ?? settings.runLengthMm,
  minStitchMm: settings.minStitchMm,
  passes: passes ?? LINE_PASSES,
});

const fillFor = (piece: Piece, settings: Settings): Stitcher =>
  layFill(piece.region, fillOptions(piece, settings));

const fillOptions = ({ overrides, rowsOver }: Piece, settings: Settings): FillOptions => ({
  angleDeg: overrides.angleDeg ?? settings.fillAngleDeg,
  spacingMm: overrides.spacingMm ?? settings.fillSpacingMm,
  lengthMm: overrides.lengthMm ?? settings.fillLengthMm,
  minStitchMm: settings.minStitchMm,
  maxStitchMm: settings.maxMoveMm,
  pullMm: overrides.pullMm ?? settings.pullMm,
  pushMm: settings.pushMm,
  underlay: underlayKinds(overrides, settings, ADVICE[settings.recipe].fillUnderlay),
  ...(rowsOver === undefined ? {} : { rowsOver }),
});

/** What the element asks for, else what the recipe advises: "none", "auto", or a kind by name, as "edge-run". */
function underlayKinds(
  { underlay }: Piece["overrides"],
  settings: Settings,
  advised: readonly UnderlayKind[],
): readonly UnderlayKind[] {
  const asked = underlay?.replaceAll("-", " ") ?? settings.underlay;
  if (asked === "none") return [];
  const kinds = UNDERLAY_KINDS.filter((kind) => kind === asked);
  return kinds.length > 0 ? kinds : advised;
}

const UNDERLAY_KINDS: readonly UnderlayKind[] = ["centre run", "edge run", "zigzag", "cross fill"];

const satinOptions = ({ overrides }: Piece, settings: Settings): SatinOptions => ({
  underlay: underlayKinds(overrides, settings, ADVICE[settings.recipe].satinUnderlay),
  spacingMm: overrides.spacingMm ?? settings.satinSpacingMm,
  pullMm: overrides.pullMm ?? settings.pullMm,
  minStitchMm: settings.minStitchMm,
  runLengthMm: settings.runLengthMm,
  maxStitchMm: settings.maxMoveMm,
  threadWidthMm: settings.threadWidthMm,
});

const hasFinitePoint = (line: Polyline): boolean =>
  line.some(([x, y]) => Number.isFinite(x) && Number.isFinite(y));

const outlineOf = (region: Region): Polyline => [...region[0].outer, region[0].outer[0]];
