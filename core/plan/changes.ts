/**
 * Small changes that an artist can make: to the order, to the drawing, to a setting. Each is a record that can be
 * applied to what a plan is made from, so that its effect is planned, not guessed; and, but for a change to a shape,
 * that can be set in the drawing, so that it stays.
 */
import type { Artwork, Marks, Piece } from "../artwork/types.ts";
import { norm } from "../geometry/point.ts";
import { union } from "../geometry/region.ts";
import type { Point, Ring } from "../geometry/types.ts";
import type { MarkEdit } from "../layers/edit-marks.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import { legalMoves, type MoveVerdict } from "../sequence/legal-moves.ts";
import type { Settings } from "../settings.ts";
import { settingsEdit } from "../settings-in-drawing.ts";

/** A small change that could save a stop. */
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

/** What a plan is made from. */
export interface PlanInputs {
  readonly artwork: Artwork;
  readonly marks: Marks;
  readonly settings: Settings;
}

/** The same with a change made. What is not there, or would change the picture, leaves them as they are. */
export function applyChange(inputs: PlanInputs, change: Change, memory: Memory = NO_MEMORY): PlanInputs {
  const { artwork, marks, settings } = inputs;
  switch (change.kind) {
    case "setting":
      return { ...inputs, settings: { ...settings, [change.name]: change.value } };
    case "order":
      return { ...inputs, marks: { ...marks, after: moveOf(inputs, change, memory).wishes } };
    case "drawing":
      return { ...inputs, artwork: { ...artwork, pieces: widened(artwork.pieces, change) } };
  }
}

/**
 * A change as what is set in the drawing to keep it: on an element, or, with `element` null, for the drawing as a
 * whole. `null` for a change to a shape, which only the artist can draw.
 *
 * @param drawn the settings that the drawing carries already
 */
export function changeAsEdits(
  inputs: PlanInputs,
  change: Change,
  drawn: Readonly<Record<string, unknown>> = {},
): readonly MarkEdit[] | null {
  switch (change.kind) {
    case "setting":
      return [settingsEdit({ ...drawn, [change.name]: change.value })];
    case "order":
      return moveOf(inputs, change).edits;
    case "drawing":
      return null;
  }
}

const moveOf = (
  { artwork, marks, settings }: PlanInputs,
  { piece, after }: Change & { kind: "order" },
  memory: Memory = NO_MEMORY,
): MoveVerdict => legalMoves(artwork, marks.after, settings, memory).judge([piece], after);

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
