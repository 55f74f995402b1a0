/**
 * The fewest colour blocks that precedence allows.
 *
 * Once a colour is on the needle, sewing every piece of it that may come now never costs a block: an order that
 * leaves one for later can have it moved forward. So a plan of blocks is a string of colours, and a string leads
 * to one set of pieces sewn. The shortest string is found by A* over those sets (Hart, Nilsson and Raphael
 * 1968). The bound that guides it: along any chain of pieces that must follow one another, a colour has to come
 * back each time another stands between; no block serves two colours, so the most returns of each colour add up.
 */
import TinyQueue from "tinyqueue";
import { type Bits, bitsKey, containsBits, emptyBits, hasBit, setBit } from "./bits.ts";
import type { Precedence } from "./precedence.ts";

export interface ColourBlocks {
  /** All pieces, block after block; within a block in paint order. */
  readonly order: readonly number[];
  readonly blocks: number;
  /** No order has fewer blocks. */
  readonly lowerBound: number;
}

interface State {
  readonly sewn: Bits;
  readonly count: number;
  readonly last: number;
  readonly blocks: number;
  /** Blocks so far and the bound on those still to come. */
  readonly promise: number;
  readonly came: State | null;
  readonly added: readonly number[];
}

/** Steps (sets opened times pieces) before A* settles for a promising string; enough for all but a few real drawings. */
const MOST_STEPS = 400_000;

/** `colours[k]` is the colour of piece k, as a number from 0. */
export function fewestBlocks(colours: readonly number[], precedence: Precedence): ColourBlocks {
  const size = colours.length;
  const start: State = {
    sewn: emptyBits(size),
    count: 0,
    last: -1,
    blocks: 0,
    promise: returnsLeft(colours, precedence, emptyBits(size)),
    came: null,
    added: [],
  };
  const queue = new TinyQueue<State>([start], better);
  const seen = new Map<string, number>();
  let opened = 0;
  for (let state = queue.pop(); state; state = queue.pop()) {
    if (state.count === size)
      return { order: orderOf(state), blocks: state.blocks, lowerBound: state.blocks };
    if (++opened * size > MOST_STEPS) return finishGreedily(state, colours, precedence);
    for (const next of openColours(state, colours, precedence)) {
      const key = bitsKey(next.sewn);
      if ((seen.get(key) ?? Number.POSITIVE_INFINITY) <= next.blocks) continue;
      seen.set(key, next.blocks);
      queue.push(next);
    }
  }
  return { order: [], blocks: 0, lowerBound: 0 };
}

/** Least promise first; among equals the one that is furthest, then the one sewn in the earlier colours. */
const better = (a: State, b: State): number => a.promise - b.promise || b.count - a.count || a.last - b.last;

/** From a state that A* could not finish: always the most promising colour. The bound is the state's promise. */
function finishGreedily(from: State, colours: readonly number[], precedence: Precedence): ColourBlocks {
  let state = from;
  while (state.count < colours.length) {
    state = openColours(state, colours, precedence).sort(better)[0];
  }
  return { order: orderOf(state), blocks: state.blocks, lowerBound: from.promise };
}

/** The states that one further block leads to, one for each colour that can be sewn now. */
function openColours(state: State, colours: readonly number[], precedence: Precedence): State[] {
  const open = new Set<number>();
  for (let k = 0; k < colours.length; k++) {
    if (!hasBit(state.sewn, k) && colours[k] !== state.last && containsBits(state.sewn, precedence.before[k]))
      open.add(colours[k]);
  }
  return [...open].map((colour) => {
    const sewn = state.sewn.slice();
    const added: number[] = [];
    // Paint order is a topological order: one pass sews all that the colour can reach.
    for (let k = 0; k < colours.length; k++) {
      if (colours[k] !== colour || hasBit(sewn, k) || !containsBits(sewn, precedence.before[k])) continue;
      setBit(sewn, k);
      added.push(k);
    }
    const blocks = state.blocks + 1;
    return {
      sewn,
      count: state.count + added.length,
      last: colour,
      blocks,
      promise: Math.max(state.promise, blocks + returnsLeft(colours, precedence, sewn)),
      came: state,
      added,
    };
  });
}

/** How many blocks the pieces not yet sewn need at least. */
const returnsLeft = (colours: readonly number[], precedence: Precedence, sewn: Bits): number =>
  leastVisits(colours, colours, precedence, sewn);

/**
 * How often the needle must come to the pieces of each group at least, summed over groups. A group holds pieces
 * of one colour; along a chain of pieces that must follow one another it is left, and must be come back to, each
 * time a piece of another colour stands between two of its own.
 */
export function leastVisits(
  groups: readonly number[],
  colours: readonly number[],
  { directlyBefore }: Precedence,
  sewn: Bits,
): number {
  const groupCount = groups.reduce((most, group) => Math.max(most, group + 1), 0);
  const most = new Uint16Array(groupCount);
  const visits = new Uint16Array(groups.length * groupCount);
  for (let k = 0; k < groups.length; k++) {
    if (hasBit(sewn, k)) continue;
    const own = groups[k];
    const row = k * groupCount;
    for (const j of directlyBefore[k]) {
      if (hasBit(sewn, j)) continue;
      for (let g = 0; g < groupCount; g++) {
        const needed = visits[j * groupCount + g] + (g === own && colours[j] !== colours[k] ? 1 : 0);
        if (needed > visits[row + g]) visits[row + g] = needed;
      }
    }
    if (visits[row + own] === 0) visits[row + own] = 1;
    if (visits[row + own] > most[own]) most[own] = visits[row + own];
  }
  return most.reduce((sum, count) => sum + count, 0);
}

function orderOf(state: State): number[] {
  const order: number[] = [];
  for (let at: State | null = state; at; at = at.came) order.unshift(...at.added);
  return order;
}
