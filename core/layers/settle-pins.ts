/**
 * Pins, and bends, where writing them changes nothing. A pin is sewn at the nearest legal point of its piece, often on its
 * very edge; written, that point is rounded; read back, the rounded point may be legal nearer by. So that
 * planning a planned drawing gives the same plan to the last digit, a pin is settled first: at a place that,
 * when its nearest legal point is written and read back, comes out as itself.
 */
import { apply } from "../artwork/matrix.ts";
import type { Bend, Pin } from "../artwork/types.ts";
import type { Matrix, Point } from "../geometry/types.ts";
import { userUnits } from "./user-units.ts";

/**
 * Each round leaves the place as near to the piece or nearer, and the first or second is nearly always the last;
 * after so many the place moves by no more than a rounding step.
 */
const MOST_ROUNDS = 8;

/**
 * @param snap the legal point of a pin's piece nearest to a place; the place itself where it is legal
 * @param userToMm of the drawing that the plan will be written into
 */
export function settlePins(pins: readonly Pin[], snap: (pin: Pin) => Point, userToMm: Matrix): Pin[] {
  const readBack = readBackIn(userToMm);
  return pins.map((pin) => {
    let settled = { ...pin, at: readBack(pin.at) };
    for (let round = 0; round < MOST_ROUNDS; round++) {
      const next = readBack(snap(settled));
      if (next[0] === settled.at[0] && next[1] === settled.at[1]) break;
      settled = { ...pin, at: next };
    }
    return settled;
  });
}

/** Bends through the points that come out when they are written and read back. */
export function settleBends(bends: readonly Bend[], userToMm: Matrix): readonly Bend[] {
  const readBack = readBackIn(userToMm);
  return bends.map((bend) => ({ ...bend, through: bend.through.map(readBack) }));
}

/** A place as it is when it was written into the drawing and read again. */
function readBackIn(userToMm: Matrix): (p: Point) => Point {
  const user = userUnits(userToMm);
  return (p) => {
    const [x, y] = user.point(p, " ").split(" ").map(Number);
    return apply(userToMm, [x, y]);
  };
}
