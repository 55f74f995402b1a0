/**
 * The step between reading and ordering: which technique a piece gets is read off its shape, not off the kind of
 * element that paints it (`shape-parts.ts`). What the artist set on the element stays as it is.
 */
import type { Artwork, Piece } from "../artwork/types.ts";
import type { Finding } from "../findings.ts";
import type { Region } from "../geometry/types.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import type { Settings } from "../settings.ts";
import { fitsSatin } from "./satin-fit.ts";
import { layRungs } from "./satin-rungs.ts";
import { type ShapeParts, shapeParts } from "./shape-parts.ts";

/** Artwork with techniques, and parts where a piece has several, chosen by shape; as drawn where the settings say so. */
export function chooseTechniques(artwork: Artwork, settings: Settings, memory: Memory = NO_MEMORY): Artwork {
  const pieces = artwork.pieces.map((piece) =>
    memory.recall("technique", [piece, settings], () => chooseFor(piece, settings)),
  );
  if (pieces.every((piece, k) => piece === artwork.pieces[k])) return artwork;
  const unfit = pieces.filter((piece) => piece.overrides.technique === "satin" && piece.technique === "fill");
  return { ...artwork, pieces, findings: [...artwork.findings, ...unfit.map(noColumns)] };
}

function chooseFor(piece: Piece, settings: Settings): Piece {
  if (piece.technique === "skip") return piece;
  if (piece.overrides.technique === "satin")
    return suitsItsLine(piece, settings) ? piece : inColumns(piece, settings);
  if (piece.overrides.technique !== undefined || settings.technique === "as-drawn") return piece;
  if (piece.technique === "run") return inPasses(piece, settings);
  if (piece.technique === "satin" && suitsItsLine(piece, settings)) return piece;
  return inParts(piece, shapeParts(piece.region[0], settings));
}

/** The artist asks for satin: columns however wide, split where they are wider than satin is sewn. */
const inColumns = (piece: Piece, { satinMinWidthMm, threadWidthMm }: Settings): Piece =>
  inParts(
    piece,
    shapeParts(piece.region[0], {
      satinMinWidthMm,
      satinMaxWidthMm: Number.POSITIVE_INFINITY,
      threadWidthMm,
    }),
  );

const noColumns = (piece: Piece): Finding => ({
  code: "satin-unfit",
  severity: "warning",
  piece: piece.id,
  at: piece.region[0].outer[0],
  message: `${piece.id} asks for satin, but no columns fill its shape: all or part of it is sewn as fill.`,
  remedy: "Cut the shape into simpler ones, or set its technique to fill.",
});

/** The piece on what is left of its region, sewn as that shape asks for. */
export function chosenAgain(piece: Piece, region: Region, settings: Settings): Piece {
  const { parts: _, joints: __, ...whole } = piece;
  return inParts({ ...whole, region }, shapeParts(region[0], settings));
}

/** A stroke wider than two threads side by side is sewn three times, to look as heavy as drawn; else as lines are. */
function inPasses(piece: Piece, { threadWidthMm }: Settings): Piece {
  return (piece.widthMm ?? 0) > 2 * threadWidthMm - ROUNDING_MM ? { ...piece, passes: WIDE_PASSES } : piece;
}

/** Common practice, no source. */
const WIDE_PASSES = 3;
const ROUNDING_MM = 1e-6;

function suitsItsLine({ line, widthMm, region, overrides }: Piece, settings: Settings): boolean {
  if (line === undefined || widthMm === undefined) return false;
  const pullMm = overrides.pullMm ?? settings.pullMm;
  const { satinSpacingMm: spacingMm, threadWidthMm } = settings;
  return fitsSatin(
    layRungs(line, widthMm, region, { spacingMm, pullMm, threadWidthMm }),
    region,
    widthMm,
    pullMm,
  );
}

/** The piece is called after its widest technique: what covers is called a cover. */
function inParts(piece: Piece, { parts, joints }: ShapeParts): Piece {
  const has = (technique: "fill" | "satin"): boolean => parts.some((part) => part.technique === technique);
  if (parts.length === 1 && parts[0].technique === "run") {
    const { line: _, ...area } = piece;
    return { ...area, technique: "run", ...(parts[0].line ? { line: parts[0].line, passes: 1 } : {}) };
  }
  if (parts.length === 1 && parts[0].technique === "fill") return { ...piece, technique: "fill" };
  return { ...piece, technique: has("fill") ? "fill" : "satin", parts, joints };
}
