/**
 * What an order changes of the picture. Pieces that overlap keep theirs, so all that can differ is thread that hops in
 * sight from one piece to the next: another order shows it elsewhere than paint order does.
 */
import type { Piece } from "../artwork/types.ts";
import { EMPTY_BOX, joinBoxes } from "../geometry/point.ts";
import { regionBox } from "../geometry/region.ts";
import type { Settings } from "../settings.ts";
import { hasBit } from "./bits.ts";
import type { OrderCosts } from "./order-costs.ts";

/** So much of the drawing's extent may change: edges change too, and in all it is to stay under a thousandth. */
const CHANGED_SHARE = 0.0011;

/**
 * Where more would change, a strand fewer is worth so much thread that shows elsewhere, and less where that is still
 * too much: where an island is sewn out of turn two hops go and two or three come, of a millimetre each.
 */
const STRAND_MM = [3.5, 2.5, 1.5, 0.8];

export interface OrderChange {
  /** Thread in sight, in millimetres, that only one of the two orders has: this step, or paint order after `last`. */
  readonly changedMm: OrderCosts["stepCost"];
  /** The same, and for a break what a strand is worth: ever less. */
  readonly costs: readonly OrderCosts["stepCost"][];
  /** So much thread in sight may change in all. */
  readonly mostMm: number;
}

/** Changes against the order in which the pieces stand. */
export function weighChange(
  pieces: readonly Piece[],
  { threadWidthMm }: Settings,
  { hopCost, limitMm }: OrderCosts,
): OrderChange {
  // Before the first piece and beyond the last nothing is joined.
  const weighed =
    (strandMm: number): OrderCosts["stepCost"] =>
    (last, next, sewn) => {
      const shown = hopCost(last, next, (k) => hasBit(sewn, k));
      const onwards = hopCost(last, last + 1, (k) => k <= last);
      const gone = next === last + 1 || onwards >= limitMm ? 0 : onwards;
      return gone + (shown >= limitMm ? strandMm : next === last + 1 ? 0 : shown);
    };
  const { minX, minY, maxX, maxY } = pieces
    .map(({ region }) => regionBox(region))
    .reduce(joinBoxes, EMPTY_BOX);
  return {
    mostMm: (CHANGED_SHARE * (maxX - minX) * (maxY - minY)) / threadWidthMm,
    changedMm: weighed(0),
    costs: STRAND_MM.map(weighed),
  };
}
