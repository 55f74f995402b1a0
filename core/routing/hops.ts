/**
 * What a hop costs, and from how much of that on a strand ends.
 *
 * A hop costs its length. Where it crosses finished stitches of another colour it is seen at once, and so costs more:
 * there, gaps below a share of the jump threshold are hopped. What lies under a gap when it is crossed is what is seen
 * there in the end, since nothing that is sewn later hides it.
 */
import type { Piece } from "../artwork/types.ts";
import { COVER_GAP_MM } from "../constants.ts";
import { buildBoxIndex } from "../geometry/box-index.ts";
import { boxOf, distance, lerp } from "../geometry/point.ts";
import { regionBox, regionContains } from "../geometry/region.ts";
import type { Point } from "../geometry/types.ts";
import { once } from "../once.ts";
import type { Settings } from "../settings.ts";
import { coverOf } from "../techniques/cover-of.ts";

/** The ground under a hop is looked at this often. */
const STEP_MM = 0.2;

/**
 * Hops that cost less are sewn: the jump threshold. One of nothing at all forbids hops, not that pieces which meet
 * follow each other: gaps that the drawing's tolerance can't tell from none are none even then.
 */
export const hopLimitMm = ({ jumpThresholdMm }: Settings): number => Math.max(jumpThresholdMm, COVER_GAP_MM);

/** What thread of a colour costs straight from one point to another, in millimetres to hold against `hopLimitMm`. */
export type HopCost = (from: Point, to: Point, colour: string) => number;

/** Weighs hops over pieces in the order in which they are sewn. */
export function weighHops(pieces: readonly Piece[], { hopOverColourPercent }: Settings): HopCost {
  const timesMore = 100 / hopOverColourPercent - 1;
  const colourAt = once(() => coloursOnTop(pieces));
  return (from, to, colour) => {
    const lengthMm = distance(from, to);
    if (timesMore === 0) return lengthMm;
    const steps = Math.max(1, Math.round(lengthMm / STEP_MM));
    let seen = 0;
    for (let step = 0; step < steps; step++) {
      const ground = colourAt()(lerp(from, to, (step + 0.5) / steps));
      if (ground !== null && ground !== colour) seen++;
    }
    return lengthMm * (1 + (timesMore * seen) / steps);
  };
}

/** The colour of the last piece whose stitches cover a point; `null` on bare fabric. */
function coloursOnTop(pieces: readonly Piece[]): (p: Point) => string | null {
  const areas = pieces.flatMap((piece) => {
    const region = coverOf(piece);
    return region === null ? [] : [{ region, colour: piece.colour }];
  });
  const index = buildBoxIndex(areas.map(({ region }) => regionBox(region)));
  return (p) => {
    const top = index.search(boxOf([p])).findLast((k) => regionContains(areas[k].region, p));
    return top === undefined ? null : areas[top].colour;
  };
}
