/**
 * Places in the sewing, and the steps from one to the next, for the player. A place is the number of stitches
 * that are sewn, from 0 to `stitchCount`. Stepping by piece or by strand stops wherever one has just been finished.
 */
import type { Point } from "../../core/geometry/types.ts";
import type { Plan, SewnRole } from "../../core/plan/types.ts";
import { type NeedleTrack, needleAfter, spanOf, type TrackSpan, trackOf } from "./needle-track.ts";

export type StepSize = "stitch" | "piece" | "strand";
export type Direction = "forward" | "back";

/** What the needle is doing. */
export interface NeedlePlace {
  /** Stitches sewn so far. */
  readonly at: number;
  /** Where the needle is, in millimetres. */
  readonly point: Point;
  /** Of the stitch sewn last; before the first, of that one. */
  readonly role: SewnRole;
  readonly piece?: string;
  readonly connector?: string;
  readonly block: number;
  readonly strand: number;
  readonly colour: string;
}

/** As many stitches as the plan's metrics tell. */
export const stitchCount = (plan: Plan): number => trackOf(plan).count;

/** The place one step on, or back; it never leaves the sewing. */
export function stepTo(plan: Plan, at: number, by: StepSize, direction: Direction): number {
  const track = trackOf(plan);
  const from = within(track, at);
  if (by === "stitch") return within(track, from + (direction === "forward" ? 1 : -1));
  const stops = stopsOf(track, by);
  return direction === "forward"
    ? (stops.find((stop) => stop > from) ?? track.count)
    : (stops.findLast((stop) => stop < from) ?? 0);
}

/** What the needle is doing after so many stitches; `null` where nothing is sewn at all. */
export function placeAt(plan: Plan, at: number): NeedlePlace | null {
  const track = trackOf(plan);
  const sewn = within(track, at);
  const span = spanOf(track, Math.max(0, sewn - 1));
  if (span === undefined) return null;
  const { role, piece, connector, block, strand, colour } = span;
  return {
    at: sewn,
    point: needleAfter(track, sewn),
    role,
    ...(piece === undefined ? {} : { piece }),
    ...(connector === undefined ? {} : { connector }),
    block,
    strand,
    colour,
  };
}

const within = ({ count }: NeedleTrack, at: number): number => Math.min(count, Math.max(0, Math.round(at)));

const stopsOfTrack = new WeakMap<NeedleTrack, Map<StepSize, readonly number[]>>();

/** The places at which a piece, or a strand, has just been finished, in ascending order. */
function stopsOf(track: NeedleTrack, by: "piece" | "strand"): readonly number[] {
  const known = stopsOfTrack.get(track) ?? new Map<StepSize, readonly number[]>();
  stopsOfTrack.set(track, known);
  const stops =
    known.get(by) ?? findStops(track, by === "piece" ? ({ piece }) => piece : ({ strand }) => strand);
  known.set(by, stops);
  return stops;
}

function findStops(
  { spans }: NeedleTrack,
  ownerOf: (span: TrackSpan) => string | number | undefined,
): readonly number[] {
  const stops: number[] = [];
  const owned = spans.filter((span) => ownerOf(span) !== undefined && span.end > span.first);
  owned.forEach((span, k) => {
    if (k + 1 === owned.length || ownerOf(owned[k + 1]) !== ownerOf(span)) stops.push(span.end);
  });
  return stops;
}
