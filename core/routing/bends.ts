/**
 * Bends: connectors that the artist leads through points of their choice. Routing first chooses entries, exits
 * and joins as ever; then each connector with a bend is led anew: from its exit through every point to its
 * entry, between one and the next by the shortest way under the cover, inside its edge where there is room; where
 * no way is hidden, straight, or by the nearest cover where less shows that way. Where thread would show that way, ends
 * that are not pinned may move to the nearest points of their pieces.
 *
 * A bend is a wish, and hiding comes first: what shows never costs more than the jump threshold (or than it would
 * without the bend). Such a bend is passed over, and a finding says so.
 */
import type { Bend, Piece } from "../artwork/types.ts";
import { COVER_GAP_MM } from "../constants.ts";
import type { Finding } from "../findings.ts";
import { clipLine } from "../geometry/clip-line.ts";
import { boxOf, distance, growBox, nearestFraction } from "../geometry/point.ts";
import { polylineLength } from "../geometry/polyline.ts";
import { nearestOnEdge, regionContains } from "../geometry/region.ts";
import { buildPathFinder } from "../geometry/shortest-path.ts";
import type { Point, Polyline, Region } from "../geometry/types.ts";
import type { Memory } from "../memory.ts";
import type { Stitcher } from "../techniques/types.ts";
import { insideBy } from "./cover.ts";
import { inlandOf } from "./inland.ts";
import type { Join, JoinTask, Leg } from "./joins.ts";
import type { Routes } from "./types.ts";

/** The cover is built this far around the points of a bend. */
const WINDOW_MM = 6;
/** Stretches shorter than this are no stitch. */
const NOTHING_MM = 1e-6;

/** What bends need to know of the sequence that was routed. */
export interface BendGround {
  readonly sequence: { readonly pieces: readonly Piece[] };
  readonly stitchers: readonly Stitcher[];
  readonly memory: Memory;
  /** One record for each place in the order, the same wherever the same pieces follow. */
  readonly later: readonly object[];
  readonly entryPins: ReadonlyMap<string, Point>;
  readonly exitPins: ReadonlyMap<string, Point>;
  readonly taskFor: (i: number, bridged: boolean) => JoinTask;
}

/** The routes with every bend that can be followed, and findings about the others. Of two for one connector the later counts. */
export function bendRoutes(
  routes: Routes,
  bends: readonly Bend[],
  ground: BendGround,
): { routes: Routes; findings: readonly Finding[] } {
  if (bends.length === 0) return { routes, findings: [] };
  const findings: Finding[] = [];
  const [entries, exits, joins] = [[...routes.entries], [...routes.exits], [...routes.joins]];
  for (const bend of bends) {
    const i = placeOf(bend, ground.sequence.pieces);
    const join = i < 0 ? null : joins[i];
    if (!join || join.kind === "meet") {
      findings.push(unused(bend, i < 0 ? "apart" : join ? "meeting" : "cut"));
      continue;
    }
    const bent = bentJoin(i, join, bend, ground);
    const { jumpThresholdMm, hopCost } = ground.taskFor(i, false);
    const cost = costOfLegs(bent, hopCost);
    if (cost >= jumpThresholdMm && cost > costOfLegs(join, hopCost)) {
      findings.push(exposed(bend, ground.sequence.pieces[i].id, bent.exposedMm));
      continue;
    }
    joins[i] = { ...bent, bend, ...(join.wished ? { wished: true } : {}) };
    exits[i] = bent.exit;
    entries[i + 1] = bent.entry;
  }
  return { routes: { ...routes, entries, exits, joins }, findings };
}

/** The piece that the connector leaves; −1 where the other one does not follow it. */
const placeOf = (bend: Bend, pieces: readonly Piece[]): number =>
  pieces.findIndex(
    (piece, i) =>
      i + 1 < pieces.length &&
      bend.from.some((id) => isCalled(piece, id)) &&
      isCalled(pieces[i + 1], bend.to),
  );

const isCalled = ({ id, members }: Piece, name: string): boolean =>
  id === name || members?.includes(name) === true;

/** The connector after piece i led through the points: with its ends where they were, else where less shows. */
function bentJoin(i: number, { exit, entry }: Join, { through }: Bend, ground: BendGround): Join {
  const { sequence, stitchers, memory, later, exitPins, entryPins } = ground;
  const [piece, next] = [sequence.pieces[i], sequence.pieces[i + 1]];
  const exits = exitPins.has(piece.id) ? [exit] : [exit, stitchers[i].snap(through[0])];
  const entries = entryPins.has(next.id)
    ? [entry]
    : [entry, stitchers[i + 1].snap(through[through.length - 1])];
  return memory.recall(
    `bend ${exits.join(" ")} ${entries.join(" ")} ${through.join(" ")}`,
    [piece, later[i + 1]],
    () => {
      const lead = leaderFor(ground.taskFor(i, false), [...exits, ...through, ...entries]);
      let best: Join | null = null;
      for (const from of exits)
        for (const to of entries) {
          const join = lead([from, ...through, to]);
          if (best === null || join.exposedMm < best.exposedMm - COVER_GAP_MM) best = join;
          if (best.exposedMm === 0) return best;
        }
      return best!;
    },
  );
}

/** Leads thread from stop to stop within a window around all points it may have to pass. */
function leaderFor(task: JoinTask, points: Polyline): (stops: Polyline) => Join {
  const window = growBox(boxOf(points), WINDOW_MM);
  const members = task.cover.members(task.firstLater, window);
  const closed = task.cover.closedUnion(members, window);
  const open = task.cover.openUnion(members, window);
  const quiet = members.filter((k) => !task.showsThrough(k));
  const quietCover = quiet.length === members.length ? closed : task.cover.closedUnion(quiet, window);
  const inside = buildPathFinder(insideBy(closed, task.tuckMarginMm));
  const anywhere = buildPathFinder(closed);
  const inland = inlandOf(closed, 0, task.tuckMarginMm);
  const tuckedLeg = (from: Point, to: Point): Leg[] | null => {
    const along = anywhere.shortestPath(from, to);
    return along && [{ points: inland(along.points), exposed: false }];
  };
  /** By the nearest cover at either end. */
  const underCover = (from: Point, to: Point): Leg[] | null => {
    if (open.length === 0) return null;
    const covered = (p: Point) => (regionContains(open, p) ? p : nearestOnEdge(open, p).point);
    const [start, end] = [covered(from), covered(to)];
    const way = tuckedLeg(start, end);
    return way && [...straight(from, start, open), ...way, ...straight(end, to, open)];
  };
  return (stops) => {
    let keepsMargin = true;
    const legs = stops.slice(1).flatMap((to, k): Leg[] => {
      const from = stops[k];
      if (distance(from, to) < NOTHING_MM) return [];
      const full = inside.shortestPath(from, to);
      if (full) return [{ points: full.points, exposed: false }];
      keepsMargin = false;
      return tuckedLeg(from, to) ?? shownLess(straight(from, to, open), underCover(from, to));
    });
    const tucked = legs.filter((leg) => !leg.exposed).map(({ points }) => points);
    const exposedMm = shownIn(legs);
    return {
      kind: exposedMm === 0 ? "tucked" : "hop",
      exit: stops[0],
      entry: stops[stops.length - 1],
      legs,
      tuckedMm: lengthOf(tucked),
      exposedMm,
      marginMm: keepsMargin ? task.tuckMarginMm : 0,
      shadowMm:
        quietCover === closed
          ? 0
          : Math.max(0, lengthOf(tucked) - lengthOf(tucked.flatMap((line) => clipLine(line, quietCover)))),
    };
  };
}

/** Straight across, told apart by what lies over it. Gaps that the drawing's own tolerance leaves open show nothing. */
function straight(from: Point, to: Point, cover: Region): Leg[] {
  const length = distance(from, to);
  if (length < NOTHING_MM) return [];
  const along = (p: Point) => nearestFraction(p, from, to);
  const hidden = clipLine([from, to], cover)
    .map((part) => [along(part[0]), along(part[part.length - 1])].sort((a, b) => a - b))
    .sort((a, b) => a[0] - b[0]);
  const at = (t: number): Point => [from[0] + (to[0] - from[0]) * t, from[1] + (to[1] - from[1]) * t];
  const legs: Leg[] = [];
  let done = 0;
  const goTo = (t: number, exposed: boolean): void => {
    if ((t - done) * length < NOTHING_MM) return;
    legs.push({ points: [at(done), t === 1 ? to : at(t)], exposed });
    done = t;
  };
  for (const [start, end] of hidden) {
    goTo(start, (start - done) * length > COVER_GAP_MM);
    goTo(end, false);
  }
  goTo(1, (1 - done) * length > COVER_GAP_MM);
  return legs;
}

const shownLess = (legs: Leg[], others: Leg[] | null): Leg[] =>
  others && shownIn(others) < shownIn(legs) ? others : legs;

const shownIn = (legs: readonly Leg[]): number =>
  lengthOf(legs.filter((leg) => leg.exposed).map(({ points }) => points));

const costOfLegs = ({ legs }: Join, hopCost: JoinTask["hopCost"]): number =>
  legs.reduce((sum, leg) => sum + (leg.exposed ? costOfLine(leg.points, hopCost) : 0), 0);

const costOfLine = (line: Polyline, hopCost: JoinTask["hopCost"]): number =>
  line.slice(1).reduce((sum, to, k) => sum + hopCost(line[k], to), 0);

const lengthOf = (lines: readonly Polyline[]): number =>
  lines.reduce((sum, line) => sum + polylineLength(line), 0);

const REASONS = {
  apart: (from: string, to: string) => `${to} is not sewn right after ${from} any more`,
  meeting: (from: string, to: string) => `${from} and ${to} meet, and nothing lies between them`,
  cut: (from: string, to: string) => `the thread is cut between ${from} and ${to}`,
} as const;

const unused = (bend: Bend, why: keyof typeof REASONS): Finding => ({
  code: "bend-unused",
  severity: "info",
  piece: bend.from[0],
  at: bend.through[0],
  message: `The bent connector from ${bend.from[0]} to ${bend.to} is not used: ${REASONS[why](bend.from[0], bend.to)}.`,
  remedy: `Take the bend away, or bring the two back together in the order.`,
});

const exposed = (bend: Bend, from: string, exposedMm: number): Finding => ({
  code: "bend-exposed",
  severity: "warning",
  piece: from,
  at: bend.through[0],
  message: `Led where you bent it, the thread from ${from} to ${bend.to} would stay in sight for ${exposedMm.toFixed(1)} mm; it takes its own way.`,
  remedy: "Bend it where a piece that is sewn later hides it, or draw one over the way.",
});
