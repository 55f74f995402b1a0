import type { Point, Polyline } from "../geometry/types.ts";

export type StitchRole = "underlay" | "travel" | "cover";

/**
 * Needle points of one part of a piece. Consecutive parts of a piece join: each starts on the point where the
 * one before it ended.
 */
export interface StitchPart {
  readonly role: StitchRole;
  readonly points: Polyline;
}

/** All stitches of one piece: the first point is the entry, the last the exit. */
export interface PieceStitches {
  readonly piece: string;
  readonly entry: Point;
  readonly exit: Point;
  readonly parts: readonly StitchPart[];
}

/**
 * One piece, laid out once and ready to be sewn from any entry to any exit. Both may lie anywhere in the
 * piece's closed region (of a run: anywhere on its line).
 */
export interface Stitcher {
  /** The legal entry or exit point nearest to `p`; `p` itself where it is legal. */
  snap(p: Point): Point;
  /** Estimated millimetres of inner travel between this entry and this exit. Cheap: routing asks often. */
  travelMm(entry: Point, exit: Point): number;
  /** The stitches. The first point of the first part is `entry`, the last of the last is `exit`, exactly. */
  stitch(entry: Point, exit: Point): readonly StitchPart[];
}
