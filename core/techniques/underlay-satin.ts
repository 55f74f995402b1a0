/**
 * Underlay of a satin: what is sewn first along a stretch of rungs, from its first rung out and back to it.
 *
 * - A *centre run* holds a narrow satin: out and back along the middle. Where travel leads along there anyway, it
 *   is that.
 * - *Edge runs* go out along one rail and back along the other, inset; a *zigzag* goes from one to the other.
 *   They carry a wide satin.
 *
 * From which width on, how far inside and how far apart is common practice, no source.
 */
import { append } from "../append.ts";
import { distance, lerp } from "../geometry/point.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import type { UnderlayKind } from "../recipes/advice.ts";
import { cleanLine, shortFor, stitchAlong, withoutShort } from "./even-stitches.ts";
import type { Rung } from "./satin-rungs.ts";
import { splitLong } from "./satin-zigzag.ts";

/** Narrower satin gets none; above the second width it is edge runs and zigzag. */
const LEAST_WIDTH_MM = 2;
const WIDE_MM = 4;

/** How far inside the stroke's edge, and inside the ends of the stretch. */
const INSET_MM = 0.6;
const END_INSET_MM = 1;

/** A zigzag advances so far at each stitch; where it comes back as well, twice as far. */
const ZIGZAG_MM = 1.5;

export interface SatinUnderlayOptions {
  readonly kinds: readonly UnderlayKind[];
  readonly pullMm: number;
  readonly runLengthMm: number;
  readonly minStitchMm: number;
  readonly maxStitchMm: number;
}

/**
 * Needle points from `at`, which lies at the first of `rungs`, out and back; none where there is nothing to lay.
 * `isRound`: the rungs go round a ring, so that out leads back. `isTravelled`: travel lies along the middle already.
 */
export function satinUnderlay(
  at: Point,
  rungs: readonly Rung[],
  isRound: boolean,
  isTravelled: boolean,
  options: SatinUnderlayOptions,
): Polyline {
  const { kinds, pullMm, runLengthMm, maxStitchMm } = options;
  const shortMm = shortFor(runLengthMm, options.minStitchMm);
  const inner = insideEnds(rungs, isRound);
  if (kinds.length === 0 || inner.length < 2) return [];
  const widthMm = median(rungs.map(({ left, right }) => distance(left, right))) - 2 * pullMm;
  if (widthMm < LEAST_WIDTH_MM) return [];

  const rail = (side: 0 | 1): Point[] => inner.map((rung) => insetOn(rung, side, INSET_MM + pullMm));
  const middle = inner.map(({ centre }) => centre);
  const sewn = (line: Polyline): Point[] => stitchAlong(cleanLine(line), runLengthMm, shortMm);
  const back = (line: Point[]): Point[] => (isRound ? line : line.reverse());
  const zigzag = (advanceMm: number, side: 0 | 1): Point[] => {
    const points: Point[] = [];
    let next = side;
    for (const rung of everyOther(inner, advanceMm)) {
      points.push(insetOn(rung, next, INSET_MM + pullMm));
      next = next === 0 ? 1 : 0;
    }
    return points;
  };

  const points: Point[] = [at];
  const isWide = widthMm > WIDE_MM;
  const hasEdges = isWide && kinds.includes("edge run");
  const hasZigzag = isWide && kinds.includes("zigzag");
  if (hasEdges) append(points, [...sewn(rail(0)), ...sewn(back(rail(1)))]);
  if (hasZigzag && (hasEdges || isRound))
    append(points, [...zigzag(2 * ZIGZAG_MM, 0), ...back(zigzag(2 * ZIGZAG_MM, 1))]);
  else if (hasZigzag) append(points, [...sewn(middle), ...back(zigzag(ZIGZAG_MM, 0))]);
  else if (!hasEdges && !isTravelled) append(points, [...sewn(middle), ...sewn(back(middle.slice()))]);
  if (points.length === 1) return [];
  return splitLong(withoutShort(points, shortMm), Math.min(maxStitchMm, 2 * runLengthMm + WIDE_MM));
}

/** A point on a rung so far inside its left (0) or right (1) end, short of its middle. */
function insetOn({ left, right }: Rung, side: 0 | 1, insetMm: number): Point {
  const share = Math.min(0.45, insetMm / Math.max(distance(left, right), 1e-9));
  return side === 0 ? lerp(left, right, share) : lerp(right, left, share);
}

/** The rungs that are not too near the ends of the stretch. */
function insideEnds(rungs: readonly Rung[], isRound: boolean): readonly Rung[] {
  if (isRound || rungs.length === 0) return rungs;
  const [from, to] = [rungs[0].along, rungs[rungs.length - 1].along];
  return rungs.filter(({ along }) => Math.min(Math.abs(along - from), Math.abs(to - along)) >= END_INSET_MM);
}

/** Rungs whose centres lie at least so far apart. */
function everyOther(rungs: readonly Rung[], advanceMm: number): Rung[] {
  const kept: Rung[] = [rungs[0]];
  let walked = 0;
  for (let i = 1; i < rungs.length; i++) {
    walked += distance(rungs[i - 1].centre, rungs[i].centre);
    if (walked < advanceMm) continue;
    kept.push(rungs[i]);
    walked = 0;
  }
  return kept;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1];
}
