/**
 * Later cover: the area that the pieces sewn after a given one will hide, near that piece. What a step before
 * routing grows or takes away under it never shows.
 */
import { type BoxIndex, buildBoxIndex } from "../geometry/box-index.ts";
import { type Cuttable, ringsWithin } from "../geometry/clip-ring.ts";
import { boxesMeet, EMPTY_BOX, joinBoxes } from "../geometry/point.ts";
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
 * all that lie below, and runs of runs: their common outline is no longer than that of a few.
 */
const MANY = 64;
const RUN = 16;
const RUNS_IN_A_LONGER = 4;

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
  const isAsked = (j: number): boolean => j < areas.length && areas[j] !== null && last[j] === j;
  const askedIn = ({ from, length }: Run): number[] =>
    Array.from({ length }, (_, n) => from + n).filter(isAsked);
  const alone = (j: number): Cuttable => ({ rings: ringsAt(j), box: boxes[j] });
  const joined = new Map<string, Cuttable>();
  /** All that are asked of a run, as one. */
  const joinedRun = (run: Run): Cuttable => {
    const key = `${run.from} ${run.length}`;
    let whole = joined.get(key);
    if (!whole) {
      const parts = run.length > RUN ? partsOf(run).map(joinedRun) : askedIn(run).map(alone);
      whole = {
        rings: ringsOf(unionOfRings(parts.flatMap(({ rings }) => rings))),
        box: parts.map(({ box }) => box).reduce(joinBoxes, EMPTY_BOX),
      };
      joined.set(key, whole);
    }
    return whole;
  };
  /** The members of a run, as one where nothing else of it comes into the frame. */
  const inRuns = (run: Run, members: ReadonlySet<number>, frame: Box): Cuttable[] => {
    const asked = askedIn(run);
    const found = asked.filter((j) => members.has(j));
    if (found.length === 0) return [];
    if (asked.every((j) => members.has(j) || !boxesMeet(boxes[j], frame))) return [joinedRun(run)];
    return run.length > RUN ? partsOf(run).flatMap((part) => inRuns(part, members, frame)) : found.map(alone);
  };
  const longest = (): Run => {
    let length = RUN;
    while (length < areas.length) length *= RUNS_IN_A_LONGER;
    return { from: 0, length };
  };
  const ringsIn = (members: readonly number[], frame: Box): readonly Ring[] =>
    ringsWithin(
      members.length < MANY ? members.map(alone) : inRuns(longest(), new Set(members), frame),
      frame,
    );
  return {
    after: (k, box) => index.search(box).filter((j) => j > k && isAsked(j)),
    union: (members, frame) => unionOfRings(ringsIn(members, frame)),
    rings: ringsIn,
  };
}

/** Some places in the order, one after the other. */
interface Run {
  readonly from: number;
  readonly length: number;
}

function partsOf({ from, length }: Run): Run[] {
  const part = length / RUNS_IN_A_LONGER;
  return Array.from({ length: RUNS_IN_A_LONGER }, (_, n) => ({ from: from + n * part, length: part }));
}

/** The region with gaps and slits up to twice `byMm` wide closed. */
export const closed = (region: Region, byMm: number): Region => offset(offset(region, byMm), -byMm);

/** The parts of the region in which a circle of this radius fits. Corners stay corners. */
export const opened = (region: Region, radiusMm: number): Region =>
  offset(offset(region, -radiusMm), radiusMm);
