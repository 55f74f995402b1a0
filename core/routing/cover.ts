/**
 * The cover: what pieces sewn later will hide. Only the part of it near a pair of pieces is ever built, from
 * whole pieces, so that what is built is never more than the truth; the caller asks for a wider window until
 * nothing outside could matter.
 */
import { COVER_GAP_MM } from "../constants.ts";
import { type BoxIndex, buildBoxIndex } from "../geometry/box-index.ts";
import { offset, union } from "../geometry/region.ts";
import type { Box, Region } from "../geometry/types.ts";

/** Pieces are grown by this before they are joined, so that gaps up to COVER_GAP_MM close. */
const GROW_MM = COVER_GAP_MM / 2;

export interface Cover {
  /** The later covering pieces (order `from` and after) that meet the window, ascending. */
  members(from: number, window: Box): readonly number[];
  /** Their union, hairline gaps closed. */
  unionOf(members: readonly number[]): Region;
}

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
  return {
    members: (from, window) => index.search(window).filter((k) => k >= from && areas[k] !== null),
    unionOf: (members) => union(members.map(grownArea)),
  };
}

/** The part of a cover that keeps `marginMm` from its outer edge. */
export const insideBy = (cover: Region, marginMm: number): Region =>
  marginMm === 0 ? cover : offset(cover, -(marginMm + GROW_MM));

/** The cover with its edge where it was drawn, hairline gaps open again: what gaps are measured from. */
export const trueEdge = (cover: Region): Region => offset(cover, -GROW_MM);
