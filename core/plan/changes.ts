/**
 * Small changes that an artist can make: to the order, to the drawing, to a setting. Each is a record that can be
 * applied to artwork and settings, so that its effect is planned, not guessed.
 */

import type { Artwork, Piece } from "../artwork/types.ts";
import { norm } from "../geometry/point.ts";
import { union } from "../geometry/region.ts";
import type { Point, Ring } from "../geometry/types.ts";
import type { Settings } from "../settings.ts";

export type Change =
  | { readonly kind: "order"; readonly piece: string; readonly after: string }
  | {
      readonly kind: "drawing";
      readonly piece: string;
      readonly towards: string;
      readonly widenMm: number;
      readonly from: Point;
      readonly to: Point;
    }
  | { readonly kind: "setting"; readonly name: "jumpThresholdMm"; readonly value: number };

/** Artwork and settings with a change made. A piece that is not there leaves them as they are. */
export function applyChange(
  artwork: Artwork,
  settings: Settings,
  change: Change,
): { artwork: Artwork; settings: Settings } {
  if (change.kind === "setting") return { artwork, settings: { ...settings, [change.name]: change.value } };
  const pieces = change.kind === "order" ? moved(artwork.pieces, change) : widened(artwork.pieces, change);
  return { artwork: { ...artwork, pieces }, settings };
}

function moved(pieces: readonly Piece[], { piece: id, after }: Change & { kind: "order" }): readonly Piece[] {
  const piece = pieces.find((one) => one.id === id);
  const rest = pieces.filter((one) => one.id !== id);
  const at = rest.findIndex((one) => one.id === after);
  return piece && at >= 0 ? [...rest.slice(0, at + 1), piece, ...rest.slice(at + 1)] : pieces;
}

/** The piece with a tongue across the gap, as wide as the gap is long but at least a few threads. */
function widened(pieces: readonly Piece[], change: Change & { kind: "drawing" }): readonly Piece[] {
  return pieces.map((piece) => {
    if (piece.id !== change.piece) return piece;
    const grown = union([piece.region, [{ outer: tongue(change.from, change.to), holes: [] }]]);
    return grown.length === 1 ? { ...piece, region: grown } : piece;
  });
}

/** Half the least width of a tongue, and how far it reaches into the shapes at its ends. */
const TONGUE_MM = 1;
const REACH_MM = 0.3;

function tongue([ax, ay]: Point, [bx, by]: Point): Ring {
  const length = norm(bx - ax, by - ay);
  const [ux, uy] = [(bx - ax) / length, (by - ay) / length];
  const half = Math.max(TONGUE_MM, length / 2);
  const corner = (along: number, across: number): Point => [
    ax + ux * along - uy * across,
    ay + uy * along + ux * across,
  ];
  return [
    corner(-REACH_MM, -half),
    corner(length + REACH_MM, -half),
    corner(length + REACH_MM, half),
    corner(-REACH_MM, half),
  ];
}

/** What to do, in words, as one line. */
export function changeInWords(change: Change): string {
  if (change.kind === "order") return `sew ${change.piece} right after ${change.after}`;
  if (change.kind === "setting") return `raise the jump threshold to ${change.value} mm`;
  const [x, y] = change.from;
  return `widen ${change.piece} by ${change.widenMm.toFixed(1)} mm towards ${change.towards} at (${x.toFixed(0)}, ${y.toFixed(0)})`;
}
