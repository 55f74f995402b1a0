import type { Piece } from "../artwork/types.ts";
import type { Block } from "./types.ts";

/** Consecutive pieces of one colour. */
export function blocksOf(pieces: readonly Piece[]): Block[] {
  const blocks: Block[] = [];
  for (let k = 0; k < pieces.length; k++) {
    const last = blocks.at(-1);
    if (last && last.colour === pieces[k].colour) blocks[blocks.length - 1] = { ...last, end: k + 1 };
    else blocks.push({ colour: pieces[k].colour, start: k, end: k + 1 });
  }
  return blocks;
}
