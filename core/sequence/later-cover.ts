/**
 * Later cover: the area that the pieces sewn after a given one will hide, near that piece. What a step before
 * routing grows or takes away under it never shows.
 */
import { type BoxIndex, buildBoxIndex } from "../geometry/box-index.ts";
import { ringsWithin } from "../geometry/clip-ring.ts";
import { offset, regionBox, ringsOf, unionOfRings } from "../geometry/region.ts";
import type { Box, Region, Ring } from "../geometry/types.ts";
import { lastAlike } from "./alike.ts";

export interface LaterCover {
  /** The places of the covering pieces after piece k that meet the box, ascending; of pieces alike the last only. */
  after(k: number, box: Box): readonly number[];
  /** What these pieces hide within the frame. Near it, an offset of the result says nothing. */
  union(members: readonly number[], frame: Box): Region;
  /** The same as loose rings that may cross: cheaper where a subtraction follows, which joins them itself. */
  rings(members: readonly number[], frame: Box): readonly Ring[];
}

/**
 * `areas[k]` is what piece k hides, or `null`. Each is grown by `grownMm` before they are joined, so that gaps up
 * to twice that close.
 */
export function laterCover(areas: readonly (Region | null)[], grownMm = 0): LaterCover {
  const boxes = areas.map((area) => regionBox(area ?? []));
  const grown = new Map<number, readonly Ring[]>();
  const ringsAt = (k: number): readonly Ring[] => {
    let rings = grown.get(k);
    if (!rings) {
      rings = ringsOf(offset(areas[k] ?? [], grownMm));
      grown.set(k, rings);
    }
    return rings;
  };
  const last = lastAlike(areas);
  const index: BoxIndex = buildBoxIndex(boxes);
  const ringsIn = (members: readonly number[], frame: Box): readonly Ring[] =>
    ringsWithin(
      members.map((j) => ({ rings: ringsAt(j), box: boxes[j] })),
      frame,
    );
  return {
    after: (k, box) => index.search(box).filter((j) => j > k && areas[j] !== null && last[j] === j),
    union: (members, frame) => unionOfRings(ringsIn(members, frame)),
    rings: ringsIn,
  };
}

/** The region with gaps and slits up to twice `byMm` wide closed. */
export const closed = (region: Region, byMm: number): Region => offset(offset(region, byMm), -byMm);

/** The parts of the region in which a circle of this radius fits. Corners stay corners. */
export const opened = (region: Region, radiusMm: number): Region =>
  offset(offset(region, -radiusMm), radiusMm);
