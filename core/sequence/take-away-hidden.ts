/**
 * Fill that nobody will see is not sewn: it makes the piece stiff, and costs thread and time. Where later pieces
 * hide a fill, the hidden part of its region is taken away but for an underlap beside all that is seen of it, which
 * keeps fabric from showing when the stitches pull. Where the outlines of both run together, that leaves no
 * hidden edge whose thread could stick out.
 *
 * A patch is taken only where it is worth it, and only so that the piece stays one polygon without new necks
 * (`cut-patch.ts`). Where more than four layers would lie on one spot, more is taken (`thin-stacks.ts`).
 *
 * Nothing that lies under the piece loses its cover: every spot taken away lies under a later piece. So whatever
 * could be tucked before can be tucked afterwards, and the least number of strands stays the same.
 */
import type { Piece, PiecePart } from "../artwork/types.ts";
import { COVER_GAP_MM } from "../constants.ts";
import type { Finding } from "../findings.ts";
import { boxesMeet, EMPTY_BOX, growBox, joinBoxes } from "../geometry/point.ts";
import { offset, regionArea, regionBox, regionContains, subtract, union } from "../geometry/region.ts";
import type { Point, Region } from "../geometry/types.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import type { Settings } from "../settings.ts";
import { chosenAgain } from "../techniques/choose-techniques.ts";
import { coverOf } from "../techniques/cover-of.ts";
import { blocksOf } from "./blocks.ts";
import { boundsWithout } from "./bounds.ts";
import { COARSE_MM, type CutLimits, coarser, SLIVER_MM, takeAway } from "./cut-patch.ts";
import { laterCover, opened } from "./later-cover.ts";
import { thinStacks } from "./thin-stacks.ts";
import { buildTopGrid } from "./top-grid.ts";
import type { Sequence } from "./types.ts";

/** A smaller or narrower patch is not worth the ends of rows round it. Common practice, no source. */
const PATCH_MM2 = 25;
const PATCH_WIDTH_MM = 4;
/** Where less than this stays, rows become too short to hold; a bridge has room to spare. Common practice, no source. */
const LIMITS: CutLimits = { patchMm2: PATCH_MM2, patchWidthMm: PATCH_WIDTH_MM, neckMm: 2, bridgeMm: 3 };
/** Abutting pieces may miss each other by this on either side: the drawing's own tolerance. */
const HAIR_MM = COVER_GAP_MM / 2;
/** The grid of what lies on top misses no patch of which it sees less than this. */
const GRID_SHARE = 0.6;

/** The sequence without what is hidden, and a word on each piece that is left out whole. */
export function takeAwayHidden(
  sequence: Sequence,
  settings: Settings,
  memory: Memory = NO_MEMORY,
): { sequence: Sequence; findings: Finding[] } {
  const { underlapMm } = settings;
  const hidden = hiddenUnder(sequence.pieces, underlapMm);
  const findings: Finding[] = [];
  const kept = sequence.pieces.flatMap((piece, k) => {
    if (!hidden.isWhole(k)) {
      const rest = withoutHidden(piece, () => hidden.deepParts(k), underlapMm);
      return [rest === piece ? piece : narrowAsSatin(rest, settings)];
    }
    findings.push(leftOut(piece));
    return [];
  });
  const pieces = thinStacks(memory.known("kept", kept), settings, memory).flatMap((piece, k) => {
    if (piece === null) findings.push(leftOut(kept[k]));
    return piece ?? [];
  });
  if (findings.length === 0) return { sequence: { ...sequence, pieces }, findings };
  const { bounds } = sequence;
  return {
    sequence: {
      ...sequence,
      pieces,
      blocks: blocksOf(pieces),
      ...(bounds ? { bounds: boundsWithout(bounds, findings.length, pieces) } : {}),
    },
    findings,
  };
}

const leftOut = (piece: Piece): Finding => ({
  code: "piece-hidden",
  severity: "info",
  piece: piece.id,
  at: piece.region[0].outer[0],
  message: `${piece.id} lies wholly under later pieces and is not sewn.`,
  remedy: `Nothing to do; if ${piece.id} should be seen, move it up in the layer list.`,
});

interface Hidden {
  /** Whether all of piece k lies deeper under later ones than the underlap. */
  isWhole(k: number): boolean;
  /** Where piece k is hidden, farther than the underlap from all of it that is seen; nothing where no place is roomy. */
  deepParts(k: number): Region;
}

function hiddenUnder(pieces: readonly Piece[], underlapMm: number): Hidden {
  const areas = pieces.map(coverOf);
  const exact = laterCover(areas, HAIR_MM);
  const coarse = laterCover(
    areas.map((area) => area && coarser(area)),
    COARSE_MM,
  );
  const grid = buildTopGrid(
    areas,
    pieces.map(({ region }) => regionBox(region)).reduce(joinBoxes, EMPTY_BOX),
  );
  return {
    isWhole(k) {
      const { region, overrides } = pieces[k];
      // Whoever names a piece for a strand wants it sewn.
      if (overrides.strand !== undefined) return false;
      const later = exact.after(k, regionBox(region));
      const holders = holdersOf(region[0].outer, later, pieces);
      const onTop = holders && grid.over(k, offset(region, underlapMm));
      if (holders === null || onTop === null) return false;
      /** What of an area does not lie deep enough under some of the later pieces. */
      const shown = (area: Region, over: readonly number[]): Region => {
        const frame = growBox(regionBox(area), 2 * underlapMm);
        const near = over.filter((j) => boxesMeet(regionBox(pieces[j].region), frame));
        return subtract(area, offset(exact.union(near, frame), -(underlapMm + HAIR_MM)));
      };
      const few = shown(region, [...new Set([...holders, ...onTop])]);
      return few.every((polygon) => shown([polygon], later).length === 0);
    },
    deepParts(k) {
      const { region } = pieces[k];
      if (regionArea(region) < PATCH_MM2) return [];
      const box = grid.farFromSeen(k, region, underlapMm, GRID_SHARE * PATCH_MM2);
      if (box === null) return [];
      const around = growBox(box, 2 * underlapMm + PATCH_WIDTH_MM);
      const over = coarse.union(coarse.after(k, around), around);
      const seen = opened(subtract(coarser(region), over), SLIVER_MM / 2);
      return subtract(offset(over, COARSE_MM), offset(seen, underlapMm + COARSE_MM));
    },
  };
}

/** A few of the later pieces that between them lie over all the points; `null` where some lie under none. */
function holdersOf(
  points: readonly Point[],
  later: readonly number[],
  pieces: readonly Piece[],
): number[] | null {
  const holders: number[] = [];
  const isUnder = (p: Point) => (j: number) => regionContains(pieces[j].region, p);
  for (const p of points) {
    if (holders.some(isUnder(p))) continue;
    const holder = later.find(isUnder(p));
    if (holder === undefined) return null;
    holders.push(holder);
  }
  return holders;
}

/** The piece with its fill, or the fill among its parts, taken away where it is hidden. */
function withoutHidden(piece: Piece, deepParts: () => Region, underlapMm: number): Piece {
  if (piece.technique !== "fill") return piece;
  const hidden = deepParts();
  if (hidden.length === 0) return piece;
  if (piece.parts !== undefined) return partsWithout(piece, piece.parts, hidden, underlapMm);
  const region = withoutPatches(piece.region, hidden);
  return region === piece.region ? piece : { ...piece, region };
}

/** A region without the roomy places of what is hidden of it. */
const withoutPatches = (region: Region, hidden: Region): Region =>
  takeAway(
    region,
    opened(hidden, PATCH_WIDTH_MM / 2),
    LIMITS,
    (polygon) => subtract([polygon], hidden).length === 0,
  );

/** What is left of a fill may be no more than a rim, and is sewn as such: its rows would be all ends. */
function narrowAsSatin(piece: Piece, settings: Settings): Piece {
  const { parts, overrides, region } = piece;
  if (settings.technique !== "auto" || parts !== undefined || overrides.technique !== undefined) return piece;
  if (offset(region, -settings.satinMaxWidthMm / 2).length > 0) return piece;
  const again = chosenAgain(piece, region, settings);
  return again.technique === "satin" ? again : piece;
}

/** Of several parts, those that are fill; the others, and what overlaps them, stay. */
function partsWithout(piece: Piece, parts: readonly PiecePart[], hidden: Region, underlapMm: number): Piece {
  let whole = piece.region;
  const kept = parts.map((part) => {
    if (part.technique !== "fill") return part;
    const others = union(parts.filter((other) => other !== part).map((other) => other.region));
    const region = withoutPatches(part.region, subtract(hidden, offset(others, underlapMm)));
    if (region === part.region) return part;
    const rest = subtract(whole, subtract(part.region, region));
    if (rest.length !== 1) return part;
    whole = rest;
    return { ...part, region };
  });
  return whole === piece.region ? piece : { ...piece, region: whole, parts: kept };
}
