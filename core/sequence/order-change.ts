/**
 * What an order changes of the picture. Pieces that overlap keep theirs, so all that can differ is thread that hops in
 * sight from one piece to the next: another order shows it elsewhere than paint order does.
 */
import type { Piece } from "../artwork/types.ts";
import { regionArea } from "../geometry/region.ts";
import type { Settings } from "../settings.ts";
import { hasBit } from "./bits.ts";
import type { OrderCosts } from "./order-costs.ts";

/** So much of what is sewn may change: less than a thousandth of a drawing's page, part of which stays bare. */
const CHANGED_SHARE = 0.0015;

/**
 * Where more would change, a strand fewer is worth so much thread that shows elsewhere: where an island is sewn out of
 * turn two hops go and two or three come, of a millimetre each.
 */
const STRAND_MM = 3.5;

export interface OrderChange {
  /** Thread in sight, in millimetres, that only one of the two orders has: this step, or paint order after `last`. */
  readonly changedMm: OrderCosts["stepCost"];
  /** The same, and for a break what a strand is worth. */
  readonly cost: OrderCosts["stepCost"];
  /** So much thread in sight may change in a block. */
  readonly mostMm: number;
}

/** Changes against the order in which the pieces stand. */
export function weighChange(
  pieces: readonly Piece[],
  { threadWidthMm }: Settings,
  { shownMm, limitMm }: OrderCosts,
): OrderChange {
  // Before the first piece and beyond the last nothing is joined.
  const weighed =
    (strandMm: number): OrderCosts["stepCost"] =>
    (last, next, sewn) => {
      const shown = shownMm(last, next, (k) => hasBit(sewn, k));
      const onwards = shownMm(last, last + 1, (k) => k <= last);
      const gone = next === last + 1 || onwards >= limitMm ? 0 : onwards;
      return gone + (shown >= limitMm ? strandMm : next === last + 1 ? 0 : shown);
    };
  const sewnMm2 = pieces.reduce((sum, { region }) => sum + regionArea(region), 0);
  return {
    mostMm: (CHANGED_SHARE * sewnMm2) / threadWidthMm,
    changedMm: weighed(0),
    cost: weighed(STRAND_MM),
  };
}
