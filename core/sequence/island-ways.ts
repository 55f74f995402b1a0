/**
 * The ways between islands: over the gaps between them, and under the pieces sewn after all of them. Those later pieces
 * stay the same while islands change places, so pieces that meet are taken together once, as one *cover*: moving inside
 * it is free, and what is left is a small graph of islands and covers.
 */
import TinyQueue from "tinyqueue";
import type { Nearness } from "../routing/nearness.ts";

/** Islands and covers, by number; each link with the width of its gap, which shows. */
export type IslandWays = ReadonlyMap<number, ReadonlyMap<number, number>>;

/**
 * The ways between pieces that are linked by gaps below the limit.
 *
 * @param ends the pieces to go between
 * @param isLater whether a piece is sewn after them, and covers what is under it
 */
export function islandWays(
  nearness: Nearness,
  ends: readonly number[],
  isLater: (k: number) => boolean,
  limitMm: number,
): IslandWays {
  const isEnd = new Set(ends);
  const ways = new Map<number, Map<number, number>>();
  const link = (from: number, to: number, gapMm: number): void => {
    const links = ways.get(from) ?? new Map<number, number>();
    links.set(to, Math.min(gapMm, links.get(to) ?? Number.POSITIVE_INFINITY));
    ways.set(from, links);
  };
  const near = (k: number, isWanted: (l: number) => boolean) =>
    nearness
      .neighbours(k)
      .filter(isWanted)
      .map((piece) => ({ piece, gapMm: nearness.gap(k, piece) ?? Number.POSITIVE_INFINITY }))
      .filter(({ gapMm }) => gapMm < limitMm);
  const coverOf = new Map<number, number>();
  const toCovers: { readonly from: number; readonly piece: number; readonly gapMm: number }[] = [];
  for (const k of ends) {
    for (const { piece, gapMm } of near(k, (l) => isEnd.has(l) || isLater(l))) {
      if (isEnd.has(piece)) link(k, piece, gapMm);
      if (isLater(piece)) toCovers.push({ from: k, piece, gapMm });
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
      for (const { piece, gapMm } of near(k, (l) => isLater(l) && !within.has(l))) {
        if (gapMm === 0) within.add(piece);
        else toCovers.push({ from: cover, piece, gapMm });
      }
    }
  }
  for (const { from, piece, gapMm } of toCovers) {
    const cover = coverOf.get(piece) as number;
    link(from, cover, gapMm);
    link(cover, from, gapMm);
  }
  return ways;
}

/**
 * The least thread that shows on the way from one island to each that can be reached below the limit (Dijkstra), and to
 * the covers on the way there.
 *
 * @param isOpen whether the way may lead on under an island
 */
export function leastShownFrom(
  ways: IslandWays,
  from: number,
  isOpen: (island: number) => boolean,
  limitMm: number,
): ReadonlyMap<number, number> {
  const best = new Map<number, number>([[from, 0]]);
  const queue = new TinyQueue([{ k: from, shownMm: 0 }], (a, b) => a.shownMm - b.shownMm || a.k - b.k);
  for (let next = queue.pop(); next; next = queue.pop()) {
    const { k, shownMm } = next;
    if (shownMm > (best.get(k) as number) || (k >= 0 && k !== from && !isOpen(k))) continue;
    for (const [l, gapMm] of ways.get(k) ?? []) {
      const there = shownMm + gapMm;
      if (there >= limitMm || there >= (best.get(l) ?? Number.POSITIVE_INFINITY)) continue;
      best.set(l, there);
      queue.push({ k: l, shownMm: there });
    }
  }
  return best;
}
