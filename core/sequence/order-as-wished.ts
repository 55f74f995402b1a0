/** The order that settings ask for, with the artist's wishes carried out on it. Both are worked out once, however often a wish changes. */
import type { Artwork, OrderWish } from "../artwork/types.ts";
import type { Finding } from "../findings.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import type { Settings } from "../settings.ts";
import { blocksOf } from "./blocks.ts";
import { orderIslands } from "./order-islands.ts";
import { orderPieces } from "./order-pieces.ts";
import { type Precedence, precedenceOf } from "./precedence.ts";
import { type OrderedPieces, sewAfter, wrongPairs } from "./sew-after.ts";
import type { Sequence } from "./types.ts";

/** Pieces in needle order. A patch and a sheet of copies have their order already: no wish moves their pieces. */
export function orderAsWished(
  artwork: Artwork,
  settings: Settings,
  wishes: readonly OrderWish[],
  memory: Memory = NO_MEMORY,
): { sequence: Sequence; findings: readonly Finding[] } {
  const found = orderFound(artwork, settings, memory);
  if (wishes.length === 0 || artwork.inSewingOrder) return found;
  const ordered = orderedPieces(artwork, settings, memory);
  const { order, findings } = sewAfter(ordered, wishes);
  const pieces = order.map((k) => ordered.painted[k]);
  return {
    sequence: { ...found.sequence, pieces, blocks: blocksOf(pieces) },
    findings: [...found.findings, ...findings],
  };
}

/** The order without wishes. */
const orderFound = (artwork: Artwork, settings: Settings, memory: Memory) =>
  memory.recall("order", [artwork, settings], () => {
    const { sequence, findings } = orderPieces(artwork, settings, memory);
    // An order that was looked for has islands in their places.
    const hasOrder = artwork.inSewingOrder === true || settings.order === "regroup";
    return { sequence: hasOrder ? sequence : orderIslands(sequence, settings, memory), findings };
  });

/** What wishes and moves are judged by. */
export function orderedPieces(
  artwork: Artwork,
  settings: Settings,
  memory: Memory = NO_MEMORY,
): OrderedPieces {
  return memory.recall("ordered", [artwork, settings], () => {
    const painted = artwork.pieces.filter(({ technique }) => technique !== "skip");
    const { sequence } = orderFound(artwork, settings, memory);
    const numberOf = new Map(painted.map((piece, k) => [piece, k]));
    const base = sequence.pieces.map((piece) => numberOf.get(piece)!);
    return { painted, base, precedence: asSewn(precedenceOf(painted, settings.pullMm), base) };
  });
}

/**
 * Islands of one element may be sewn in any order, though once sewn they overlap by a hair: no wish is to blame for
 * such a pair.
 */
function asSewn(precedence: Precedence, base: readonly number[]): Precedence {
  const wrong = new Set(wrongPairs(base, precedence));
  return { ...precedence, pairs: precedence.pairs.filter((pair) => !wrong.has(pair)) };
}
