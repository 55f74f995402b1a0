/**
 * Ties: the few small stitches that lock the thread at the two ends of a strand. Common practice, no source:
 * three stitches of less than a millimetre, to and fro on the line of the strand's own first or last stitch, so
 * that the sewing buries them.
 */
import { SAME_POINT_MM } from "../constants.ts";
import { distance } from "../geometry/point.ts";
import { arcLengths, pointAlong } from "../geometry/polyline.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import { cleanLine } from "./even-stitches.ts";

export interface TieOptions {
  /** How many stitches; 0 makes no tie. */
  readonly count: number;
  readonly lengthMm: number;
}

/**
 * The tie before a strand. `ahead` are the first needle points that follow, from the strand's start on; the tie
 * ends exactly there. It goes to and fro between the start and a point one tie length ahead, so an odd count
 * begins ahead of the start and an even one at it.
 *
 * The point ahead lies on the first stitch, even if that makes the tie shorter, as long as the stitch has at
 * least half a tie length; else on the stitches that follow, as far along them as it takes. Where all of them
 * together go nowhere, there is nothing to tie to: the start alone is returned.
 */
export function tieIn(ahead: Polyline, { count, lengthMm }: TieOptions): Point[] {
  const path = cleanLine(ahead);
  const start = path[0];
  if (path.length < 2 || count <= 0) return ahead.slice(0, 1);
  const far = tieHole(path, lengthMm);
  return Array.from({ length: count + 1 }, (_, k) => ((count - k) % 2 === 0 ? start : far));
}

/**
 * The tie after a strand: `behind` are its last needle points, up to its end. Starts exactly at that end and
 * goes to and fro along the way the thread came, by the rules of `tieIn`.
 */
export const tieOff = (behind: Polyline, options: TieOptions): Point[] =>
  tieIn([...behind].reverse(), options).reverse();

function tieHole(path: Polyline, lengthMm: number): Point {
  const lengths = arcLengths(path);
  if (lengths[1] >= lengthMm / 2) return pointAlong(path, lengths, Math.min(lengthMm, lengths[1]));
  const reach = pointAlong(path, lengths, lengthMm);
  // A zigzag may come back to where it began; its first stitch, however short, leads somewhere.
  return distance(path[0], reach) > Math.max(SAME_POINT_MM, lengths[1]) ? reach : path[1];
}
