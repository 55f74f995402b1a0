/**
 * Routing: where each piece is entered and left, and what joins it to the next. Per block: offers for every
 * pair, a strand wherever pairs can be joined, the best choice over the whole strand, then the same choice
 * again among points nearer and nearer to those picked.
 */

import type { Bend, Piece, Pin } from "../artwork/types.ts";
import type { Finding } from "../findings.ts";
import { closeRing } from "../geometry/polyline.ts";
import { offset } from "../geometry/region.ts";
import type { Point, Polyline, Region } from "../geometry/types.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import { once } from "../once.ts";
import type { Sequence } from "../sequence/types.ts";
import type { Settings } from "../settings.ts";
import { coverOf } from "../techniques/cover-of.ts";
import type { Stitcher } from "../techniques/types.ts";
import { bendRoutes } from "./bends.ts";
import { blendOffer, type Finished } from "./blend-joins.ts";
import { type Body, bodyOf, type Gap, gapBetween, linesOf, pointBody } from "./body.ts";
import { strandsLowerBound } from "./bound.ts";
import { bestWay, breakBetween } from "./breaks.ts";
import { type Choice, chooseJoins, joinCost, sewCosts, TRAVEL_COST } from "./choose-joins.ts";
import { buildCover, type Cover } from "./cover.ts";
import { type GapWays, gapWaysAmong } from "./gap-ways.ts";
import { type HopCost, hopLimitMm, weighHops } from "./hops.ts";
import { findJoins, type Join, type JoinOffer, type JoinTask } from "./joins.ts";
import { costOfGap, isClosed, leastHopCost, measureNearness, type Nearness } from "./nearness.ts";
import { samplePorts } from "./ports.ts";
import { showsThrough } from "./shows-through.ts";
import type { Break, Routes } from "./types.ts";

/** Free ends of a strand are offered at this many points of the piece. */
const END_POINTS = 6;
/** Free ends keep this far inside an area: as far as the outermost row of a fill may lie from its outline. */
const END_INSET_MM = 0.4;
/** How far around each pick the second and third look go, as a share of the spacing of the first offers. */
const REFINEMENTS = [0.5, 0.25];

/** What holds for a sequence whatever the pins. */
interface Ground {
  readonly bodies: readonly Body[];
  /** What each piece hides, or `null`. */
  readonly areas: readonly (Region | null)[];
  readonly cover: Cover;
  readonly covers: readonly boolean[];
  readonly forced: readonly boolean[];
  readonly nearness: Nearness;
  readonly weigh: HopCost;
  readonly gapWays: () => GapWays;
  /** One record for each place in the order, the same wherever the same pieces follow. */
  readonly later: readonly object[];
}

interface Context extends Ground {
  readonly sequence: Sequence;
  readonly settings: Settings;
  readonly stitchers: readonly Stitcher[];
  readonly memory: Memory;
  readonly entryPins: ReadonlyMap<string, Point>;
  readonly exitPins: ReadonlyMap<string, Point>;
  readonly taskFor: (i: number, bridged: boolean) => JoinTask;
}

/**
 * Routes a sequence. `stitchers` run parallel to its pieces; pins are millimetres and snap to their piece.
 * The routes name every break with its reason.
 * Findings are about bends that could not be followed.
 */
export function routeSequence(
  sequence: Sequence,
  stitchers: readonly Stitcher[],
  pins: readonly Pin[],
  settings: Settings,
  memory: Memory = NO_MEMORY,
  bends: readonly Bend[] = [],
): { routes: Routes; strandsLowerBound: number; findings: readonly Finding[] } {
  const ground = memory.recall("ground", [sequence, settings], () => layGround(sequence, settings, memory));
  const context = prepare(sequence, stitchers, pins, settings, ground, memory);
  const offers = sequence.pieces.map((_, i) => (joinsNext(sequence, i) ? offerFor(context, i) : null));
  const bound = () =>
    strandsLowerBound(sequence, ground.covers, ground.forced, ground.nearness, hopLimitMm(settings));
  const routes = assemble(context, offers);
  // Seams are outside what connectivity of the cover can tell: each one followed saves a strand.
  const blended = routes.joins.filter((join) => join?.kind === "blended").length;
  const leastStrands = memory.recall("bound", [ground], bound) - blended;
  return { strandsLowerBound: leastStrands, ...bendRoutes(routes, bends, context) };
}

function layGround(sequence: Sequence, settings: Settings, memory: Memory): Ground {
  const { pieces } = sequence;
  const bodies = pieces.map((piece) => memory.recall("body", [piece], () => bodyOf(piece)));
  const areas = pieces.map(coverOf);
  const boxes = bodies.map((body) => body.box);
  const weigh = weighHops(pieces, settings);
  const later: object[] = [...pieces];
  for (let k = pieces.length - 1, rest: object = settings; k >= 0; rest = later[k--]) {
    later[k] = memory.recall("later", [pieces[k], rest], () => ({}));
  }
  return {
    bodies,
    areas,
    cover: buildCover(areas, boxes),
    covers: areas.map((area) => area !== null),
    forced: forcedJoins(sequence),
    nearness: measureNearness(bodies, weigh, hopLimitMm(settings)),
    weigh,
    gapWays: once(() => gapWaysAmong(bodies)),
    later,
  };
}

function prepare(
  sequence: Sequence,
  stitchers: readonly Stitcher[],
  pins: readonly Pin[],
  settings: Settings,
  ground: Ground,
  memory: Memory,
): Context {
  const { pieces } = sequence;
  const pinsAt = (point: Pin["point"]) =>
    new Map(
      pins.flatMap((pin): [string, Point][] => {
        const k = pieces.findIndex((piece) => piece.id === pin.piece);
        return pin.point === point && k >= 0 ? [[pin.piece, stitchers[k].snap(pin.at)]] : [];
      }),
    );
  const entryPins = pinsAt("entry");
  const exitPins = pinsAt("exit");
  const bodyAt = (k: number, pin: Point | undefined) => (pin ? pointBody(pin) : ground.bodies[k]);
  return {
    ...ground,
    sequence,
    settings,
    stitchers,
    memory,
    entryPins,
    exitPins,
    taskFor: (i, bridged) => ({
      bridged,
      from: bodyAt(i, exitPins.get(pieces[i].id)),
      to: bodyAt(i + 1, entryPins.get(pieces[i + 1].id)),
      firstLater: i + 1,
      cover: ground.cover,
      showsThrough: (k) => showsThrough(pieces[i].colour, pieces[k].colour),
      tuckMarginMm: settings.tuckMarginMm,
      jumpThresholdMm: hopLimitMm(settings),
      hopCost: (from, to) => ground.weigh(from, to, pieces[i].colour),
    }),
  };
}

const joinsNext = (sequence: Sequence, i: number): boolean =>
  i + 1 < sequence.pieces.length && sequence.pieces[i].colour === sequence.pieces[i + 1].colour;

/** `forced[i]`: the artist made pieces i and i + 1 one strand, by giving both, or pieces around them, its name. */
function forcedJoins({ pieces, blocks }: Sequence): boolean[] {
  const forced = new Array<boolean>(pieces.length).fill(false);
  for (const { start, end } of blocks) {
    const groups = new Map<string, number[]>();
    for (let k = start; k < end; k++) {
      const name = pieces[k].overrides.strand;
      if (name !== undefined) groups.set(name, [...(groups.get(name) ?? []), k]);
    }
    for (const members of groups.values()) {
      for (let k = members[0]; k < members[members.length - 1]; k++) forced[k] = true;
    }
  }
  return forced;
}

function offerFor(context: Context, i: number): JoinOffer | null {
  const { sequence, settings, later, forced, exitPins, entryPins, memory, nearness } = context;
  const [piece, next] = [sequence.pieces[i], sequence.pieces[i + 1]];
  const pinned = `${exitPins.get(piece.id) ?? ""} ${entryPins.get(next.id) ?? ""}`;
  const cost = memory.recall(`hop ${pinned}`, [piece, nearness], () => hopCostAfter(context, i));
  const isJoined = cost < hopLimitMm(settings);
  // A seam runs between finished pieces, and those may be any.
  const owners = [piece, later[i + 1], ...(isJoined || settings.blend === "never" ? [] : [nearness])];
  return memory.recall(`offer ${forced[i]} ${isJoined} ${pinned}`, owners, () => makeOffer(context, i, cost));
}

/** What is finished when the thread goes from piece i to the next; `null` where no seam is to be followed. */
function finishedAt({ sequence, settings, areas }: Context, i: number): Finished | null {
  if (settings.blend === "never") return null;
  const { colour } = sequence.pieces[i];
  return { areas, isOwn: (k) => sequence.pieces[k].colour === colour };
}

function makeOffer(context: Context, i: number, hopCost: number): JoinOffer | null {
  const task = context.taskFor(i, hopCost === 0);
  const offer = hopCost < hopLimitMm(context.settings) ? findJoins(task) : null;
  const finished = offer === null ? finishedAt(context, i) : null;
  const blended = finished && blendOffer(task, finished);
  return offer ?? blended ?? (context.forced[i] ? forcedOffer(task) : null);
}

/** What a hop from piece i to the next costs at least, each free to be left and entered anywhere but at its pins. */
function hopCostAfter(context: Context, i: number): number {
  const { sequence, covers, settings } = context;
  const { colour } = sequence.pieces[i];
  const under = (k: number) => k > i && covers[k];
  return leastHopCost(pinnedNearness(context, i), i, i + 1, colour, under, hopLimitMm(settings));
}

/** What is near, with piece i no more than the point at which it must be left, and a line after it than its entry. */
function pinnedNearness(
  { sequence, nearness, weigh, bodies, covers, exitPins, entryPins, settings }: Context,
  i: number,
): Nearness {
  const pins = new Map<number, Body>();
  const exit = exitPins.get(sequence.pieces[i].id);
  if (exit) pins.set(i, pointBody(exit));
  const entry = entryPins.get(sequence.pieces[i + 1].id);
  // From wherever an area is reached, its own stitches hide the way to its entry.
  if (entry && !covers[i + 1]) pins.set(i + 1, pointBody(entry));
  if (pins.size === 0) return nearness;
  const at = (k: number): Body => pins.get(k) ?? bodies[k];
  const isPinned = (k: number, l: number): boolean => pins.has(k) || pins.has(l);
  const gapOf = (k: number, l: number): Gap | null => gapBetween(at(k), at(l), hopLimitMm(settings));
  return {
    neighbours: nearness.neighbours,
    meet: (k, l) => (isPinned(k, l) ? isClosed(gapOf(k, l)) : nearness.meet(k, l)),
    hopCost: (k, l, colour) =>
      isPinned(k, l) ? costOfGap(gapOf(k, l), colour, weigh) : nearness.hopCost(k, l, colour),
  };
}

/** One strand because the artist says so: straight across, however long. */
function forcedOffer(task: JoinTask): JoinOffer | null {
  const gap = gapBetween(task.from, task.to, Number.MAX_VALUE);
  if (!gap) return null;
  const join: Join = {
    kind: "hop",
    exit: gap.from,
    entry: gap.to,
    legs: [{ points: [gap.from, gap.to], exposed: true }],
    tuckedMm: 0,
    exposedMm: gap.distance,
    marginMm: 0,
    shadowMm: 0,
    wished: true,
  };
  return { joins: [join], near: () => [] };
}

function assemble(context: Context, offers: readonly (JoinOffer | null)[]): Routes {
  const { blocks } = context.sequence;
  const entries: Point[] = [];
  const exits: Point[] = [];
  const joins: (Join | null)[] = [];
  const breaks: (Break | null)[] = [];
  for (const { start, end } of blocks) {
    for (let from = start; from < end; ) {
      let to = from + 1;
      while (to < end && offers[to - 1]) to++;
      const strand = routeStrand(context, from, to, offers);
      entries.push(...strand.entries);
      exits.push(...strand.exits);
      joins.push(...strand.joins, null);
      for (let k = from; k + 1 < to; k++) breaks.push(null);
      breaks.push(to < end ? breakAfter(context, to - 1) : null);
      from = to;
    }
  }
  return { entries, exits, joins, breaks };
}

function breakAfter(context: Context, i: number): Break {
  const { sequence, settings, covers, bodies, gapWays, weigh, later, memory } = context;
  const { pieces } = sequence;
  const way = memory.recall("best way", [pieces[i], later[i + 1]], () =>
    bestWay(covers, bodies, gapWays(), i),
  );
  return breakBetween(pieces, way, i, weigh, hopLimitMm(settings));
}

interface StrandRoute {
  readonly entries: readonly Point[];
  readonly exits: readonly Point[];
  /** One fewer than the pieces. */
  readonly joins: readonly Join[];
}

/** Pieces `from` to `to` − 1, joined throughout. */
function routeStrand(
  context: Context,
  from: number,
  to: number,
  offers: readonly (JoinOffer | null)[],
): StrandRoute {
  const pairs = offers.slice(from, to - 1) as JoinOffer[];
  const { memory } = context;
  /** What sewing piece `from + k` costs between the choices before it and those after it. */
  const sewing = (k: number, before: readonly Choice[], after: readonly Choice[]): Float64Array => {
    const stitcher = context.stitchers[from + k];
    return memory.recall("sewing", [stitcher, before, after], () =>
      sewCosts(before, after, (entry, exit) => TRAVEL_COST * stitcher.travelMm(entry, exit)),
    );
  };
  const startsFor = (points: readonly Point[], first: readonly Join[] | undefined): readonly Point[] =>
    first && isFreeLine(context, from, context.entryPins)
      ? memory.recall("starts", [points, first], () => [...points, ...first.map(({ exit }) => exit)])
      : points;
  const endsFor = (points: readonly Point[], last: readonly Join[] | undefined): readonly Point[] =>
    last && isFreeLine(context, to - 1, context.exitPins)
      ? memory.recall("ends", [points, last], () => [...points, ...last.map(({ entry }) => entry)])
      : points;
  const pick = (starts: readonly Point[], joins: readonly (readonly Join[])[], ends: readonly Point[]) => {
    const choicesAt = (points: readonly Point[]) =>
      memory.recall("choices", [points], () => points.map(endChoice));
    const layers = [
      choicesAt(starts),
      ...joins.map((some) => memory.recall("choices", [some], () => some.map(joinChoice))),
      choicesAt(ends),
    ];
    const { picks } = chooseJoins(
      layers,
      layers.slice(1).map((after, k) => sewing(k, layers[k], after)),
    );
    return {
      start: starts[picks[0]],
      joins: joins.map((some, k) => some[picks[k + 1]]),
      end: ends[picks[picks.length - 1]],
    };
  };
  const offered = pairs.map((offer) => offer.joins);
  let picked = pick(
    startsFor(endPoints(context, from, context.entryPins), offered[0]),
    offered,
    endsFor(endPoints(context, to - 1, context.exitPins), offered.at(-1)),
  );
  for (const reach of REFINEMENTS) {
    const joins = picked.joins.map((join, k) =>
      memory.recall(`near ${reach}`, [join, pairs[k]], () => [join, ...pairs[k].near(join, reach)]),
    );
    const alone = (point: Point) => memory.recall("alone", [point], () => [point]);
    picked = pick(startsFor(alone(picked.start), joins[0]), joins, endsFor(alone(picked.end), joins.at(-1)));
  }
  return {
    entries: [picked.start, ...picked.joins.map((join) => join.entry)],
    exits: [...picked.joins.map((join) => join.exit), picked.end],
    joins: picked.joins,
  };
}

const endChoice = (at: Point): Choice => ({ exit: at, entry: at, cost: 0 });

const joinChoice = (join: Join): Choice => ({
  exit: join.exit,
  entry: join.entry,
  cost: joinCost(join),
});

/** Where a strand may begin or end on piece k: the pin, else points all round it. */
function endPoints(context: Context, k: number, pins: ReadonlyMap<string, Point>): readonly Point[] {
  const piece = context.sequence.pieces[k];
  const pin = pins.get(piece.id);
  if (pin) return [pin];
  const stitcher = context.stitchers[k];
  return context.memory.recall("end points", [piece, stitcher], () =>
    samplePorts(outlinesOf(piece), END_POINTS).map((p) => stitcher.snap(p)),
  );
}

/**
 * Line work is even all along where it ends where it began, so there the strand's free end is also offered at the
 * points at which the line is joined.
 */
const isFreeLine = (context: Context, k: number, pins: ReadonlyMap<string, Point>): boolean => {
  const piece = context.sequence.pieces[k];
  return linesOf(piece) !== null && !pins.has(piece.id);
};

/**
 * A run has its lines, with their ends; anything else its outer edge, drawn in so far that ties lie on the stitches and
 * none sticks out.
 */
function outlinesOf(piece: Piece): readonly Polyline[] {
  const lines = linesOf(piece);
  if (lines !== null) return lines;
  const inside = offset(piece.region, -END_INSET_MM);
  return (inside.length > 0 ? inside : piece.region.slice(0, 1)).map(({ outer }) => closeRing(outer));
}
