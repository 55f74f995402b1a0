import type { Point, Polyline } from "../geometry/types.ts";

export type ConnectorKind = "tucked" | "hop" | "jump";

/** What joins piece `from` to piece `to`, the next of its block. Absent where exit and entry coincide. */
export interface Connector {
	readonly id: string;
	readonly from: string;
	readonly to: string;
	readonly kind: ConnectorKind;
	/** From the exit of `from` to the entry of `to`. */
	readonly points: Polyline;
	readonly tuckedMm: number;
	readonly exposedMm: number;
	/** Kept from the cover's outer edge; 0 for what is not tucked. */
	readonly marginMm: number;
	/** Of a jump: why it is there, and what would remove it, with figures. */
	readonly reason?: string;
	readonly remedy?: string;
}

/** Entries, exits and connectors of a whole sequence; arrays run parallel to `Sequence.pieces`. */
export interface Routes {
	readonly entries: readonly Point[];
	readonly exits: readonly Point[];
	/** `joins[k]` leads from piece k to piece k + 1: `null` where they belong to different blocks or touch. */
	readonly joins: readonly (Connector | null)[];
	/** `breaksAfter[k]`: a strand ends after piece k. */
	readonly breaksAfter: readonly boolean[];
}
