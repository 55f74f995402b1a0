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
