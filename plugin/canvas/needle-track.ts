/**
 * The needle's track: a plan's sewing laid out flat, so that any stitch is found by its number.
 *
 * A stitch is what `countStitches` counts: every sewn movement, and where a strand is tied in one more, the first
 * dive of the needle, which has no length. Stitches are numbered from 0; after `n` of them, stitches 0 to n - 1
 * are sewn.
 */
import type { Point } from "../../core/geometry/types.ts";
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan, SewnRole } from "../../core/plan/types.ts";

/** Consecutive stitches of one step of the sewing. */
export interface TrackSpan {
  /** Number of its first stitch, and of the first one after it. */
  readonly first: number;
  readonly end: number;
  readonly role: SewnRole;
  readonly block: number;
  readonly strand: number;
  /** A tie belongs to the piece that it holds down; a connector to none. */
  readonly piece?: string;
  readonly connector?: string;
  /** Of its thread, `#rrggbb`. */
  readonly colour: string;
}

export interface NeedleTrack {
  readonly count: number;
  /** Four numbers a stitch, in millimetres: where it starts (x, y) and where it ends. */
  readonly ends: Float32Array;
  /** In needle order, without gaps. */
  readonly spans: readonly TrackSpan[];
}

const tracks = new WeakMap<Plan, NeedleTrack>();

/** The track of a plan; worked out once for each. */
export function trackOf(plan: Plan): NeedleTrack {
  const known = tracks.get(plan);
  if (known !== undefined) return known;
  const track = layFlat(plan);
  tracks.set(plan, track);
  return track;
}

const NO_COLOUR = "#000000";

function layFlat({ sewing, pieces }: Plan): NeedleTrack {
  const steps = sewing.filter(isSewn);
  const stitchesIn = ({ role, points }: (typeof steps)[number]) =>
    Math.max(0, points.length / 2 - 1 + (role === "tie-in" ? 1 : 0));
  const count = steps.reduce((sum, step) => sum + stitchesIn(step), 0);
  const ends = new Float32Array(4 * count);
  const owners = ownersOf(steps);
  const colourOf = new Map(pieces.map(({ id, colour }) => [id, colour]));
  const blockColours = new Map<number, string>();
  steps.forEach(({ block }, k) => {
    const colour = colourOf.get(owners[k] ?? "");
    if (colour !== undefined) blockColours.set(block, colour);
  });

  let stitch = 0;
  const spans = steps.map((step, k): TrackSpan => {
    const { role, block, strand, connector, points } = step;
    const first = stitch;
    const add = (from: number, to: number): void => {
      ends[4 * stitch] = points[from];
      ends[4 * stitch + 1] = points[from + 1];
      ends[4 * stitch + 2] = points[to];
      ends[4 * stitch + 3] = points[to + 1];
      stitch++;
    };
    if (role === "tie-in" && points.length >= 2) add(0, 0);
    for (let i = 0; i + 3 < points.length; i += 2) add(i, i + 2);
    const piece = role === "connector" ? undefined : owners[k];
    return {
      first,
      end: stitch,
      role,
      block,
      strand,
      ...(piece === undefined ? {} : { piece }),
      ...(connector === undefined ? {} : { connector }),
      colour: blockColours.get(block) ?? NO_COLOUR,
    };
  });
  return { count, ends, spans };
}

/** The piece that each step belongs to: its own, else of a tie-in the next piece that is sewn, of all else the last. */
function ownersOf(steps: readonly { role: SewnRole; piece?: string }[]): (string | undefined)[] {
  const owners = steps.map(({ piece }) => piece);
  for (let k = steps.length - 2; k >= 0; k--) {
    if (steps[k].role === "tie-in") owners[k] ??= owners[k + 1];
  }
  for (let k = 1; k < steps.length; k++) {
    if (steps[k].role !== "tie-in" && steps[k].role !== "connector") owners[k] ??= owners[k - 1];
  }
  return owners;
}

/** The span that holds a stitch, by bisection; `undefined` where there is no such stitch. */
export function spanOf({ spans, count }: NeedleTrack, stitch: number): TrackSpan | undefined {
  if (stitch < 0 || stitch >= count) return undefined;
  let low = 0;
  let high = spans.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (spans[middle].end > stitch) high = middle;
    else low = middle + 1;
  }
  return spans[low];
}

/** Where the needle is after `sewn` stitches; before the first, where it will start. The track must hold a stitch. */
export function needleAfter({ ends, count }: NeedleTrack, sewn: number): Point {
  const stitch = Math.min(Math.max(sewn, 0), count);
  return stitch === 0 ? [ends[0], ends[1]] : [ends[4 * stitch - 2], ends[4 * stitch - 1]];
}
