import type { Bend } from "../artwork/types.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import type { Join } from "./joins.ts";

/** `tucked`: hidden; `hop`: a short gap, no trim; `jump`: the thread is cut. */
export type ConnectorKind = "tucked" | "blended" | "hop" | "jump";

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
  /** Of a blended connector: how much of it follows a seam between finished pieces of its own colour. */
  readonly blendedMm?: number;
  /** Where the artist led it another way. */
  readonly bend?: Bend;
  /** Kept from the cover's outer edge; 0 for what is not tucked. */
  readonly marginMm: number;
  /** Of a jump: why it is there, and what would remove it, with figures. */
  readonly reason?: string;
  readonly remedy?: string;
  /** Of a jump: the gaps on the best way there is. */
  readonly gaps?: Break["gaps"];
}

/** Why a strand ends between two pieces of a block, and what would let it go on, with figures. */
export interface Break {
  /** The exposed thread that the best way would have, in millimetres. */
  readonly shortMm: number;
  readonly at: Point;
  /** The gaps that would show, each with the pieces on either side; none where a pin stands in the way. */
  readonly gaps: readonly {
    readonly near: string;
    readonly far: string;
    readonly widthMm: number;
    /** What a hop over it costs, to hold against the jump threshold. */
    readonly hopCost: number;
    readonly from: Point;
    readonly to: Point;
  }[];
  readonly reason: string;
  readonly remedy: string;
}

/** Entries, exits and joins of a whole sequence; arrays run parallel to `Sequence.pieces`. */
export interface Routes {
  readonly entries: readonly Point[];
  readonly exits: readonly Point[];
  /** `joins[k]` leads from piece k to piece k + 1; `null` where a strand ends after piece k. */
  readonly joins: readonly (Join | null)[];
  /** `breaks[k]`: why a strand ends after piece k though its block goes on. */
  readonly breaks: readonly (Break | null)[];
}
