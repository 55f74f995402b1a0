/**
 * Pairs of least total cost: an even number of things, each paired with one other (a perfect matching of least
 * weight in a complete graph).
 *
 * Up to `EXACT_UP_TO` things the pairs are the best there are, by dynamic programming over subsets: the first
 * thing that is not yet paired goes with each other one in turn (Held and Karp 1962 use the same scheme for
 * tours). Beyond, the nearest two are paired first, and then two pairs at a time exchange partners for as long
 * as that helps; the exact method there would be that of Edmonds 1965.
 */

/** 2^16 subsets: a few milliseconds. */
export const EXACT_UP_TO = 16;

/**
 * Pairs the numbers 0 to `count` − 1.
 *
 * @param count an even number
 * @param cost of a pair: symmetric and not negative
 * @throws RangeError where `count` is odd
 */
export function cheapestPairs(count: number, cost: (i: number, j: number) => number): [number, number][] {
  if (count % 2 !== 0) throw new RangeError(`${count} things can't be paired`);
  return count <= EXACT_UP_TO ? exactPairs(count, cost) : exchangedPairs(nearestPairs(count, cost), cost);
}

function exactPairs(count: number, cost: (i: number, j: number) => number): [number, number][] {
  const all = 2 ** count - 1;
  /** The least cost of pairing what is not in the subset, and the partner of the first of those. */
  const least = new Float64Array(all + 1);
  const partner = new Int8Array(all + 1);
  for (let paired = all - 1; paired >= 0; paired--) {
    least[paired] = Number.POSITIVE_INFINITY;
    const first = firstOutside(paired);
    for (let j = first + 1; j < count; j++) {
      if ((paired >> j) & 1) continue;
      const total = cost(first, j) + least[paired | (1 << first) | (1 << j)];
      if (total < least[paired]) {
        least[paired] = total;
        partner[paired] = j;
      }
    }
  }
  const pairs: [number, number][] = [];
  for (let paired = 0; paired < all; ) {
    const pair: [number, number] = [firstOutside(paired), partner[paired]];
    pairs.push(pair);
    paired |= (1 << pair[0]) | (1 << pair[1]);
  }
  return pairs;
}

function firstOutside(subset: number): number {
  let i = 0;
  while ((subset >> i) & 1) i++;
  return i;
}

function nearestPairs(count: number, cost: (i: number, j: number) => number): [number, number][] {
  const candidates: { i: number; j: number; cost: number }[] = [];
  for (let i = 0; i < count; i++)
    for (let j = i + 1; j < count; j++) candidates.push({ i, j, cost: cost(i, j) });
  candidates.sort((p, q) => p.cost - q.cost || p.i - q.i || p.j - q.j);
  const paired = new Set<number>();
  const pairs: [number, number][] = [];
  for (const { i, j } of candidates) {
    if (paired.has(i) || paired.has(j)) continue;
    paired.add(i).add(j);
    pairs.push([i, j]);
  }
  return pairs;
}

/** Exchanges must gain more than this, so that rounding can't keep them going. */
const GAIN = 1e-9;

function exchangedPairs(
  pairs: readonly [number, number][],
  cost: (i: number, j: number) => number,
): [number, number][] {
  const better = pairs.map(([i, j]): [number, number] => [i, j]);
  for (let improved = true; improved; ) {
    improved = false;
    for (let p = 0; p < better.length; p++) {
      for (let q = p + 1; q < better.length; q++) {
        const [[a, b], [c, d]] = [better[p], better[q]];
        const now = cost(a, b) + cost(c, d) - GAIN;
        const [straight, crossed] = [cost(a, c) + cost(b, d), cost(a, d) + cost(b, c)];
        if (Math.min(straight, crossed) >= now) continue;
        [better[p], better[q]] =
          straight <= crossed
            ? [
                [a, c],
                [b, d],
              ]
            : [
                [a, d],
                [b, c],
              ];
        improved = true;
      }
    }
  }
  return better;
}
