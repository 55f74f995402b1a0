/**
 * What the stitches themselves have to say: too short, too long, too many in one spot, too many layers, and bare
 * stripes between neighbours. At most one finding of a kind for a piece.
 */

import type { Artwork } from "../artwork/types.ts";
import type { Finding } from "../findings.ts";
import { norm } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import type { Sequence } from "../sequence/types.ts";
import type { Settings } from "../settings.ts";
import { needlePiles } from "./needle-holes.ts";
import { isSewn } from "./steps.ts";
import { countLayers, type Layers, narrowGaps, singleLines } from "./stitch-measures.ts";
import type { SewingStep, SewnStep } from "./types.ts";

/** So few stitches under the shortest length do no harm. */
const FEW_SHORT = 2;
/** More needle holes than this within 0.3 mm weaken fabric. Common practice, no source. */
const MOST_HOLES = 12;
/** A smaller patch of too many layers is no thicker than a knot. */
const PATCH_MM2 = 4;
/** As many layers as lie on so much of a patch count for it: on less, edges cross. */
const THICK_MM2 = 1;
/** Layers and gaps are looked at on a raster this fine: a gap that it misses is narrower than a thread. */
const PX_PER_MM = 4;
/** A stripe of fabric up to this wide looks like a fault; a wider one like a drawn line. */
const GAP_MM = 1;
/** A shorter gap is not worth a word. */
const GAP_LENGTH_MM = 3;

export function stitchFindings(
  { pieces }: Sequence,
  sewing: readonly SewingStep[],
  size: Artwork["size"],
  settings: Settings,
  memory: Memory = NO_MEMORY,
): Finding[] {
  const lines = singleLines(pieces);
  const areas = new Set(pieces.filter(({ id }) => !lines.has(id)).map(({ id }) => id));
  const layers = countLayers(sewing, size, PX_PER_MM, memory, lines);
  return [
    ...lengthFindings(sewing, settings),
    ...pileFindings(sewing),
    ...layerFindings(layers, settings.maxLayers),
    ...gapFindings(layers, areas),
  ];
}

interface Lengths {
  short: number;
  shortAt: Point;
  longestMm: number;
  longAt: Point;
}

/** Stitches of each piece that are too short or too long, ties and connectors apart. */
function lengthFindings(sewing: readonly SewingStep[], settings: Settings): Finding[] {
  const longMm = longestGoodMm(settings);
  const shortMm = settings.minStitchMm - 1e-6;
  const ofPiece = new Map<string, Lengths>();
  for (const step of sewing) {
    if (!isSewn(step) || !isPieceStep(step) || step.piece === undefined) continue;
    const lengths = ofPiece.get(step.piece) ?? { short: 0, shortAt: [0, 0], longestMm: 0, longAt: [0, 0] };
    addLengths(lengths, step, shortMm);
    ofPiece.set(step.piece, lengths);
  }
  const findings: Finding[] = [];
  for (const [piece, { short, shortAt, longestMm, longAt }] of ofPiece) {
    if (short > FEW_SHORT) findings.push(tooShort(piece, short, shortAt, settings));
    if (longestMm > longMm) findings.push(tooLong(piece, longestMm, longAt, longMm));
  }
  return findings;
}

/** Loose loops longer than a wide satin's stitch, or than what was asked for, snag. */
const longestGoodMm = ({ splitSatinAboveMm, fillLengthMm, runLengthMm, pullMm }: Settings): number =>
  Math.max(splitSatinAboveMm + 2 * pullMm, 1.5 * fillLengthMm, 1.5 * runLengthMm) + 0.1;

const isPieceStep = ({ role }: SewnStep): boolean =>
  role === "cover" || role === "underlay" || role === "travel";

function addLengths(lengths: Lengths, { role, points }: SewnStep, shortMm: number): void {
  for (let i = 2; i < points.length; i += 2) {
    const mm = norm(points[i] - points[i - 2], points[i + 1] - points[i - 1]);
    if (mm < shortMm) {
      lengths.short++;
      lengths.shortAt = [points[i], points[i + 1]];
    }
    if (role === "cover" && mm > lengths.longestMm) {
      lengths.longestMm = mm;
      lengths.longAt = [points[i], points[i + 1]];
    }
  }
}

const tooShort = (piece: string, count: number, at: Point, { minStitchMm }: Settings): Finding => ({
  code: "stitch-too-short",
  severity: "info",
  piece,
  at,
  message: `${count} stitches of ${piece} are shorter than ${minStitchMm} mm.`,
  remedy: `Smooth the outline of ${piece} there, or sew the design larger.`,
});

const tooLong = (piece: string, mm: number, at: Point, longMm: number): Finding => ({
  code: "stitch-too-long",
  severity: "warning",
  piece,
  at,
  message: `A stitch of ${piece} is ${mm.toFixed(1)} mm long and lies loose: beyond ${longMm.toFixed(1)} mm thread snags.`,
  remedy: `Sew ${piece} as fill, or make it narrower.`,
});

function pileFindings(sewing: readonly SewingStep[]): Finding[] {
  const worst = new Map<string, { at: Point; holes: number }>();
  for (const { at, holes, step } of needlePiles(sewing, MOST_HOLES)) {
    const owner = sewing[step];
    const piece = isSewn(owner) ? owner.piece : undefined;
    if (piece !== undefined && holes > (worst.get(piece)?.holes ?? 0)) worst.set(piece, { at, holes });
  }
  return [...worst].map(([piece, { at, holes }]) => ({
    code: "needle-holes-piled",
    severity: "warning",
    piece,
    at,
    message: `The needle goes down ${holes} times within 0.3 mm in ${piece}; fabric may be cut through there.`,
    remedy: `Round the sharp corner or point of ${piece} there, or widen its row spacing.`,
  }));
}

/** One for each thick spot, told of the piece that lies over its thickest place. */
function layerFindings(
  { width, height, pxPerMm, count, last, pieceIds }: Layers,
  maxLayers: number,
): Finding[] {
  const told = new Map<string, Finding>();
  for (const { pixels, thickest, layers } of thickSpots(
    count,
    width,
    height,
    maxLayers,
    THICK_MM2 * pxPerMm ** 2,
  )) {
    const mm2 = pixels / pxPerMm ** 2;
    const piece = pieceIds[last[thickest]];
    if (mm2 < PATCH_MM2 || told.has(piece)) continue;
    told.set(piece, {
      code: "too-many-layers",
      severity: "warning",
      piece,
      at: [((thickest % width) + 0.5) / pxPerMm, (Math.floor(thickest / width) + 0.5) / pxPerMm],
      message: `Round ${piece} up to ${layers} layers of stitches lie on each other, more than ${maxLayers} of them on ${mm2.toFixed(0)} mm²; that is stiff and breaks needles.`,
      remedy: `In the drawing, cut away what ${piece} and the pieces next to it hide of those below, or sew the design larger.`,
    });
  }
  return [...told.values()];
}

interface ThickSpot {
  readonly pixels: number;
  readonly thickest: number;
  /** So many, or more, lie on `leastPixels` of it. */
  readonly layers: number;
}

/** Connected patches of pixels with more than `maxLayers` layers, the largest first. */
function thickSpots(
  count: Uint16Array,
  width: number,
  height: number,
  maxLayers: number,
  leastPixels: number,
): ThickSpot[] {
  const seen = new Uint8Array(count.length);
  const spots: ThickSpot[] = [];
  const open: number[] = [];
  const visit = (pixel: number): void => {
    if (count[pixel] <= maxLayers || seen[pixel] === 1) return;
    seen[pixel] = 1;
    open.push(pixel);
  };
  for (let start = 0; start < count.length; start++) {
    if (count[start] <= maxLayers || seen[start] === 1) continue;
    const patch: number[] = [];
    visit(start);
    for (let pixel = open.pop(); pixel !== undefined; pixel = open.pop()) {
      patch.push(pixel);
      const x = pixel % width;
      const y = Math.floor(pixel / width);
      if (x > 0) visit(pixel - 1);
      if (x + 1 < width) visit(pixel + 1);
      if (y > 0) visit(pixel - width);
      if (y + 1 < height) visit(pixel + width);
    }
    patch.sort((a, b) => count[b] - count[a] || a - b);
    const layers = count[patch[Math.min(leastPixels, patch.length) - 1]];
    spots.push({ pixels: patch.length, thickest: patch[0], layers });
  }
  return spots.sort((a, b) => b.pixels - a.pixels);
}

function gapFindings(layers: Layers, areas: ReadonlySet<string>): Finding[] {
  const findings: Finding[] = [];
  const told = new Set<string>();
  for (const { pieces, at, lengthMm, widthMm } of narrowGaps(layers, GAP_MM)) {
    const [piece, other] = pieces;
    if (lengthMm < GAP_LENGTH_MM || !areas.has(piece) || !areas.has(other) || told.has(piece)) continue;
    told.add(piece);
    findings.push({
      code: "gap-between-neighbours",
      severity: "info",
      piece,
      at,
      message: `Some ${widthMm.toFixed(1)} mm of fabric show between ${piece} and ${other}, along ${lengthMm.toFixed(0)} mm.`,
      remedy: `Let ${piece} and ${other} overlap by 0.5 mm, or move them 1 mm further apart if the line is meant.`,
    });
  }
  return findings;
}
