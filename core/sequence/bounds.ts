/**
 * Lower bounds on the blocks and strands of any legal order, and what is left of them when pieces turn out not to be
 * sewn at all.
 */
import type { Piece } from "../artwork/types.ts";
import type { Sequence } from "./types.ts";

export type Bounds = NonNullable<Sequence["bounds"]>;

/**
 * Bounds for `pieces`, after `leftOut` others were taken from the order that `bounds` are for. Put back anywhere, a
 * piece is at most one block more, and parts at most one other in two: so without it there are at most two fewer.
 */
export function boundsWithout(bounds: Bounds, leftOut: number, pieces: readonly Piece[]): Bounds {
  if (leftOut === 0) return bounds;
  const colours = new Set(pieces.map(({ colour }) => colour)).size;
  const blocks = Math.max(colours, bounds.blocks - 2 * leftOut);
  return { blocks, strands: Math.max(blocks, bounds.strands - 2 * leftOut) };
}
