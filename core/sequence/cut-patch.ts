/**
 * Cutting a patch out of a region so that the region stays one polygon without new necks: where taking a patch
 * would leave a neck, the patch gives way; where it would cut the region in two, a bridge stays.
 */
import { regionWithin } from "../geometry/clip-ring.ts";
import { regionDistance } from "../geometry/distance.ts";
import { distance, growBox } from "../geometry/point.ts";
import { closeRing, polylineLength } from "../geometry/polyline.ts";
import { intersect, offset, regionArea, regionBox, ringsOf, subtract } from "../geometry/region.ts";
import { simplifyRing } from "../geometry/simplify.ts";
import type { Point, Polygon, Region, Ring } from "../geometry/types.ts";
import { opened } from "./later-cover.ts";

/** What a cut must be worth, and what it must leave. */
export interface CutLimits {
  /** A smaller or narrower patch is not worth the ends of rows round it. */
  readonly patchMm2: number;
  readonly patchWidthMm: number;
  /** Where less than this stays, rows become too short to hold. */
  readonly neckMm: number;
  /** A bridge between the two sides of a patch is this wide. */
  readonly bridgeMm: number;
}

/** Corners are narrow too; smaller ones than this, in square millimetres, are only that. */
const CORNER_MM2 = 0.8;
/** What is left by the rounding of numbers, or too small for one stitch. */
const CRUMB_MM2 = 0.3;
/** Less of a piece along the edge of what hides it is not seen, but an outline that was drawn twice. */
export const SLIVER_MM = 0.25;
/** A patch gives way to necks this often before it is left as it is. */
const TRIES = 4;

/** Patches and necks are looked for on outlines with fewer points, this near the drawn ones. */
export const COARSE_MM = 0.1;

export const coarser = (region: Region, toleranceMm = COARSE_MM): Region =>
  region.map(({ outer, holes }) => ({
    outer: coarserRing(outer, toleranceMm),
    holes: holes.map((hole) => coarserRing(hole, toleranceMm)),
  }));

/** What is so small that nothing would be left of it stays as it was. */
const coarserRing = (ring: Ring, toleranceMm: number): Ring => {
  const coarse = simplifyRing(ring, toleranceMm);
  return coarse.length < 3 ? ring : coarse;
};

/**
 * The region without as much of the hidden part as may go; the region itself where that is nothing. What is cut off
 * and `isHidden` whole, as in a corner too narrow for a patch, goes with the patch: no bridge leads to it.
 */
export function takeAway(
  region: Region,
  hidden: Region,
  limits: CutLimits,
  isHidden: (polygon: Polygon) => boolean,
): Region {
  let rest = region;
  for (const polygon of worthTaking(region, hidden, limits))
    rest = withoutPatch(rest, [polygon], limits, isHidden) ?? rest;
  return rest;
}

/**
 * The polygons of a hidden area that take a large and wide enough part of the region, in their order. They reach
 * beyond its edge, so that nothing is left along it.
 */
function worthTaking(region: Region, hidden: Region, limits: CutLimits): Region {
  const near = regionWithin(region, growBox(regionBox(hidden), limits.patchWidthMm));
  return hidden.filter((polygon) =>
    intersect(near, [polygon]).some(
      (part) => regionArea([part]) >= limits.patchMm2 && isWide([part], limits.patchWidthMm),
    ),
  );
}

/** Whether a circle of the least width fits. One of radius area / length of edge always does. */
function isWide(patch: Region, widthMm: number): boolean {
  const edgeMm = ringsOf(patch).reduce((length, ring) => length + polylineLength(closeRing(ring)), 0);
  return regionArea(patch) / edgeMm >= widthMm / 2 || offset(patch, -widthMm / 2).length > 0;
}

/** The region less the patch, or less what of it can go without leaving a neck or two pieces; `null` if nothing can. */
function withoutPatch(
  region: Region,
  patch: Region,
  limits: CutLimits,
  isHidden: (polygon: Polygon) => boolean,
): Region | null {
  let going = patch;
  for (let k = 0; k < TRIES && going.length > 0; k++) {
    const sewable = subtract(region, going).filter(isSewable);
    const rest = sewable.length > 1 ? sewable.filter((polygon) => !isHidden(polygon)) : sewable;
    const kept =
      rest.length > 1 ? bridgesOf(rest, limits.bridgeMm) : necksOf(rest, region, going, limits.neckMm);
    if (kept.length === 0) return rest.length === 1 ? rest : null;
    going = worthTaking(region, opened(subtract(going, kept), limits.patchWidthMm / 2), limits);
  }
  return null;
}

const isSewable = (polygon: Polygon): boolean =>
  regionArea([polygon]) > CRUMB_MM2 && isWide([polygon], SLIVER_MM);

/** Where the rest is narrow, as far as the region was not so before: with room round it to widen it. */
function necksOf(rest: Region, region: Region, going: Region, neckMm: number): Region {
  // Farther off, both are narrow in the same places.
  const frame = growBox(regionBox(going), 3 * neckMm);
  const narrow = narrowParts(coarser(regionWithin(rest, frame)), neckMm).filter(isLarge);
  if (narrow.length === 0) return [];
  const before = offset(narrowParts(coarser(regionWithin(region, frame)), neckMm), neckMm / 2);
  return offset(subtract(narrow, before).filter(isLarge), neckMm);
}

const isLarge = (polygon: Polygon): boolean => regionArea([polygon]) > CORNER_MM2;

/** Where no circle of the least width fits, but for the corners. */
const narrowParts = (region: Region, neckMm: number): Region =>
  subtract(region, offset(offset(region, -neckMm / 2), neckMm / 2 + COARSE_MM));

/** A strip from each polygon but the largest to the nearest other one. */
function bridgesOf(rest: Region, widthMm: number): Region {
  const [, ...smaller] = [...rest].sort((a, b) => regionArea([b]) - regionArea([a]));
  return smaller.flatMap((polygon) => {
    const others = rest.filter((other) => other !== polygon);
    const gap = regionDistance([polygon], others, Number.MAX_VALUE);
    return gap && gap.distance > 0 ? strip(gap.from, gap.to, widthMm) : [];
  });
}

/** A rectangle round a segment, reaching beyond its ends. */
function strip(a: Point, b: Point, widthMm: number): Region {
  const length = distance(a, b);
  const [ux, uy] = [((b[0] - a[0]) / length) * (widthMm / 2), ((b[1] - a[1]) / length) * (widthMm / 2)];
  const outer: Point[] = [
    [a[0] - ux + uy, a[1] - uy - ux],
    [b[0] + ux + uy, b[1] + uy - ux],
    [b[0] + ux - uy, b[1] + uy + ux],
    [a[0] - ux - uy, a[1] - uy + ux],
  ];
  return [{ outer, holes: [] }];
}
