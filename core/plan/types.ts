import type { Artwork, Pin } from "../artwork/types.ts";
import type { Finding } from "../findings.ts";
import type { Point, Ring } from "../geometry/types.ts";
import type { Connector } from "../routing/types.ts";
import type { Settings } from "../settings.ts";
import type { ThreadLabel } from "../threads/types.ts";

/** A piece as it is sewn: where it is entered and left, and when. */
export interface PlannedPiece {
  readonly id: string;
  /** Of line work that is sewn as one: the ids of all its pieces, this one's first. */
  readonly members?: readonly string[];
  readonly element: string;
  readonly paint: "fill" | "stroke";
  readonly technique: "fill" | "satin" | "run";
  readonly colour: string;
  /** Where its colour is that of a thread from a list: which. */
  readonly thread?: ThreadLabel;
  /** Sewing number, from 1. */
  readonly order: number;
  readonly entry: Point;
  readonly exit: Point;
  readonly entryPinned: boolean;
  readonly exitPinned: boolean;
  /** What pins them. */
  readonly entryPin?: Pin;
  readonly exitPin?: Pin;
}

/** What a length of thread is there for. */
export type SewnRole = "tie-in" | "underlay" | "travel" | "cover" | "connector" | "tie-off";

/** Thread being sewn. Consecutive entries of one strand share their meeting point. */
export interface SewnStep {
  readonly role: SewnRole;
  /** Index of the block and, over the whole design, of the strand; both from 0. */
  readonly block: number;
  readonly strand: number;
  readonly piece?: string;
  readonly connector?: string;
  /** Needle points, flat: x0, y0, x1, y1 … */
  readonly points: Float64Array;
}

export interface TrimStep {
  readonly role: "trim";
}
export interface JumpStep {
  readonly role: "jump";
  readonly points: Float64Array;
}
export interface ColourChangeStep {
  readonly role: "colour-change";
  readonly colour: string;
  readonly thread?: ThreadLabel;
}

/** What the machine does next. */
export type SewingStep = SewnStep | TrimStep | JumpStep | ColourChangeStep;

/** The figures of one way to sew a design. Lengths in mm, time in seconds. */
export interface PlainMetrics {
  readonly pieces: number;
  readonly blocks: number;
  readonly strands: number;
  readonly trims: number;
  readonly hops: number;
  readonly stitches: number;
  readonly connectorMm: number;
  readonly tuckedMm: number;
  /** Along seams between finished pieces of the thread's own colour; only where blending was asked for. */
  readonly blendedMm?: number;
  readonly exposedMm: number;
  readonly threadMm: number;
  readonly seconds: number;
}

/** The figures of a plan, with their lower bounds and what plain sewing would take. */
export interface Metrics extends PlainMetrics {
  readonly blocksLowerBound: number;
  readonly strandsLowerBound: number;
  /** The same figures for paint order sewn plainly: centre to centre, no connectors. */
  readonly untucked: PlainMetrics;
}

/** The whole design in needle order, with all that explains it. */
export interface Plan {
  readonly source: Artwork["source"];
  readonly settings: Settings;
  readonly size: Artwork["size"];
  readonly userToMm: Artwork["userToMm"];
  readonly pieces: readonly PlannedPiece[];
  readonly connectors: readonly Connector[];
  readonly sewing: readonly SewingStep[];
  readonly metrics: Metrics;
  readonly findings: readonly Finding[];
  /** Where the size is that of a patch or a sheet of copies: the drawing's own. */
  readonly drawnSize?: Artwork["size"];
  /** Of patches: where each is cut out. */
  readonly cutLine?: readonly Ring[];
}
