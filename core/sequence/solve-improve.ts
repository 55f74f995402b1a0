/**
 * Improves an order by exchanging neighbouring stretches: … a | left | right | d … becomes … a | right | left |
 * d …, each stretch kept in its direction. That is the one exchange of three arcs that turns nothing round, so
 * it suits costs that depend on the direction, and precedence has only to be checked between the two stretches:
 * nothing in `left` may have to come before something in `right`. Scanning `right` piece by piece, the first
 * that must follow `left` ends the scan (L. M. Gambardella, M. Dorigo, «An ant colony system hybridized with a
 * new local search for the sequential ordering problem», INFORMS Journal on Computing 12(3), 2000). When no
 * exchange helps, a few random ones shake the order in one place, and the search goes on from there, keeping the
 * best (iterated local search, H. R. Lourenço, O. C. Martin, T. Stützle, 2003).
 */
import type { Instance } from "./solve-instance.ts";
import type { Meter } from "./solve-meter.ts";
import { type Path, startPath } from "./solve-path.ts";
import { hasBit } from "./solve-precedence.ts";
import type { Random } from "./solve-random.ts";

export interface Improved {
  readonly order: Int32Array;
  /** With forbidden arcs counted at the instance's penalty. */
  readonly cost: number;
}

/** A scan of all pairs of stretches takes n³ / 6 steps; where that exceeds this, they stay within a reach. */
const STEPS_PER_SCAN = 4_000_000;
/** Stretches this short are moved any distance. */
const SHORT = 3;
/** Stretches exchanged at random are at most this long, so that what they spoil is mended nearby. */
const SHAKEN_LENGTH = 30;
/** What a shake costs beyond scanning, whatever the size. */
const STEPS_PER_SHAKE = 300;
/** A worse order is gone on with if it costs more by less than this many average arcs, fewer and fewer to the end. */
const LENIENCY = 4;
/** After so many shakes in vain for each piece, the search returns to the best order. */
const SHAKES_IN_VAIN = 30;

/**
 * Improves until the order costs no more than `goal` (a lower bound) or the meter is spent. The order given
 * must obey precedence; the one returned does too and never costs more.
 */
export function improve(
  instance: Instance,
  start: ArrayLike<number>,
  goal: number,
  meter: Meter,
  random: Random,
): Improved {
  const { size, leastGain } = instance;
  const limit = meter.left();
  const path = startPath(instance, start);
  descend(path, meter);
  let best: Improved = { order: path.order(), cost: path.cost() };
  let kept = best;
  let inVain = 0;
  while (size > 2 && best.cost >= goal + leastGain && meter.spend(STEPS_PER_SHAKE + 5 * size)) {
    const shakes = 1 + random.below(3);
    const around = random.below(size);
    for (let k = 0; k < shakes; k++) shake(path, around, random);
    descend(path, meter);
    const cost = path.cost();
    const leniency = ((LENIENCY * Math.abs(best.cost)) / size) * (meter.left() / limit) * random.share();
    if (cost <= kept.cost + leastGain / 2 + leniency) {
      inVain = cost <= kept.cost - leastGain ? 0 : inVain;
      kept = { order: path.order(), cost };
      if (cost <= best.cost - leastGain) best = kept;
    } else {
      path.reset(kept.order);
    }
    if (++inVain > SHAKES_IN_VAIN * size) {
      inVain = 0;
      kept = best;
      path.reset(kept.order);
    }
  }
  return best;
}

/** Exchanges stretches while that gains, starting each time at a piece whose surroundings changed. */
function descend(path: Path, meter: Meter): void {
  const findExchange = buildFinder(path, meter);
  for (let piece = path.nextToLookAt(); piece >= 0 && !meter.isSpent(); piece = path.nextToLookAt()) {
    for (let found = findExchange(piece); found !== null; found = findExchange(piece)) {
      path.exchange(...found);
      if (meter.isSpent()) break;
    }
  }
}

type Exchange = readonly [from: number, middle: number, end: number];

/**
 * The exchange that gains most of those where the given piece starts a stretch. If an exchange gains at all, one
 * of its three new arcs is cheaper than the arc that its tail loses (S. Lin, B. W. Kernighan, «An effective
 * heuristic algorithm for the traveling-salesman problem», Operations Research 21, 1973). Two of the three are
 * tried, the third being the costliest to look for; others are looked into only where a stretch is short.
 */
function buildFinder(path: Path, meter: Meter): (piece: number) => Exchange | null {
  const { places, links, instance } = path;
  const { size, leastGain, precedence, mendableArcs } = instance;
  const { words, after, before } = precedence;
  const wide = size + 1;
  const reach = Math.max(SHORT, Math.floor(Math.sqrt((2 * STEPS_PER_SCAN) / size)));
  const barred = new Uint32Array(words);
  const isBarred = (piece: number): boolean => ((barred[piece >>> 5] >>> (piece & 31)) & 1) === 1;
  const bar = (rows: Uint32Array, piece: number): void => {
    for (let w = 0; w < words; w++) barred[w] |= rows[piece * words + w];
  };
  let best = leastGain;
  let found: Exchange | null = null;

  /** Scans where the right stretch ends, the left one being fixed. */
  const scanEnds = (from: number, middle: number, farthest: number): number => {
    const head = places[from];
    const row = places[middle - 1] * wide;
    const saved = links[from] + links[middle] - mendableArcs[places[from - 1] * wide + places[middle]];
    let end = middle + 1;
    for (; end <= farthest && !isBarred(places[end - 1]); end++) {
      const gain =
        saved + links[end] - mendableArcs[places[end - 1] * wide + head] - mendableArcs[row + places[end]];
      if (gain <= best) continue;
      best = gain;
      found = [from, middle, end];
    }
    return end - middle;
  };

  /** Scans back where the left stretch starts, the right one being fixed. */
  const scanStarts = (middle: number, end: number, farthest: number): number => {
    const head = places[middle];
    const row = places[end - 1] * wide;
    const saved = links[middle] + links[end] - mendableArcs[places[middle - 1] * wide + places[end]];
    let from = middle - 1;
    for (; from >= farthest && !isBarred(places[from]); from--) {
      const gain =
        saved + links[from] - mendableArcs[places[from - 1] * wide + head] - mendableArcs[row + places[from]];
      if (gain <= best) continue;
      best = gain;
      found = [from, middle, end];
    }
    return middle - from;
  };

  return (piece) => {
    const at = path.placeOf(piece);
    const row = places[at - 1] * wide;
    best = leastGain;
    found = null;
    let steps = Math.min(reach, size) * words;
    barred.fill(0);
    for (let middle = at + 1; middle <= Math.min(size, at + reach); middle++) {
      bar(after, places[middle - 1]);
      const isShort = middle - at <= SHORT;
      if (!isShort && mendableArcs[row + places[middle]] >= links[at]) continue;
      steps += scanEnds(at, middle, isShort ? size + 1 : Math.min(size + 1, at + reach));
    }
    barred.fill(0);
    for (let end = at + 1; end <= Math.min(size + 1, at + reach); end++) {
      bar(before, places[end - 1]);
      const isShort = end - at <= SHORT;
      if (!isShort && mendableArcs[row + places[end]] >= links[at]) continue;
      steps += scanStarts(at, end, isShort ? 1 : Math.max(1, at - reach));
    }
    meter.spend(steps);
    return found;
  };
}

/** Exchanges two short stretches near a place at random, if precedence lets it. */
function shake({ places, instance, exchange }: Path, around: number, random: Random): void {
  const { size, precedence } = instance;
  const most = Math.min(SHAKEN_LENGTH, Math.floor(size / 2));
  const from = 1 + Math.min(size - 2, Math.max(0, around + random.below(most + 1) - (most >> 1)));
  const middle = Math.min(size, from + 1 + random.below(most));
  let farthest = Math.min(size + 1, middle + most);
  for (let k = from; k < middle; k++) {
    for (let other = middle; other < farthest; other++) {
      if (hasBit(precedence.after, precedence.words, places[k], places[other])) farthest = other;
    }
  }
  if (farthest > middle) exchange(from, middle, middle + 1 + random.below(farthest - middle));
}
