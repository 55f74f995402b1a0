/**
 * Which piece must come before which: of two pieces whose sewn areas overlap, the one painted first is sewn
 * first, or the picture changes. Pieces that do not overlap may be sewn either way round. Pairs that follow from
 * others are left out (the transitive reduction).
 */
import type { Piece } from "../artwork/types.ts";
import { buildBoxIndex } from "../geometry/box-index.ts";
import { growBox } from "../geometry/point.ts";
import { intersect, offset, regionArea, regionBox } from "../geometry/region.ts";
import { addBits, type Bits, emptyBits, hasBit, setBit } from "./bits.ts";

/** Overlaps smaller than this can't be seen: an eighth of a square as wide as the thread. */
const OVERLAP_MM2 = 0.02;

export interface Precedence {
  /** Pairs [before, after] of piece numbers, those that follow from others left out. */
  readonly pairs: readonly (readonly [before: number, after: number])[];
  /** All that must come before piece k, directly or not. */
  readonly before: readonly Bits[];
  /** The pieces directly before piece k in `pairs`. */
  readonly directlyBefore: readonly (readonly number[])[];
}

/**
 * Precedence among pieces that stand in paint order. `growMm` is how far stitches reach beyond the drawn edge
 * (pull compensation, on either side of a seam); `chains` are lists of pieces, ascending, that keep their order.
 */
export function precedenceOf(
  pieces: readonly Piece[],
  growMm: number,
  chains: readonly (readonly number[])[] = [],
): Precedence {
  const sewn = pieces.map((piece) => offset(piece.region, growMm));
  const boxes = pieces.map((piece) => growBox(regionBox(piece.region), growMm));
  const index = buildBoxIndex(boxes);
  const chained = new Map<number, number[]>();
  for (const chain of chains) {
    for (let c = 1; c < chain.length; c++) {
      chained.set(chain[c], [...(chained.get(chain[c]) ?? []), chain[c - 1]]);
    }
  }
  const before: Bits[] = [];
  const directlyBefore: number[][] = [];
  const pairs: [number, number][] = [];
  for (let k = 0; k < pieces.length; k++) {
    const all = emptyBits(pieces.length);
    const direct: number[] = [];
    const candidates = new Set([...index.search(boxes[k]).filter((j) => j < k), ...(chained.get(k) ?? [])]);
    // Latest first: what comes before one that is known to come before k follows from it.
    for (const j of [...candidates].sort((a, b) => b - a)) {
      if (hasBit(all, j)) continue;
      if (!chained.get(k)?.includes(j) && regionArea(intersect(sewn[j], sewn[k])) <= OVERLAP_MM2) continue;
      setBit(all, j);
      addBits(all, before[j]);
      direct.push(j);
    }
    before.push(all);
    directlyBefore.push(direct.reverse());
    for (const j of direct) pairs.push([j, k]);
  }
  return { pairs, before, directlyBefore };
}

/** Whether an order of all pieces keeps to the precedence. */
export function isLegal(order: readonly number[], { pairs }: Precedence): boolean {
  const place = new Array<number>(order.length);
  for (const [at, k] of order.entries()) place[k] = at;
  return pairs.every(([a, b]) => place[a] < place[b]);
}
