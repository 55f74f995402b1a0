/**
 * The zigzag of a satin: needle points to and fro between the rails, one to a rung. Even rungs have theirs on the
 * left, odd ones on the right, whichever way and however much of them is sewn: what is seen of a satin does not tell
 * where it was begun.
 *
 * *Crowding*: on the inner side of a bend needle holes draw together. A hole nearer than half the spacing to one
 * of those before it on its side moves in from the rail, as little as it takes and to half the stitch at most,
 * so that the cloth is not cut (common practice, no source).
 *
 * *Split stitch*: a stitch longer than the longest allowed gets needle points on its way, staggered from stitch
 * to stitch so that they draw no line across the satin (common practice, no source).
 */
import { distance, lerp, squaredDistance } from "../geometry/point.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import type { Rung } from "./satin-rungs.ts";

export interface ZigzagOptions {
  /** Between neighbouring needle points on one rail. */
  readonly spacingMm: number;
  readonly minStitchMm: number;
  /** Longer stitches are split. */
  readonly maxStitchMm: number;
}

/** Shares of a stitch at which its hole is tried, from the rail inwards. */
const DEPTHS = [0.875, 0.75, 0.625, 0.5] as const;

/** A hole that is moved in leaves a notch in the edge where the next is further off than so many spacings: cloth shows. */
const NOTCH_SHARE = 1.2;

/** A hole is kept clear of this many before it on its side: a fan does not come back to older ones. */
const HOLES_BACK = 8;

/** Where the points of a split stitch are staggered to, by turns, as a share of one of its parts. */
const STAGGER = [-0.2, 0, 0.2] as const;

/** A split stitch has as many parts as if the longest allowed were this much of it, which leaves room for the stagger. */
const SPLIT_SHARE = 0.7;

/** Needle points across `rungs`, one a rung. */
export function zigzag(rungs: readonly Rung[], options: ZigzagOptions): Point[] {
  const needle: Point[] = [];
  for (const [i, { left, right }] of rungs.entries()) {
    const after = rungs[i + 2];
    needle.push(
      i % 2 === 0
        ? uncrowded(left, right, after?.left, needle, options)
        : uncrowded(right, left, after?.right, needle, options),
    );
  }
  return needle;
}

/**
 * The needle hole for a rail point: there, or as far towards the `opposite` rail as the holes before it demand.
 * `after` is the next rail point on the same side.
 */
function uncrowded(
  rail: Point,
  opposite: Point,
  after: Point | undefined,
  needle: Polyline,
  options: ZigzagOptions,
): Point {
  const oldest = Math.max(0, needle.length - 2 * HOLES_BACK);
  const isClear = (hole: Point, ofMm: number): boolean => {
    for (let i = needle.length - 2; i >= oldest; i -= 2)
      if (squaredDistance(needle[i], hole) < (ofMm - 1e-9) ** 2) return false;
    return true;
  };
  const clearMm = options.spacingMm / 2;
  if (isClear(rail, clearMm)) return rail;
  const leavesNotch = after !== undefined && isClear(after, NOTCH_SHARE * options.spacingMm);
  if (leavesNotch && isClear(rail, clearMm / 2)) return rail;
  const long = distance(rail, opposite);
  let hole = rail;
  for (const depth of DEPTHS) {
    if (depth * long < options.minStitchMm) break;
    hole = lerp(opposite, rail, depth);
    if (isClear(hole, clearMm)) break;
  }
  return hole;
}

/** The same way with every stitch longer than `maxStitchMm` split into shorter ones. */
export function splitLong(needle: Polyline, maxStitchMm: number): Point[] {
  const split: Point[] = needle.slice(0, 1);
  for (let i = 1; i < needle.length; i++) {
    const [a, b] = [needle[i - 1], needle[i]];
    const long = distance(a, b);
    if (long > maxStitchMm) {
      const parts = Math.ceil(long / (maxStitchMm * SPLIT_SHARE));
      // Every other stitch runs the opposite way: pairs share a place in the turn, mirrored along the stitch.
      const stagger = STAGGER[(i >> 1) % STAGGER.length] * (i % 2 === 0 ? 1 : -1);
      for (let k = 1; k < parts; k++) split.push(lerp(a, b, (k + stagger) / parts));
    }
    split.push(b);
  }
  return split;
}
