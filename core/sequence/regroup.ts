/**
 * The best legal order: fewest colour blocks, then fewest strands, then least exposed thread, then short ways.
 *
 * Up to `EXACT_PIECES` the order is the best there is (`order-search.ts` over all pieces). Beyond, blocks come
 * from `colour-blocks.ts`, nearly always proven fewest, and each block is ordered for itself, exactly where it is
 * small and the picture stays what it is (`order-change.ts`). Paint order is always among the candidates, and stays
 * where fewer blocks would cost more strands: the result has never more of either.
 */
import type { Piece } from "../artwork/types.ts";
import type { Point } from "../geometry/types.ts";
import type { Settings } from "../settings.ts";
import { type Bits, clearBit, emptyBits, setBit } from "./bits.ts";
import { fewestBlocks, leastVisits } from "./colour-blocks.ts";
import { type OrderChange, weighChange } from "./order-change.ts";
import { countOf, type OrderCosts, weighOrders } from "./order-costs.ts";
import { type OrderTask, searchOrder } from "./order-search.ts";
import { type Precedence, precedenceOf } from "./precedence.ts";
import { sequence } from "./sequence.ts";

/** With so many pieces or fewer, every legal order is weighed. */
export const EXACT_PIECES = 11;
/** A block of more pieces is joined from neighbour to neighbour instead of being searched. */
const SEARCHED_PIECES = 250;
/** States kept for a block of one piece; larger blocks keep fewer. */
const BEAM = 4000;

/** How hard to try on a block that is too large to search in full. */
const BLOCK_EFFORT = 0.1;

export interface Regrouped {
  readonly pieces: readonly Piece[];
  /** No legal order has fewer. */
  readonly blocksLowerBound: number;
  /** Of up to `EXACT_PIECES` pieces: none with so few blocks has fewer. */
  readonly strandsLowerBound: number;
}

export interface RegroupOptions {
  /** Lists of piece numbers, ascending, whose own order is kept. */
  readonly chains?: readonly (readonly number[])[];
  /** Where sewing should begin and work outwards from; shortest ways where absent. */
  readonly from?: Point;
}

/** Puts pieces that stand in paint order into the best order found. */
export function regroup(
  pieces: readonly Piece[],
  settings: Settings,
  options: RegroupOptions = {},
): Regrouped {
  if (pieces.length === 0) return { pieces, blocksLowerBound: 0, strandsLowerBound: 0 };
  const precedence = precedenceOf(pieces, settings.pullMm, options.chains);
  const weigh = weighOrders(pieces, settings, options.from);
  const blocks = fewestBlocks(weigh.colours, precedence);
  const painted = pieces.map((_, k) => k);
  const isExact = pieces.length <= EXACT_PIECES;
  const found = isExact
    ? searchAll(pieces, precedence, weigh).order
    : orderBlocks(blocks.order, precedence, weigh, weighChange(pieces, settings, weigh));
  const [cost, paintedCost] = [weigh.costOf(found), weigh.costOf(painted)];
  const { blocks: blockCount, strands } = countOf(cost);
  const costsNoStrand = strands <= countOf(paintedCost).strands;
  return {
    pieces: (costsNoStrand && cost < paintedCost ? found : painted).map((k) => pieces[k]),
    blocksLowerBound: isExact ? blockCount : blocks.lowerBound,
    strandsLowerBound:
      isExact && costsNoStrand
        ? strands
        : Math.max(blocks.lowerBound, leastStrands(pieces.length, precedence, weigh)),
  };
}

/**
 * A bound on the strands of any legal order: pieces of one colour that no order can join, directly or by way of
 * others, belong to different strands, and a strand ends whenever its block does.
 */
function leastStrands(size: number, precedence: Precedence, { colours, joinable }: OrderCosts): number {
  const group = Array.from({ length: size }, (_, k) => k);
  const find = (k: number): number => (group[k] === k ? k : find(group[k]));
  for (let i = 0; i < size; i++) {
    for (let j = i + 1; j < size; j++) {
      if (colours[i] !== colours[j] || find(i) === find(j)) continue;
      if (joinable(i, j, precedence)) group[find(j)] = find(i);
    }
  }
  const roots = [...new Set(group.map((_, k) => find(k)))];
  const groups = group.map((_, k) => roots.indexOf(find(k)));
  return leastVisits(groups, colours, precedence, emptyBits(size));
}

function searchAll(pieces: readonly Piece[], precedence: Precedence, weigh: OrderCosts) {
  const task: OrderTask = {
    precedence,
    colours: weigh.colours,
    stepCost: weigh.stepCost,
    left: () => 0,
    staysInColour: false,
    width: Number.POSITIVE_INFINITY,
  };
  return searchOrder(
    pieces.map((_, k) => k),
    emptyBits(pieces.length),
    -1,
    task,
  );
}

/** Orders each block of a block plan for itself, knowing what was sewn before it. */
function orderBlocks(
  order: readonly number[],
  precedence: Precedence,
  weigh: OrderCosts,
  change: OrderChange,
): number[] {
  const sewn = emptyBits(order.length);
  const result: number[] = [];
  let { mostMm } = change;
  for (let from = 0; from < order.length; ) {
    let to = from + 1;
    while (to < order.length && weigh.colours[order[to]] === weigh.colours[order[from]]) to++;
    const block = order.slice(from, to);
    const last = result.length > 0 ? result[result.length - 1] : -1;
    const found = orderBlock(block, sewn, last, precedence, weigh, { ...change, mostMm });
    mostMm -= costFrom(found, sewn, last, change.changedMm);
    for (const k of found) setBit(sewn, k);
    result.push(...found);
    from = to;
  }
  return result;
}

type StepCost = OrderCosts["stepCost"];

function orderBlock(
  block: readonly number[],
  sewn: Bits,
  last: number,
  precedence: Precedence,
  weigh: OrderCosts,
  change: OrderChange,
): readonly number[] {
  if (block.length > SEARCHED_PIECES) return neighbourToNeighbour(block, precedence, weigh);
  const task: OrderTask = {
    precedence,
    colours: weigh.colours,
    stepCost: weigh.stepCost,
    left: () => 0,
    staysInColour: false,
    width: Math.max(2, Math.floor(BEAM / (block.length * block.length))),
  };
  const found = searchOrder(block, sewn, last, task);
  const orders = [block, found.order];
  if (!found.proven) orders.push(sequencedBlock(block, sewn, precedence, weigh.stepCost));
  const cheapest = (some: readonly (readonly number[])[], step: StepCost): readonly number[] => {
    const costs = some.map((order) => costFrom(order, sewn, last, step));
    return some[costs.indexOf(Math.min(...costs))];
  };
  const best = cheapest(orders, weigh.stepCost);
  const changesLittle = (order: readonly number[]): boolean =>
    costFrom(order, sewn, last, change.changedMm) <= change.mostMm;
  if (changesLittle(best)) return best;
  for (const cost of change.costs) {
    const order = cheapest([block, best, sequencedBlock(block, sewn, precedence, cost)], cost);
    if (changesLittle(order)) return order;
  }
  return block;
}

/**
 * A block as a sequential ordering problem: what it costs that one piece follows another is taken with all of the
 * block but the two sewn, so that the true cost is never more.
 */
function sequencedBlock(
  block: readonly number[],
  sewn: Bits,
  { pairs }: Precedence,
  stepCost: StepCost,
): readonly number[] {
  const others = sewn.slice();
  for (const k of block) setBit(others, k);
  const costs = block.map((i) =>
    block.map((j) => {
      if (i === j) return Number.POSITIVE_INFINITY;
      const without = others.slice();
      clearBit(without, j);
      return stepCost(i, j, without);
    }),
  );
  const place = new Map(block.map((k, at) => [k, at]));
  const within = pairs.flatMap(([a, b]): [number, number][] => {
    const [from, to] = [place.get(a), place.get(b)];
    return from === undefined || to === undefined ? [] : [[from, to]];
  });
  const { order } = sequence(costs, within, { effort: BLOCK_EFFORT });
  return order.length === block.length ? order.map((at) => block[at]) : block;
}

function costFrom(order: readonly number[], before: Bits, last: number, stepCost: StepCost): number {
  const sewn = before.slice();
  let cost = 0;
  let at = last;
  for (const k of order) {
    cost += stepCost(at, k, sewn);
    setBit(sewn, k);
    at = k;
  }
  return cost;
}

/** From each piece on to one that it meets, in paint order where there is a choice. */
function neighbourToNeighbour(
  block: readonly number[],
  { directlyBefore, pairs }: Precedence,
  { nearness }: OrderCosts,
): number[] {
  const inBlock = new Set(block);
  const waiting = new Map(block.map((k) => [k, directlyBefore[k].filter((j) => inBlock.has(j)).length]));
  const after = new Map<number, number[]>();
  for (const [a, b] of pairs)
    if (inBlock.has(a) && inBlock.has(b)) after.set(a, [...(after.get(a) ?? []), b]);
  const order: number[] = [];
  let first = 0;
  let last = -1;
  while (order.length < block.length) {
    while (!waiting.has(block[first]) && first < block.length) first++;
    const near =
      last < 0
        ? undefined
        : nearness.neighbours(last).find((k) => waiting.get(k) === 0 && nearness.meet(last, k));
    let next = near;
    for (let at = first; next === undefined; at++) if (waiting.get(block[at]) === 0) next = block[at];
    waiting.delete(next);
    for (const k of after.get(next) ?? []) waiting.set(k, waiting.get(k)! - 1);
    order.push(next);
    last = next;
  }
  return order;
}
