/**
 * Fill that nobody will see is not sewn: it makes the piece stiff, and costs thread and time. Where later pieces
 * hide a fill, the hidden part of its region is taken away but for an underlap beside all that is seen of it, which
 * keeps fabric from showing when the stitches pull. Where the outlines of both run together, that leaves no
 * hidden edge whose thread could stick out.
 *
 * A patch is taken only where it is worth it, and only so that the piece stays one polygon without new necks:
 * where taking it would leave a neck, the patch gives way; where it would cut the piece in two, a bridge stays.
 *
 * Nothing that lies under the piece loses its cover: every spot taken away lies under a later piece. So whatever
 * could be tucked before can be tucked afterwards, and the least number of strands stays the same.
 */
import type { Piece, PiecePart } from "../artwork/types.ts";
import { COVER_GAP_MM } from "../constants.ts";
import type { Finding } from "../findings.ts";
import { regionDistance } from "../geometry/distance.ts";
import { distance, EMPTY_BOX, growBox, joinBoxes } from "../geometry/point.ts";
import { closeRing, polylineLength } from "../geometry/polyline.ts";
import {
  intersect,
  offset,
  regionArea,
  regionBox,
  regionContains,
  ringsOf,
  subtract,
  union,
} from "../geometry/region.ts";
import { simplifyRing } from "../geometry/simplify.ts";
import type { Point, Polygon, Region } from "../geometry/types.ts";
import type { Settings } from "../settings.ts";
import { coverOf } from "../techniques/cover-of.ts";
import { laterCover, opened } from "./later-cover.ts";
import { blocksOf } from "./order-pieces.ts";
import { buildTopGrid } from "./top-grid.ts";
import type { Sequence } from "./types.ts";

/** A smaller or narrower patch is not worth the ends of rows round it. Common practice, no source. */
const PATCH_MM2 = 25;
const PATCH_WIDTH_MM = 4;
/** Where less than this stays, rows become too short to hold. Common practice, no source. */
const NECK_MM = 2;
/** Corners are narrow too; smaller ones than this, in square millimetres, are only that. */
const CORNER_MM2 = 0.8;
/** What is left by the rounding of numbers, or too small for one stitch. */
const CRUMB_MM2 = 0.3;
/** Less of a piece along the edge of what hides it is not seen, but an outline that was drawn twice. */
const SLIVER_MM = 0.25;
/** A patch gives way to necks this often before it is left as it is. */
const TRIES = 4;
/** Abutting pieces may miss each other by this on either side: the drawing's own tolerance. */
const HAIR_MM = COVER_GAP_MM / 2;
/** The grid of what lies on top misses no patch of which it sees less than this. */
const GRID_SHARE = 0.6;
/** A bridge between the two sides of a patch is this wide: a neck with room to spare. */
const BRIDGE_MM = 3;

/** Patches are looked for on outlines with fewer points: this near the drawn ones, and the underlap has it to spare. */
const COARSE_MM = 0.1;

/** The sequence without what is hidden, and a word on each piece that is left out whole. */
export function takeAwayHidden(
  sequence: Sequence,
  { underlapMm }: Pick<Settings, "underlapMm">,
): { sequence: Sequence; findings: Finding[] } {
  const hidden = hiddenUnder(sequence.pieces, underlapMm);
  const findings: Finding[] = [];
  const pieces = sequence.pieces.flatMap((piece, k) => {
    if (hidden.isWhole(k)) {
      findings.push(leftOut(piece));
      return [];
    }
    return [withoutHidden(piece, () => hidden.patches(k), underlapMm)];
  });
  if (findings.length === 0) return { sequence: { ...sequence, pieces }, findings };
  return { sequence: { ...sequence, pieces, blocks: blocksOf(pieces) }, findings };
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
  /** Where piece k is hidden, farther than the underlap from all of it that is seen, in a roomy place. */
  patches(k: number): Region;
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
      const isUnder = (p: Point) => later.some((j) => regionContains(pieces[j].region, p));
      if (!region[0].outer.every(isUnder)) return false;
      const frame = growBox(regionBox(region), 2 * underlapMm);
      const deep = offset(exact.union(later, frame), -(underlapMm + HAIR_MM));
      return subtract(region, deep).length === 0;
    },
    patches(k) {
      const { region } = pieces[k];
      if (regionArea(region) < PATCH_MM2) return [];
      const box = grid.farFromSeen(k, region, underlapMm, GRID_SHARE * PATCH_MM2);
      if (box === null) return [];
      const around = growBox(box, 2 * underlapMm + PATCH_WIDTH_MM);
      const over = coarse.union(coarse.after(k, around), around);
      const seen = opened(subtract(coarser(region), over), SLIVER_MM / 2);
      const hidden = subtract(offset(over, COARSE_MM), offset(seen, underlapMm + COARSE_MM));
      return opened(hidden, PATCH_WIDTH_MM / 2);
    },
  };
}

const coarser = (region: Region): Region =>
  region.map(({ outer, holes }) => ({
    outer: simplifyRing(outer, COARSE_MM),
    holes: holes.map((hole) => simplifyRing(hole, COARSE_MM)),
  }));

/** The piece with its fill, or the fill among its parts, taken away where it is hidden. */
function withoutHidden(piece: Piece, patches: () => Region, underlapMm: number): Piece {
  if (piece.technique !== "fill") return piece;
  const hidden = patches();
  if (hidden.length === 0) return piece;
  if (piece.parts !== undefined) return partsWithout(piece, piece.parts, hidden, underlapMm);
  const region = takeAway(piece.region, hidden);
  return region === piece.region ? piece : { ...piece, region };
}

/** Of several parts, those that are fill; the others, and what overlaps them, stay. */
function partsWithout(piece: Piece, parts: readonly PiecePart[], hidden: Region, underlapMm: number): Piece {
  let whole = piece.region;
  const kept = parts.map((part) => {
    if (part.technique !== "fill") return part;
    const others = union(parts.filter((other) => other !== part).map((other) => other.region));
    const region = takeAway(part.region, subtract(hidden, offset(others, underlapMm)));
    if (region === part.region) return part;
    const rest = subtract(whole, subtract(part.region, region));
    if (rest.length !== 1) return part;
    whole = rest;
    return { ...part, region };
  });
  return whole === piece.region ? piece : { ...piece, region: whole, parts: kept };
}

/** The region without as much of the hidden part as may go; the region itself where that is nothing. */
function takeAway(region: Region, hidden: Region): Region {
  let rest = region;
  for (const polygon of worthTaking(region, hidden)) rest = withoutPatch(rest, [polygon]) ?? rest;
  return rest;
}

/**
 * The polygons of a hidden area that take a large and wide enough part of the region, in their order. They reach
 * beyond its edge, so that nothing is left along it.
 */
const worthTaking = (region: Region, hidden: Region): Region =>
  hidden.filter((polygon) =>
    intersect(region, [polygon]).some((part) => regionArea([part]) >= PATCH_MM2 && isWide([part])),
  );

/** Whether a circle of the least width fits. One of radius area / length of edge always does. */
function isWide(patch: Region): boolean {
  const edgeMm = ringsOf(patch).reduce((length, ring) => length + polylineLength(closeRing(ring)), 0);
  return regionArea(patch) / edgeMm >= PATCH_WIDTH_MM / 2 || offset(patch, -PATCH_WIDTH_MM / 2).length > 0;
}

/** The region less the patch, or less what of it can go without leaving a neck or two pieces; `null` if nothing can. */
function withoutPatch(region: Region, patch: Region): Region | null {
  let going = patch;
  for (let k = 0; k < TRIES && going.length > 0; k++) {
    const rest = subtract(region, going).filter(isSewable);
    const kept = rest.length > 1 ? bridgesOf(rest) : necksOf(rest, region);
    if (kept.length === 0) return rest.length === 1 ? rest : null;
    going = worthTaking(region, opened(subtract(going, kept), PATCH_WIDTH_MM / 2));
  }
  return null;
}

const isSewable = (polygon: Polygon): boolean =>
  regionArea([polygon]) > CRUMB_MM2 && offset([polygon], -SLIVER_MM / 2).length > 0;

/** Where the rest is narrow, as far as the region was not so before: with room round it to widen it. */
function necksOf(rest: Region, region: Region): Region {
  const narrow = narrowParts(coarser(rest)).filter(isLarge);
  if (narrow.length === 0) return [];
  const before = offset(narrowParts(coarser(region)), NECK_MM / 2);
  return offset(subtract(narrow, before).filter(isLarge), NECK_MM);
}

const isLarge = (polygon: Polygon): boolean => regionArea([polygon]) > CORNER_MM2;

/** Where no circle of the least width fits, but for the corners. */
const narrowParts = (region: Region): Region =>
  subtract(region, offset(offset(region, -NECK_MM / 2), NECK_MM / 2 + COARSE_MM));

/** A strip from each polygon but the largest to the nearest other one. */
function bridgesOf(rest: Region): Region {
  const [, ...smaller] = [...rest].sort((a, b) => regionArea([b]) - regionArea([a]));
  return smaller.flatMap((polygon) => {
    const others = rest.filter((other) => other !== polygon);
    const gap = regionDistance([polygon], others, Number.MAX_VALUE);
    return gap && gap.distance > 0 ? strip(gap.from, gap.to) : [];
  });
}

/** A rectangle round a segment, reaching beyond its ends. */
function strip(a: Point, b: Point): Region {
  const length = distance(a, b);
  const [ux, uy] = [((b[0] - a[0]) / length) * (BRIDGE_MM / 2), ((b[1] - a[1]) / length) * (BRIDGE_MM / 2)];
  const outer: Point[] = [
    [a[0] - ux + uy, a[1] - uy - ux],
    [b[0] + ux + uy, b[1] + uy - ux],
    [b[0] + ux - uy, b[1] + uy + ux],
    [a[0] - ux - uy, a[1] - uy + ux],
  ];
  return [{ outer, holes: [] }];
}
