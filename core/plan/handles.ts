/**
 * What a panel needs while an artist drags a marker or a connector: where a piece can be entered and left, and
 * where thread would be hidden. With the memory that the plan was made with, nothing is laid out anew.
 */
import type { Artwork, Marks, Pin } from "../artwork/types.ts";
import { offset, ringsOf, unionOfRings } from "../geometry/region.ts";
import type { Point, Region } from "../geometry/types.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import type { Settings } from "../settings.ts";
import { coverOf } from "../techniques/cover-of.ts";
import { sequenceOf, stitchersOf } from "./make-plan.ts";

/** What a panel needs to guide a hand that drags a marker. */
export interface Handles {
  /** The point nearest to a place at which a piece can be entered or left; `null` where it is not sewn. */
  nearest(piece: string, at: Point): Point | null;
  /**
   * Where thread is hidden that leads to a piece's entry, or from its exit: under all that is sewn after it, an
   * entry under the piece itself as well. `insideMm` keeps away from the edge, as the tuck margin does.
   */
  cover(piece: string, point: Pin["point"], insideMm?: number): Region;
}

/** The handles of a plan's pieces, by their ids or, in a network, those of its members. */
export function handlesOf(
  artwork: Artwork,
  marks: Marks,
  settings: Settings,
  memory: Memory = NO_MEMORY,
): Handles {
  const { sequence } = sequenceOf(artwork, settings, marks, memory);
  const stitchers = stitchersOf(sequence, settings, memory);
  const placeOf = new Map(
    sequence.pieces.flatMap(({ id, members = [id] }, k) => members.map((name) => [name, k] as const)),
  );
  return {
    nearest(piece, at) {
      const k = placeOf.get(piece);
      return k === undefined ? null : stitchers[k].snap(at);
    },
    cover(piece, point, insideMm = 0) {
      const k = placeOf.get(piece);
      if (k === undefined) return [];
      const later = sequence.pieces.slice(point === "entry" ? k : k + 1);
      const whole = memory.recall(`cover ${k} ${point}`, [sequence], () =>
        unionOfRings(later.flatMap((one) => ringsOf(coverOf(one) ?? []))),
      );
      return insideMm === 0 ? whole : offset(whole, -insideMm);
    },
  };
}
