/**
 * What hides thread: a piece sewn as fill or satin lies over whatever was sewn under it before. A running
 * stitch is a single thread: beside it, everything shows.
 */
import type { Piece } from "../artwork/types.ts";
import type { Region } from "../geometry/types.ts";

/** The area that hides earlier thread once the piece is sewn; `null` where it hides nothing. */
export const coverOf = (piece: Piece): Region | null =>
  piece.technique === "fill" || piece.technique === "satin" ? piece.region : null;
