import type { Piece } from "../artwork/types.ts";

/** Consecutive pieces of one thread colour. */
export interface Block {
  readonly colour: string;
  /** Indices into `Sequence.pieces`, first and one past the last. */
  readonly start: number;
  readonly end: number;
}

/** The pieces that are sewn, in needle order. */
export interface Sequence {
  readonly pieces: readonly Piece[];
  readonly blocks: readonly Block[];
  /** Where the order was chosen: no legal order has fewer. Absent where paint order was kept. */
  readonly bounds?: { readonly blocks: number; readonly strands: number };
}
