/**
 * Gives every piece its thread, between reading and ordering: from a list, from the drawing's own colours, or as
 * drawn. A colour that stands for itself has a thread without a name. Colours that are sewn with one thread, and threads that are far off, are reported.
 */
import type { Artwork, Piece } from "../artwork/types.ts";
import type { Finding } from "../findings.ts";
import { regionArea } from "../geometry/region.ts";
import { difference, labOf } from "./difference.ts";
import { mapToThreads, type ThreadMatch } from "./map-to-threads.ts";
import { reduceColours } from "./reduce-colours.ts";
import type { Thread } from "./types.ts";

/** From this ΔE00 on anyone sees two colours; common practice, no source. */
const FAR_OFF = 5;

/** More colours are not named one by one in a finding. */
const MOST_NAMED = 6;
/** Of more colours than this, not every pair is compared. */
const MOST_COMPARED = 300;

/** Which threads there are, and how many of them may be used. */
export interface ThreadChoice {
  /** Threads to choose from; without it the drawing's own colours are kept. */
  readonly list?: readonly Thread[] | undefined;
  /** At most so many of them; `null` is no limit. */
  readonly maxThreads: number | null;
}

/** What becomes of one drawn colour. */
interface Dyed extends ThreadMatch {
  /** How far off its thread would be without a limit on their number, ΔE00. */
  readonly deltaEUnlimited: number;
  /** The first piece drawn in this colour. */
  readonly piece: string;
}

/** The artwork with the colours of its threads. What is skipped counts for nothing and stays as it is. */
export function threadArtwork(artwork: Artwork, choice: ThreadChoice): Artwork {
  if (choice.list === undefined && choice.maxThreads === null) return artwork;
  const colours = dyed(artwork.pieces.filter(isSewn), choice);
  const threadOf = new Map(colours.map(({ colour, thread }) => [colour, thread]));
  return {
    ...artwork,
    pieces: artwork.pieces.map((piece) =>
      isSewn(piece) ? threaded(piece, threadOf.get(piece.colour)!) : piece,
    ),
    findings: [...artwork.findings, ...sharedThreads(colours), ...farOff(colours)],
  };
}

const isSewn = ({ technique }: Piece): boolean => technique !== "skip";

const threaded = (piece: Piece, { name, code, hex }: Thread): Piece => ({
  ...piece,
  colour: hex,
  ...(name === "" ? {} : { thread: { name, code } }),
});

/** One entry a drawn colour, in paint order. */
function dyed(pieces: readonly Piece[], { list, maxThreads }: ThreadChoice): Dyed[] {
  const firstOf = new Map<string, string>();
  for (const { colour, id } of pieces) if (!firstOf.has(colour)) firstOf.set(colour, id);
  const drawn = [...firstOf.keys()];
  if (drawn.length === 0) return [];
  const free = list === undefined ? drawn.map(asDrawn) : mapToThreads(drawn, list);
  const matches = maxThreads === null ? free : mapToThreads(drawn, fewer(free, pieces, maxThreads));
  return matches.map((match, i) => ({
    ...match,
    deltaEUnlimited: free[i].deltaE,
    piece: firstOf.get(match.colour)!,
  }));
}

const asDrawn = (colour: string): ThreadMatch => ({
  colour,
  thread: { name: "", code: "", hex: colour },
  deltaE: 0,
});

/** At most so many of the threads, chosen by the area that each would cover. */
function fewer(matches: readonly ThreadMatch[], pieces: readonly Piece[], most: number): Thread[] {
  const threadOf = new Map(matches.map(({ colour, thread }) => [colour, thread]));
  const areas = pieces.map(({ colour, region }) => ({
    colour: threadOf.get(colour)!.hex,
    weight: regionArea(region),
  }));
  const kept = new Set(reduceColours(areas, most).values());
  return [...new Set(threadOf.values())].filter(({ hex }) => kept.has(hex));
}

/** Drawn colours that became one: what set them apart in the drawing is gone. */
function sharedThreads(all: readonly Dyed[]): Finding[] {
  const sharing = new Map<string, Dyed[]>();
  for (const one of all) {
    const same = sharing.get(one.thread.hex);
    if (same) same.push(one);
    else sharing.set(one.thread.hex, [one]);
  }
  return [...sharing.values()].filter((same) => same.length > 1).map(sharedThread);
}

function sharedThread(same: readonly Dyed[]): Finding {
  const apart = widestDifference(same.map(({ colour }) => colour));
  const colours = same.slice(0, MOST_NAMED).map(({ colour }) => colour);
  const rest = same.length - colours.length;
  const named = rest > 0 ? `${colours.join(", ")} and ${rest} more` : listed(colours);
  return {
    code: "colours-share-thread",
    severity: apart > FAR_OFF ? "warning" : "info",
    piece: same[1].piece,
    message: `${named} are sewn with one thread, ${calledBy(same[0].thread)}; drawn they differ by a ΔE00 of ${apart.toFixed(1)}.`,
    remedy:
      "Where the difference matters, allow more threads or list a thread for each; else draw them in one colour.",
  };
}

/** Between any two of the colours; of very many, between the first and the others. */
function widestDifference(colours: readonly string[]): number {
  const labs = colours.map(labOf);
  const from = labs.length > MOST_COMPARED ? labs.slice(0, 1) : labs;
  return Math.max(...from.flatMap((a) => labs.map((b) => difference(a, b))));
}

const farOff = (all: readonly Dyed[]): Finding[] =>
  all
    .filter(({ deltaE }) => deltaE > FAR_OFF)
    .map(({ colour, thread, deltaE, deltaEUnlimited, piece }) => ({
      code: "thread-far-off",
      severity: "warning",
      piece,
      message: `${colour} is sewn with ${calledBy(thread)}, which is off by a ΔE00 of ${deltaE.toFixed(1)}: the eye sees another colour.`,
      remedy:
        deltaEUnlimited > FAR_OFF
          ? "List a thread nearer to it, or draw it in the colour of one that is listed."
          : `Allow more threads: there is one off by ${deltaEUnlimited.toFixed(1)} only.`,
    }));

const calledBy = ({ name, code, hex }: Thread): string => {
  if (name === "") return hex;
  return code === "" ? `${name}, ${hex}` : `${name} (${code}, ${hex})`;
};

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join() : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
