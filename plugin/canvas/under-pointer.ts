/** Which piece lies under the pointer: the one whose thread is on top there. */
import { type BoxIndex, buildBoxIndex } from "../../core/geometry/box-index.ts";
import { EMPTY_BOX, nearestOnSegment, squaredDistance } from "../../core/geometry/point.ts";
import type { Box, Point } from "../../core/geometry/types.ts";
import type { NeedleTrack } from "./needle-track.ts";

/** Stitches are looked up in groups of so many, or there would be too many boxes. */
const IN_A_GROUP = 24;
/** Rows of a fill lie closer than this: there is no way through between two of them. */
const REACH_MM = 0.35;

interface Group {
  readonly first: number;
  readonly end: number;
  readonly piece: string;
}

/** @returns the piece at a place in millimetres, or `undefined` over bare fabric */
export function pieceFinder({ spans, ends }: NeedleTrack): (at: Point) => string | undefined {
  const groups: Group[] = [];
  for (const { piece, role, first, end } of spans) {
    if (piece === undefined || role !== "cover") continue;
    for (let k = first; k < end; k += IN_A_GROUP)
      groups.push({ first: k, end: Math.min(end, k + IN_A_GROUP), piece });
  }
  const index: BoxIndex = buildBoxIndex(groups.map((group) => boxOfGroup(group, ends)));
  return (at) => {
    const [x, y] = at;
    const near = index.search({
      minX: x - REACH_MM,
      minY: y - REACH_MM,
      maxX: x + REACH_MM,
      maxY: y + REACH_MM,
    });
    // What is sewn last lies on top.
    return near
      .reverse()
      .map((k) => groups[k])
      .find((group) => passes(group, ends, at))?.piece;
  };
}

function boxOfGroup({ first, end }: Group, ends: Float32Array): Box {
  let { minX, minY, maxX, maxY } = EMPTY_BOX;
  for (let k = 4 * first; k < 4 * end; k += 2) {
    minX = Math.min(minX, ends[k]);
    maxX = Math.max(maxX, ends[k]);
    minY = Math.min(minY, ends[k + 1]);
    maxY = Math.max(maxY, ends[k + 1]);
  }
  return { minX, minY, maxX, maxY };
}

function passes({ first, end }: Group, ends: Float32Array, at: Point): boolean {
  for (let k = 4 * first; k < 4 * end; k += 4) {
    const nearest = nearestOnSegment(at, [ends[k], ends[k + 1]], [ends[k + 2], ends[k + 3]]);
    if (squaredDistance(at, nearest) <= REACH_MM * REACH_MM) return true;
  }
  return false;
}
