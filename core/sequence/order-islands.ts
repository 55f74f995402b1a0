/**
 * The order of *islands*: separate areas of one element in one colour, which stand one after the other in paint
 * order. None lies on another, so any order among them leaves the picture as it is; but some islands can be joined
 * by a hop or under later pieces, and others can't.
 *
 * An order costs what its hops do, and for every strand as much as the dearest hop. What it costs that one island
 * follows another hardly depends on the rest, so the best order is the cheapest path through all of them
 * (`sequence.ts`), from the piece sewn before them and to the one after where those have their colour. The strands of
 * that path then follow one another as they were drawn: no two islands are parted only so that the thread between them
 * is cut. The given order stays unless another costs less.
 */

import type { Piece } from "../artwork/types.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import { bodyOf } from "../routing/body.ts";
import { hopLimitMm, weighHops } from "../routing/hops.ts";
import { measureNearness, type Nearness } from "../routing/nearness.ts";
import type { Settings } from "../settings.ts";
import { coverOf } from "../techniques/cover-of.ts";
import { type IslandWays, islandWays, leastCostsFrom } from "./island-ways.ts";
import { sequence } from "./sequence.ts";
import type { Sequence } from "./types.ts";

/** An order that is better by no more than the drawing's tolerance is as good. */
const SAME_MM = 0.05;
/** So many islands that can be joined stay in their order: what to weigh grows with the square of them. */
const MOST_WEIGHED = 1500;
/** How hard to try where there are too many orders to try all: some thousandths of a second. */
const EFFORT = 0.02;

/** The sequence with the islands of each element in their best order. */
export function orderIslands(given: Sequence, settings: Settings, memory: Memory = NO_MEMORY): Sequence {
  const groups = islandsIn(given.pieces);
  if (groups.length === 0) return given;
  const limitMm = hopLimitMm(settings);
  const bodies = given.pieces.map((piece) => memory.recall("body", [piece], () => bodyOf(piece)));
  const nearness = measureNearness(bodies, weighHops(given.pieces, settings), limitMm);
  const covers = given.pieces.map((piece) => coverOf(piece) !== null);
  const pieces = [...given.pieces];
  for (const islands of groups) {
    const { colour } = given.pieces[islands.from];
    const order = bestOrder(islands, stepCosts(islands, nearness, colour, covers, limitMm));
    for (const [n, k] of order.entries()) pieces[islands.from + n] = given.pieces[k];
  }
  return { ...given, pieces };
}

/** Islands stand from piece `from` to piece `to`, one past the last. */
interface Islands {
  readonly from: number;
  readonly to: number;
  /** The pieces sewn right before and after, where they have the same colour. */
  readonly before: number | undefined;
  readonly after: number | undefined;
}

/** All groups of islands whose order may matter. */
function islandsIn(pieces: readonly Piece[]): Islands[] {
  const groups: Islands[] = [];
  for (let from = 0, to = 1; from < pieces.length; from = to, to++) {
    while (to < pieces.length && areIslands(pieces[from], pieces[to])) to++;
    const before = pieces[from - 1]?.colour === pieces[from].colour ? from - 1 : undefined;
    const after = pieces[to]?.colour === pieces[from].colour ? to : undefined;
    const ends = Number(before !== undefined) + Number(after !== undefined);
    if (to - from > 1 && to - from + ends > 2) groups.push({ from, to, before, after });
  }
  return groups;
}

/** Of one element and one colour. Whoever names a strand for it has the order in hand. */
const areIslands = (a: Piece, b: Piece): boolean =>
  a.element === b.element &&
  a.paint === b.paint &&
  a.colour === b.colour &&
  a.copy === b.copy &&
  a.overrides.strand === undefined;

/** What it costs that a piece follows another. */
type StepCost = (last: number, next: number, sewn: (k: number) => boolean) => number;

interface StepCosts {
  /** What nothing can join: a strand. */
  readonly strandCost: number;
  readonly between: StepCost;
  /**
   * To all pieces in reach of one, with all islands sewn, none of which then covers anything: a step never costs more.
   * Others may come between two that are better not joined.
   */
  readonly from: (last: number) => ReadonlyMap<number, number>;
}

function stepCosts(
  islands: Islands,
  nearness: Nearness,
  colour: string,
  covers: readonly boolean[],
  limitMm: number,
): StepCosts {
  let known: IslandWays | undefined;
  const isLater = (k: number) => k >= islands.to && covers[k];
  const costsFrom = (last: number, isOpen: (k: number) => boolean) => {
    known ??= islandWays(nearness, colour, endsOf(islands), isLater, limitMm);
    return leastCostsFrom(known, last, isOpen, limitMm);
  };
  return {
    strandCost: limitMm,
    between: (last, next, sewn) =>
      nearness.meet(last, next) ? 0 : (costsFrom(last, (k) => covers[k] && !sewn(k)).get(next) ?? limitMm),
    from: (last) => costsFrom(last, () => false),
  };
}

function bestOrder(islands: Islands, steps: StepCosts): readonly number[] {
  const { from, to } = islands;
  const given = placesOf(islands);
  const givenCost = costOfOrder(given, islands, steps.between);
  if (givenCost <= SAME_MM) return given;
  const stepsFrom = rememberingEach(steps.from);
  const step = (last: number, next: number): number => stepsFrom(last).get(next) ?? steps.strandCost;
  const all = endsOf(islands);
  const joined = joinedAmong(all, stepsFrom);
  if (joined.length > MOST_WEIGHED) return given;
  const path = cheapestPath(islands, all, joined, step, steps.strandCost);
  const strands = strandsOf(path, (last, next) => stepsFrom(last).has(next));
  const orders = [asDrawn(strands, islands), path.filter((k) => k >= from && k < to)];
  const costs = orders.map((order) => costOfOrder(order, islands, steps.between));
  const least = Math.min(...costs);
  return least < givenCost - SAME_MM ? orders[costs.indexOf(least)] : given;
}

/** What an order of the islands costs, with the steps to them and from them. */
function costOfOrder(order: readonly number[], { from, to, before, after }: Islands, stepCost: StepCost) {
  const sewn = new Set<number>();
  let cost = 0;
  let last = before;
  for (const k of [...order, ...listed(after)]) {
    if (last !== undefined) cost += stepCost(last, k, (other) => other < from || sewn.has(other));
    if (k < to) sewn.add(k);
    last = k;
  }
  return cost;
}

/** The islands in the order given, with the pieces before and after. */
const endsOf = (islands: Islands): readonly number[] => [
  ...listed(islands.before),
  ...placesOf(islands),
  ...listed(islands.after),
];

const placesOf = ({ from, to }: Islands): readonly number[] =>
  Array.from({ length: to - from }, (_, n) => from + n);

const listed = (k: number | undefined): readonly number[] => (k === undefined ? [] : [k]);

/** The work with its result for each number remembered. */
function rememberingEach<T>(work: (k: number) => T): (k: number) => T {
  const known = new Map<number, T>();
  return (k) => {
    const result = known.get(k) ?? work(k);
    known.set(k, result);
    return result;
  };
}

/** The pieces that a hop leads to or from, in the order given. */
function joinedAmong(
  all: readonly number[],
  stepsFrom: (last: number) => ReadonlyMap<number, number>,
): readonly number[] {
  const among = new Set(all);
  const joined = new Set<number>();
  for (const last of all) {
    for (const next of stepsFrom(last).keys()) {
      if (next === last || !among.has(next)) continue;
      joined.add(last).add(next);
    }
  }
  return all.filter((k) => joined.has(k));
}

/** A path through the islands, and the pieces before and after; those that nothing joins stand at its end. */
function cheapestPath(
  { before, after }: Islands,
  all: readonly number[],
  joined: readonly number[],
  step: (last: number, next: number) => number,
  strandCost: number,
): readonly number[] {
  const costs = joined.map((last) => joined.map((next) => (last === next ? strandCost : step(last, next))));
  const placeOf = (k: number | undefined): number | undefined => {
    const place = k === undefined ? -1 : joined.indexOf(k);
    return place < 0 ? undefined : place;
  };
  const { order } = sequence(costs, [], { first: placeOf(before), last: placeOf(after), effort: EFFORT });
  const path = order.map((place) => joined[place]);
  const isOnPath = new Set(path);
  return [...path, ...all.filter((k) => !isOnPath.has(k))];
}

/** A path cut where nothing joins one piece to the next. */
function strandsOf(path: readonly number[], isJoined: (last: number, next: number) => boolean): number[][] {
  const strands: number[][] = [];
  for (const k of path) {
    const strand = strands.at(-1);
    if (strand !== undefined && isJoined(strand[strand.length - 1], k)) strand.push(k);
    else strands.push([k]);
  }
  return strands;
}

/** The islands, strand after strand: first the one that goes on from before, last the one that leads on, the others as drawn. */
function asDrawn(strands: readonly number[][], { from, to, before, after }: Islands): number[] {
  const rank = (strand: readonly number[]): number => {
    if (before !== undefined && strand[0] === before) return Number.NEGATIVE_INFINITY;
    if (after !== undefined && strand[strand.length - 1] === after) return Number.POSITIVE_INFINITY;
    return Math.min(...strand);
  };
  return [...strands]
    .sort((a, b) => rank(a) - rank(b))
    .flat()
    .filter((k) => k >= from && k < to);
}
