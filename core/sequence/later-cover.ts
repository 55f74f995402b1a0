/**
 * Later cover: the area that the pieces sewn after a given one will hide, near that piece. What a step before
 * routing grows or takes away under it never shows.
 */
import { type BoxIndex, buildBoxIndex } from "../geometry/box-index.ts";
import { type Cuttable, ringsWithin } from "../geometry/clip-ring.ts";
import { joinBoxes } from "../geometry/point.ts";
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
 * Where so many lie over a piece, as in a shading of a hundred discs, runs of them in the order are joined once for
 * all that lie below: their common outline is no longer than that of a few.
 */
const MANY = 64;
const RUN = 16;

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
  const isAsked = (j: number): boolean => areas[j] !== null && last[j] === j;
  const alone = (j: number): Cuttable => ({ rings: ringsAt(j), box: boxes[j] });
  const joined = new Map<number, Cuttable>();
  const runJoined = (from: number, run: readonly number[]): Cuttable => {
    let whole = joined.get(from);
    if (!whole) {
      whole = {
        rings: ringsOf(unionOfRings(run.flatMap(ringsAt))),
        box: run.map((j) => boxes[j]).reduce(joinBoxes),
      };
      joined.set(from, whole);
    }
    return whole;
  };
  /** The members, and where all of a run are among them, these as one. */
  const inRuns = (members: readonly number[]): Cuttable[] => {
    const asked = new Set(members);
    const starts = [...new Set(members.map((j) => j - (j % RUN)))];
    return starts.flatMap((from) => {
      const run = Array.from({ length: RUN }, (_, k) => from + k).filter(
        (j) => j < areas.length && isAsked(j),
      );
      return run.every((j) => asked.has(j))
        ? [runJoined(from, run)]
        : run.filter((j) => asked.has(j)).map(alone);
    });
  };
  const ringsIn = (members: readonly number[], frame: Box): readonly Ring[] =>
    ringsWithin(members.length < MANY ? members.map(alone) : inRuns(members), frame);
  return {
    after: (k, box) => index.search(box).filter((j) => j > k && isAsked(j)),
    union: (members, frame) => unionOfRings(ringsIn(members, frame)),
    rings: ringsIn,
  };
}

/** The region with gaps and slits up to twice `byMm` wide closed. */
export const closed = (region: Region, byMm: number): Region => offset(offset(region, byMm), -byMm);

/** The parts of the region in which a circle of this radius fits. Corners stay corners. */
export const opened = (region: Region, radiusMm: number): Region =>
  offset(offset(region, -radiusMm), radiusMm);
