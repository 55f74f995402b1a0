/**
 * Fewer colours, taken from those that there are.
 *
 * The loss of a choice is the sum over all colours of area × ΔE00², each colour measured to the kept one that
 * is nearest to it. Squares, because an accent that is far off is missed more than a large area that is a shade
 * off. From all colours kept, the one whose going adds least to the loss goes, again and again (backward
 * greedy search for k medoids); those that it stood for go to their next nearest. Exchanging kept ones for others
 * afterwards would lower the sum by some hundredths, and let a colour that the drawing hardly shows stand for one
 * that fills it.
 */
import { difference, type Lab, labOf } from "./difference.ts";
import { nearestTo } from "./nearest.ts";

/** A colour, and how much of it there is. */
export interface WeightedColour {
  /** `#rrggbb` */
  readonly colour: string;
  /** Its area, in any unit; not negative. */
  readonly weight: number;
}

/**
 * Differences are kept between all pairs of this many colours. Of a drawing with more (a traced photograph), the
 * smallest areas first go to the nearest of the rest.
 */
const MOST_COLOURS = 400;

/**
 * Which colour to use for each: at most `most` different ones, all of them from the given ones. The same whatever
 * the order of the colours.
 *
 * @param most 1 or more
 * @returns each colour given, with the one that stands for it
 */
export function reduceColours(colours: readonly WeightedColour[], most: number): Map<string, string> {
  if (!(most >= 1)) throw new RangeError(`at least one colour must be kept, not ${most}`);
  const swatches = [...weightsByColour(colours)]
    .map(([colour, weight]) => ({ colour, weight, lab: labOf(colour) }))
    .sort((a, b) => b.weight - a.weight || (a.colour < b.colour ? -1 : 1));
  if (swatches.length <= most) return new Map(swatches.map(({ colour }) => [colour, colour]));
  const kept = keep(foldSmallest(swatches), most);
  const labs = kept.map(({ lab }) => lab);
  return new Map(swatches.map(({ colour, lab }) => [colour, kept[nearestTo(lab, labs).index].colour]));
}

/** What a choice of colours loses, in area × ΔE00²: 0 where every colour stands for itself. */
export const reductionLoss = (
  colours: readonly WeightedColour[],
  choice: ReadonlyMap<string, string>,
): number =>
  colours.reduce((loss, { colour, weight }) => {
    const used = choice.get(colour);
    if (used === undefined) throw new RangeError(`nothing stands for ${colour}`);
    return loss + weight * difference(labOf(colour), labOf(used)) ** 2;
  }, 0);

interface Swatch extends WeightedColour {
  readonly lab: Lab;
}

function weightsByColour(colours: readonly WeightedColour[]): Map<string, number> {
  const weights = new Map<string, number>();
  for (const { colour, weight } of colours) weights.set(colour, (weights.get(colour) ?? 0) + weight);
  return weights;
}

/** The largest areas, with those of the rest added to the nearest of them. */
function foldSmallest(swatches: readonly Swatch[]): readonly Swatch[] {
  if (swatches.length <= MOST_COLOURS) return swatches;
  const large = swatches.slice(0, MOST_COLOURS);
  const labs = large.map(({ lab }) => lab);
  const weights = large.map(({ weight }) => weight);
  for (const { lab, weight } of swatches.slice(MOST_COLOURS)) weights[nearestTo(lab, labs).index] += weight;
  return large.map((swatch, i) => ({ ...swatch, weight: weights[i] }));
}

/** The swatches that stay. Of equal losses the later swatch goes: the smaller area. */
function keep(swatches: readonly Swatch[], most: number): Swatch[] {
  const squares = swatches.map((a) => swatches.map((b) => difference(a.lab, b.lab) ** 2));
  const kept = new Set(swatches.keys());
  while (kept.size > most) {
    const added = lossesWithout(swatches, squares, kept);
    let goes = -1;
    for (const i of kept) if (goes < 0 || added[i] <= added[goes]) goes = i;
    kept.delete(goes);
  }
  return [...kept].map((i) => swatches[i]);
}

/** What the going of each kept swatch would add to the loss. */
function lossesWithout(
  swatches: readonly Swatch[],
  /** ΔE00² of all pairs. */
  squares: readonly (readonly number[])[],
  kept: ReadonlySet<number>,
): number[] {
  const added = swatches.map(() => 0);
  for (const [i, { weight }] of swatches.entries()) {
    let nearest = -1;
    let least = Number.POSITIVE_INFINITY;
    let next = Number.POSITIVE_INFINITY;
    for (const k of kept) {
      const square = squares[i][k];
      if (square < least) [nearest, least, next] = [k, square, least];
      else if (square < next) next = square;
    }
    added[nearest] += weight * (next - least);
  }
  return added;
}
