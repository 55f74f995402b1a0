/**
 * The cover: what pieces sewn later will hide. Only the part of it near a pair of pieces is ever built, from
 * whole pieces, so that what is built is never more than the truth; the caller asks for a wider window until
 * nothing outside could matter.
 */
import { COVER_GAP_MM } from "../constants.ts";
import { type BoxIndex, buildBoxIndex } from "../geometry/box-index.ts";
import { ringsWithin } from "../geometry/clip-ring.ts";
import { growBox } from "../geometry/point.ts";
import { offset, ringsOf, unionOfRings } from "../geometry/region.ts";
import type { Box, Region } from "../geometry/types.ts";

/** Pieces are grown by this before they are joined, so that gaps up to COVER_GAP_MM close. */
const GROW_MM = COVER_GAP_MM / 2;

export interface Cover {
  /** The later covering pieces (order `from` and after) that meet the window, ascending. */
  members(from: number, window: Box): readonly number[];
  /** The union of pieces as far as the window shows it, hairline gaps closed. */
  closedUnion(members: readonly number[], window: Box): Region;
  /** The same with hairline gaps left open: what gaps are measured from. */
  openUnion(members: readonly number[], window: Box): Region;
}

/** All there is. */
export const EVERYWHERE: Box = {
  minX: Number.NEGATIVE_INFINITY,
  minY: Number.NEGATIVE_INFINITY,
  maxX: Number.POSITIVE_INFINITY,
  maxY: Number.POSITIVE_INFINITY,
};

/** Pieces are cut off this far outside a window, so that the cut does not reach into it however far edges move in. */
const BEYOND_WINDOW_MM = 2;

/** `areas[k]` is what piece k hides, or `null`. */
export function buildCover(areas: readonly (Region | null)[], boxes: readonly Box[]): Cover {
  const index: BoxIndex = buildBoxIndex(boxes);
  const grown = new Map<number, Region>();
  const grownArea = (k: number): Region => {
    let region = grown.get(k);
    if (!region) {
      region = offset(areas[k] ?? [], GROW_MM);
      grown.set(k, region);
    }
    return region;
  };
  const within = (members: readonly number[], area: (k: number) => Region, window: Box): Region =>
    unionOfRings(
      ringsWithin(
        members.map((k) => ({ rings: ringsOf(area(k)), box: boxes[k] })),
        growBox(window, BEYOND_WINDOW_MM),
      ),
    );
  return {
    members: (from, window) => index.search(window).filter((k) => k >= from && areas[k] !== null),
    closedUnion: (members, window) => within(members, grownArea, window),
    openUnion: (members, window) => within(members, (k) => areas[k] ?? [], window),
  };
}

/** The part of a closed union that keeps `marginMm` from its outer edge. */
export const insideBy = (cover: Region, marginMm: number): Region =>
  marginMm === 0 ? cover : offset(cover, -(marginMm + GROW_MM));
