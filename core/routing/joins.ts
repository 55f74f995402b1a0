/**
 * A join leads from a piece to the next of its block. Found for one pair at a time, best kind first:
 *
 * - `meet`: the two share a point, which is exit and entry at once, and nothing lies between.
 * - `tucked`: a way under the cover, as far inside its edge as any way can keep, up to the tuck margin.
 * - `blended`: on request, where nothing else leads through, along seams between finished pieces of its colour
 *   (`blend-joins.ts`).
 * - `hop`: as much under the cover as there is, over gaps that together stay below the jump threshold.
 *
 * Several joins are offered for a pair, spread over where the two can be left and entered; which one is sewn
 * is chosen for the whole strand at once (`choose-joins.ts`).
 */
import type { Bend } from "../artwork/types.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import { type Body, meetingPorts } from "./body.ts";
import type { Cover } from "./cover.ts";
import { hopOffer } from "./hop-joins.ts";
import { around, portLength, samplePorts, spread } from "./ports.ts";
import { tuckedOffer } from "./tucked-joins.ts";

/** A stretch of a connector: under the cover, or one stitch across a gap in it. */
export interface Leg {
  readonly points: Polyline;
  readonly exposed: boolean;
}

export interface Join {
  readonly kind: "meet" | "tucked" | "hop" | "blended";
  readonly exit: Point;
  readonly entry: Point;
  /** From exit to entry, end to end; empty for `meet`. */
  readonly legs: readonly Leg[];
  readonly tuckedMm: number;
  readonly exposedMm: number;
  /** Of a blended join: how much of it lies on a seam of its own colour. */
  readonly blendedMm?: number;
  readonly marginMm: number;
  /** How much of it lies only under thread so much lighter that it would show through. */
  readonly shadowMm: number;
  /** Where the artist led it another way. */
  readonly bend?: Bend;
  /** Sewn only because the artist asked for one strand. */
  readonly wished?: true;
}

/** The joins offered for one pair, and a way to look for better ones near one of them. */
export interface JoinOffer {
  readonly joins: readonly Join[];
  near(join: Join, spread: number): readonly Join[];
}

/** What a join may use: where it leaves and arrives, and what will hide it. */
export interface JoinTask {
  readonly from: Body;
  readonly to: Body;
  /** Whether later pieces lead from the one to the other without a gap. */
  readonly bridged: boolean;
  /** Pieces from this order on are still to come when the connector is sewn. */
  readonly firstLater: number;
  readonly cover: Cover;
  /** Whether the thread sewn here shows through that later piece. */
  readonly showsThrough: (k: number) => boolean;
  readonly tuckMarginMm: number;
  readonly jumpThresholdMm: number;
  /** What a hop of this thread costs straight from one point to another. */
  readonly hopCost: (from: Point, to: Point) => number;
}

/** Points offered along what two bodies share. */
const MEETING_POINTS = 8;

/** Joins for a pair, or `null` where the strand must break. */
export function findJoins(task: JoinTask): JoinOffer | null {
  const ports = meetingPorts(task.from, task.to);
  if (ports.length > 0) return meetingOffer(ports);
  return (task.bridged ? tuckedOffer(task) : null) ?? hopOffer(task);
}

function meetingOffer(ports: readonly Polyline[]): JoinOffer {
  const step = portLength(ports) / MEETING_POINTS;
  return {
    joins: spread(samplePorts(ports, MEETING_POINTS), MEETING_POINTS).map(meet),
    near: (join, reach) => around(ports, join.exit, step * reach).map(meet),
  };
}

const meet = (at: Point): Join => ({
  kind: "meet",
  exit: at,
  entry: at,
  legs: [],
  tuckedMm: 0,
  exposedMm: 0,
  marginMm: 0,
  shadowMm: 0,
});
