/**
 * The zigzag of a satin: needle points to and fro between the rails, one to a rung.
 *
 * *Crowding*: on the inner side of a bend needle holes draw together. A hole nearer to the last full one on its
 * rail than half the spacing moves in from the rail, by turns to a half and to two thirds of the stitch, so that
 * the cloth is not cut (common practice, no source).
 *
 * *Split stitch*: a stitch longer than the longest allowed gets needle points on its way, staggered from stitch
 * to stitch so that they draw no line across the satin (common practice, no source).
 */
import { distance, lerp } from "../geometry/point.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import type { Rung } from "./satin-rungs.ts";

export interface ZigzagOptions {
  /** Between neighbouring needle points on one rail. */
  readonly spacingMm: number;
  readonly minStitchMm: number;
  /** Longer stitches are split. */
  readonly maxStitchMm: number;
}

/** To which part of the stitch a crowded needle hole moves in, by turns. */
const SHORTENED = [0.5, 0.67] as const;

/** Where the points of a split stitch are staggered to, by turns, as a share of one of its parts. */
const STAGGER = [-0.2, 0, 0.2] as const;

/** A split stitch has as many parts as if the longest allowed were this much of it, which leaves room for the stagger. */
const SPLIT_SHARE = 0.7;

/** Needle points across `rungs` in their order, beginning on the rail that is further from `from`. */
export function zigzag(rungs: readonly Rung[], from: Point, options: ZigzagOptions): Point[] {
  const needle: Point[] = [];
  const lastFull: (Point | undefined)[] = [undefined, undefined];
  const crowdedMm = options.spacingMm / 2 - 1e-9;
  let onLeft = distance(from, rungs[0].left) >= distance(from, rungs[0].right);
  let shortened = 0;
  for (const { left, right } of rungs) {
    const hole = onLeft ? left : right;
    const opposite = onLeft ? right : left;
    const full = lastFull[onLeft ? 0 : 1];
    const depth = SHORTENED[shortened % SHORTENED.length];
    const crowded = full !== undefined && distance(full, hole) < crowdedMm;
    if (crowded && distance(hole, opposite) * depth >= options.minStitchMm) {
      needle.push(lerp(opposite, hole, depth));
      shortened++;
    } else {
      needle.push(hole);
      lastFull[onLeft ? 0 : 1] = hole;
    }
    onLeft = !onLeft;
  }
  return needle;
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
