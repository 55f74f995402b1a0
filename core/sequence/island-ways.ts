/**
 * The ways between islands: over the gaps between them, and under the pieces sewn after all of them. Those later pieces
 * stay the same while islands change places, so pieces that meet are taken together once, as one *cover*: moving inside
 * it is free, and what is left is a small graph of islands and covers.
 */
import TinyQueue from "tinyqueue";
import type { Nearness } from "../routing/nearness.ts";

/** Islands and covers, by number; each link with what a hop over its gap costs. */
export type IslandWays = ReadonlyMap<number, ReadonlyMap<number, number>>;

/**
 * The ways between pieces that are linked by hops that cost less than the limit.
 *
 * @param colour the thread's
 * @param ends the pieces to go between
 * @param isLater whether a piece is sewn after them, and covers what is under it
 */
export function islandWays(
  nearness: Nearness,
  colour: string,
  ends: readonly number[],
  isLater: (k: number) => boolean,
  limitMm: number,
): IslandWays {
  const isEnd = new Set(ends);
  const ways = new Map<number, Map<number, number>>();
  const link = (from: number, to: number, cost: number): void => {
    const links = ways.get(from) ?? new Map<number, number>();
    links.set(to, Math.min(cost, links.get(to) ?? Number.POSITIVE_INFINITY));
    ways.set(from, links);
  };
  const near = (k: number, isWanted: (l: number) => boolean) =>
    nearness
      .neighbours(k)
      .filter(isWanted)
      .map((piece) => ({ piece, cost: nearness.hopCost(k, piece, colour) ?? Number.POSITIVE_INFINITY }))
      .filter(({ cost }) => cost < limitMm);
  const coverOf = new Map<number, number>();
  const toCovers: { readonly from: number; readonly piece: number; readonly cost: number }[] = [];
  for (const k of ends) {
    for (const { piece, cost } of near(k, (l) => isEnd.has(l) || isLater(l))) {
      if (isEnd.has(piece)) link(k, piece, cost);
      if (isLater(piece)) toCovers.push({ from: k, piece, cost });
    }
  }
  // What leads on from a cover is put at the end of the list, and so is come to.
  let covers = 0;
  for (const { piece: first } of toCovers) {
    if (coverOf.has(first)) continue;
    // A number that no piece has.
    const cover = -++covers;
    const within = new Set([first]);
    for (const k of within) {
      coverOf.set(k, cover);
      for (const { piece, cost } of near(k, (l) => isLater(l) && !within.has(l))) {
        if (cost === 0) within.add(piece);
        else toCovers.push({ from: cover, piece, cost });
      }
    }
  }
  for (const { from, piece, cost } of toCovers) {
    const cover = coverOf.get(piece) as number;
    link(from, cover, cost);
    link(cover, from, cost);
  }
  return ways;
}

/**
 * The least cost of a way from one island to each that can be reached below the limit (Dijkstra), and to the covers on
 * the way there.
 *
 * @param isOpen whether the way may lead on under an island
 */
export function leastCostsFrom(
  ways: IslandWays,
  from: number,
  isOpen: (island: number) => boolean,
  limitMm: number,
): ReadonlyMap<number, number> {
  const best = new Map<number, number>([[from, 0]]);
  const queue = new TinyQueue([{ k: from, soFar: 0 }], (a, b) => a.soFar - b.soFar || a.k - b.k);
  for (let next = queue.pop(); next; next = queue.pop()) {
    const { k, soFar } = next;
    if (soFar > (best.get(k) as number) || (k >= 0 && k !== from && !isOpen(k))) continue;
    for (const [l, cost] of ways.get(k) ?? []) {
      const there = soFar + cost;
      if (there >= limitMm || there >= (best.get(l) ?? Number.POSITIVE_INFINITY)) continue;
      best.set(l, there);
      queue.push({ k: l, soFar: there });
    }
  }
  return best;
}
