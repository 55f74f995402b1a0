/**
 * No spot needs more than four layers of stitches: a thicker stack is stiff, breaks needles, and everything but its
 * top layer is hidden. Where more would meet, hidden layers are taken away from the bottom up, in smaller patches
 * than elsewhere (`take-away-hidden.ts`) and from satin columns too, until four are left.
 *
 * Each keeps the full underlap beside what is seen of it; only where that is not enough, as where several edges run
 * to one point, a shorter one or none. A piece in the stack of which nothing is seen is left out whole.
 *
 * What is taken lies under later pieces, so no connector and no travel loses its cover.
 */
import type { Piece } from "../artwork/types.ts";
import { COVER_GAP_MM } from "../constants.ts";
import { regionWithin } from "../geometry/clip-ring.ts";
import { EMPTY_BOX, growBox, joinBoxes } from "../geometry/point.ts";
import {
  intersect,
  offset,
  regionArea,
  regionBox,
  subtract,
  subtractRings,
  unionOfRings,
} from "../geometry/region.ts";
import type { Box, Polygon, Region, Ring } from "../geometry/types.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import { once } from "../once.ts";
import type { Settings } from "../settings.ts";
import { chosenAgain } from "../techniques/choose-techniques.ts";
import { coverOf } from "../techniques/cover-of.ts";
import { type Cells, cellsOver, visitRuns } from "./cells.ts";
import { COARSE_MM, type CutLimits, coarser, SLIVER_MM, takeAway } from "./cut-patch.ts";
import { type LaterCover, laterCover, opened } from "./later-cover.ts";

/** More layers than this make a stack. Common practice, no source. */
export const MOST_LAYERS = 4;
/** Stacks are looked for on cells of this size, counting thread that reaches this far beyond its piece. */
const CELL_MM = 0.5;
const REACH_MM = 0.45;
/** Fewer cells in a stack than this are no thicker than a knot. */
const LEAST_CELLS = 2;
/** Stacks of so many cells side by side, 2 mm², that are left after all that was tried are worth another start. */
const LARGE_CELLS = 8;

/** How stacks are thinned: underlaps that are tried one after the other, as shares of the full one, and what goes. */
interface Manner {
  /** How much of the underlap stays, and how far round a stack hidden layers go. */
  readonly rounds: readonly { readonly underlap: number; readonly roomMm: number }[];
  /** What is worth cutting, and what must stay. */
  readonly limits: CutLimits;
}

/**
 * Roomy patches have even edges; close ones, and last fine ones, go where they leave stacks. In the end nothing but
 * pull compensation closes the edge there; four other layers lie under it. Common practice, no source.
 */
const ROOMY: Manner = {
  rounds: [
    { underlap: 1, roomMm: 1.2 },
    { underlap: 0.3, roomMm: 1.2 },
  ],
  limits: { patchMm2: 1, patchWidthMm: 0.8, neckMm: 1, bridgeMm: 1.5 },
};
const CLOSE: Manner = {
  rounds: [{ underlap: 0, roomMm: 0.6 }],
  limits: { patchMm2: 0.5, patchWidthMm: 0.5, neckMm: 1, bridgeMm: 1.5 },
};
const FINE: Manner = {
  rounds: [
    { underlap: 0, roomMm: 0.6 },
    { underlap: 0, roomMm: 0.3 },
  ],
  limits: { patchMm2: 0.2, patchWidthMm: 0.3, neckMm: 0.5, bridgeMm: 0.6 },
};

/**
 * Each for the stacks that the one before left. Where large ones are left in the end, the drawing is begun anew with
 * close patches: a bridge then finds room beside the stack, where a roomy patch would have left it in the middle.
 */
const MANNERS = [ROOMY, CLOSE, FINE];
const MANNERS_ANEW = [CLOSE, FINE];
/** Of more pieces, each is cut once, with the short underlap: further rounds take as long again, for a few cells. */
const MANY_PIECES = 250;
const AT_ONCE: Manner = { ...ROOMY, rounds: ROOMY.rounds.slice(-1) };

/** The pieces with stacks thinned; `null` in the place of one of which nothing is seen. */
export function thinStacks(
  pieces: readonly Piece[],
  settings: Settings,
  memory: Memory = NO_MEMORY,
): readonly (Piece | null)[] {
  if (pieces.length <= MOST_LAYERS) return pieces;
  const stacks = countStacks(pieces);
  if (stacks.cells() === 0) return pieces;
  const thinning: Thinning = { pieces, settings, memory, seenOf: seenParts(pieces, memory) };
  const areMany = pieces.length > MANY_PIECES;
  let regions = thinned(thinning, stacks, areMany ? [AT_ONCE] : MANNERS);
  if (!areMany && stacks.largest() >= LARGE_CELLS) {
    const again = countStacks(pieces);
    const anew = thinned(thinning, again, MANNERS_ANEW);
    if (again.cells() < stacks.cells()) regions = anew;
  }
  return pieces.map((piece, k) => {
    const rest = regions[k];
    return rest && memory.recall("thinned", [piece, rest, settings], () => onRest(piece, rest, settings));
  });
}

/** So many later pieces are taken from a region at once. */
const AT_A_TIME = 32;

/** What thinning works on, whatever the manner. */
interface Thinning {
  readonly pieces: readonly Piece[];
  readonly settings: Settings;
  readonly memory: Memory;
  /** What is seen of each piece. */
  readonly seenOf: readonly (() => Region)[];
}

/** What hides a spot is the piece on top of it, of which nothing is taken there: what is seen stays the same. */
function seenParts(pieces: readonly Piece[], memory: Memory): (() => Region)[] {
  const cover = laterCover(pieces.map(coverOf), COVER_GAP_MM / 2);
  return pieces.map((piece, k) =>
    once(() => {
      const near = growBox(regionBox(piece.region), SLIVER_MM);
      const later = cover.after(k, near);
      return memory.recall("seen", [piece, ...later.map((j) => pieces[j])], () =>
        coreOfSeen(piece, later, cover),
      );
    }),
  );
}

/** What is left of each piece's region, `null` for none; the stacks are then those that remain. */
function thinned(
  { pieces, settings, memory, seenOf }: Thinning,
  stacks: Stacks,
  manners: readonly Manner[],
): (Region | null)[] {
  const regions: (Region | null)[] = pieces.map(({ region }) => region);
  const steps = manners.flatMap(({ rounds, limits }) => rounds.map((round) => ({ ...round, limits })));
  for (const { underlap, roomMm, limits } of steps) {
    const underlapMm = underlap * settings.underlapMm;
    for (let k = 0; k < pieces.length && stacks.cells() > 0; k++) {
      const region = regions[k];
      if (region === null || !mayBeCut(pieces[k], settings)) continue;
      const stack = stacks.deepUnder(k, underlapMm);
      if (stack === null) continue;
      const seen = seenOf[k]();
      const key = `thinned ${underlapMm} ${roomMm} ${limits.patchMm2} ${stack.place}`;
      // Whoever names a piece for a strand wants it sewn.
      const rest =
        seen.length === 0 && pieces[k].overrides.strand === undefined
          ? null
          : memory.recall(key, [region, seen], () =>
              withoutStack(region, around(stack.area(), roomMm), seen, underlapMm, limits),
            );
      if (rest === region) continue;
      regions[k] = rest;
      stacks.exchange(k, rest);
    }
  }
  return regions;
}

/** The piece on what is left of its region. A fill stays one; what is or has columns is laid out anew. */
function onRest(piece: Piece, rest: Region, settings: Settings): Piece {
  if (rest === piece.region) return piece;
  return piece.parts === undefined && piece.technique === "fill"
    ? { ...piece, region: rest }
    : chosenAgain(piece, rest, settings);
}

/** What the artist wants sewn as a column stays one; so does a stroke where elements decide. */
const mayBeCut = (piece: Piece, settings: Settings): boolean =>
  coverOf(piece) !== null &&
  ((piece.technique === "fill" && piece.parts === undefined) ||
    (settings.technique === "auto" && piece.overrides.technique === undefined));

/** Part of a stack, all of it under one piece. */
interface Stack {
  /** Differs from that of any other stack. */
  readonly place: string;
  readonly area: () => Region;
}

interface Stacks {
  /** How many cells lie in stacks. */
  cells(): number;
  /** How many of them lie side by side in the largest. */
  largest(): number;
  /** Where piece k lies in a stack that is too thick, about the underlap from all that is seen of it. */
  deepUnder(k: number, underlapMm: number): Stack | null;
  exchange(k: number, rest: Region | null): void;
}

function countStacks(pieces: readonly Piece[]): Stacks {
  const extent = pieces.map(({ region }) => regionBox(region)).reduce(joinBoxes, EMPTY_BOX);
  const cells = cellsOver(growBox(extent, REACH_MM), CELL_MM);
  const count = new Uint16Array(cells.width * cells.height);
  const top = new Int32Array(cells.width * cells.height).fill(-1);
  const reachOf = reachOver(cells);
  const areas = pieces.map((piece) => coverOf(piece) ?? []);
  const reached = areas.map(reachOf);
  for (const [k, area] of areas.entries()) visitRuns(cells, area, (from, to) => top.fill(k, from, to + 1));
  let stacked = 0;
  const add = (runs: Runs): void =>
    eachCell(runs, (cell) => {
      if (count[cell]++ === MOST_LAYERS) stacked++;
    });
  for (const runs of reached) add(runs);
  return {
    cells: () => stacked,
    largest: () =>
      stacked < LARGE_CELLS ? stacked : largestOf(cells, count.length, (cell) => count[cell] > MOST_LAYERS),
    deepUnder(k, underlapMm) {
      const radius = Math.max(0, underlapMm / CELL_MM - 1);
      const own: number[] = [];
      eachCell(reached[k], (cell) => {
        if (count[cell] > MOST_LAYERS && !isNear(cells, cell, radius, (other) => top[other] === k))
          own.push(cell);
      });
      if (own.length < LEAST_CELLS) return null;
      return {
        place: `${cells.minX} ${cells.minY} ${cells.width} ${own}`,
        area: () => unionOfRings(rectangles(own, cells)),
      };
    },
    exchange(k, rest) {
      eachCell(reached[k], (cell) => {
        if (count[cell]-- === MOST_LAYERS + 1) stacked--;
      });
      reached[k] = reachOf(rest ?? []);
      add(reached[k]);
    },
  };
}

/** Cells in rows: the first and the last of each run, one after the other. */
type Runs = readonly number[];

function eachCell(runs: Runs, visit: (cell: number) => void): void {
  for (let n = 0; n < runs.length; n += 2) for (let cell = runs[n]; cell <= runs[n + 1]; cell++) visit(cell);
}

/** The cells that thread over an area reaches, each once. */
function reachOver(cells: Cells): (area: Region) => Runs {
  const seenIn = new Int32Array(cells.width * cells.height);
  let visits = 0;
  return (area) => {
    visits++;
    const runs: number[] = [];
    const addUnseen = (from: number, to: number): void => {
      for (let cell = from; cell <= to; cell++) {
        if (seenIn[cell] === visits) continue;
        seenIn[cell] = visits;
        if (runs[runs.length - 1] === cell - 1) runs[runs.length - 1] = cell;
        else runs.push(cell, cell);
      }
    };
    for (const shiftMm of [0, -REACH_MM, REACH_MM]) visitRuns(cells, area, addUnseen, REACH_MM, shiftMm);
    return runs;
  };
}

/** Whether any cell within so many cells of one passes the test. */
function isNear(
  { width, height }: Cells,
  cell: number,
  radius: number,
  test: (cell: number) => boolean,
): boolean {
  const [x, y] = [cell % width, Math.floor(cell / width)];
  const reach = Math.floor(radius);
  for (let row = Math.max(0, y - reach); row <= Math.min(height - 1, y + reach); row++)
    for (let column = Math.max(0, x - reach); column <= Math.min(width - 1, x + reach); column++)
      if ((column - x) ** 2 + (row - y) ** 2 <= radius * radius && test(row * width + column)) return true;
  return false;
}

/** The most cells that pass the test and hang together side by side. */
function largestOf({ width }: Cells, count: number, test: (cell: number) => boolean): number {
  const isBeside = (a: number, b: number): boolean => Math.abs((a % width) - (b % width)) <= 1;
  const seen = new Set<number>();
  let largest = 0;
  for (let start = 0; start < count; start++) {
    if (!test(start) || seen.has(start)) continue;
    // What is added to a set while it is walked through is still walked to.
    const patch = new Set([start]);
    for (const cell of patch)
      for (const next of [cell - 1, cell + 1, cell - width, cell + width])
        if (test(next) && isBeside(cell, next)) patch.add(next);
    for (const cell of patch) seen.add(cell);
    largest = Math.max(largest, patch.size);
  }
  return largest;
}

/** Cells as rectangles, one for each run of them in a row. */
function rectangles(some: readonly number[], { minX, minY, width, cellMm }: Cells): Ring[] {
  const sorted = [...some].sort((a, b) => a - b);
  const rings: Ring[] = [];
  for (let n = 0; n < sorted.length; ) {
    const from = n++;
    while (sorted[n] === sorted[n - 1] + 1 && sorted[n] % width !== 0) n++;
    const [x0, x1] = [sorted[from] % width, (sorted[n - 1] % width) + 1].map((x) => minX + x * cellMm);
    const y = minY + Math.floor(sorted[from] / width) * cellMm;
    rings.push([
      [x0, y],
      [x1, y],
      [x1, y + cellMm],
      [x0, y + cellMm],
    ]);
  }
  return rings;
}

/** A stack's surroundings, without the steps of its cells. */
const around = (stack: Region, roomMm: number): Region => coarser(offset(stack, roomMm), roomMm / 4);

/** The region without its part of what lies round a stack, as far as that is hidden and may go. */
function withoutStack(
  region: Region,
  near: Region,
  seen: Region,
  underlapMm: number,
  limits: CutLimits,
): Region {
  // Where a patch ends under other pieces need not be told to a hair: few corners, and the underlap a little longer.
  const keptMm = SLIVER_MM / 2 + underlapMm + COARSE_MM;
  const keptIn = (box: Box): Region =>
    offset(coarser(regionWithin(seen, growBox(box, 2 * keptMm))), keptMm, "round", COARSE_MM);
  const free = subtract(near, keptIn(regionBox(near)));
  if (regionArea(free) < limits.patchMm2) return region;
  const patch = opened(free, limits.patchWidthMm / 2);
  const isHidden = (polygon: Polygon) => intersect([polygon], keptIn(regionBox([polygon]))).length === 0;
  return takeAway(region, patch, limits, isHidden);
}

/**
 * What later pieces leave of a piece, without slivers, and drawn in by half a sliver. Of very many, some at a time: the
 * sum of them all takes the square of their number, and little is left for most to be taken from.
 */
function coreOfSeen({ region }: Piece, later: readonly number[], cover: LaterCover): Region {
  let rest = region;
  for (let end = later.length; end > 0 && rest.length > 0; end -= AT_A_TIME) {
    const some = later.slice(Math.max(0, end - AT_A_TIME), end);
    rest = subtractRings(rest, cover.rings(some, growBox(regionBox(rest), SLIVER_MM)));
  }
  return offset(rest, -SLIVER_MM / 2);
}
