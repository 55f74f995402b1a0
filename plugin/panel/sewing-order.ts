/** The sewing order as it is listed: blocks of one thread, in them strands, in them pieces. */
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan, PlannedPiece } from "../../core/plan/types.ts";
import type { Connector } from "../../core/routing/types.ts";
import type { ThreadLabel } from "../../core/threads/types.ts";

export interface ListedBlock {
  readonly index: number;
  readonly colour: string;
  readonly thread: ThreadLabel | undefined;
  readonly strands: readonly ListedStrand[];
}

export interface ListedStrand {
  readonly index: number;
  readonly pieces: readonly PlannedPiece[];
  /** Why it ends where its block goes on. */
  readonly stop: Connector | undefined;
}

/** Pieces of which nothing is sewn, because others hide them, stand in the strand before them. */
export function listOrder(plan: Plan): readonly ListedBlock[] {
  const placeOf = new Map<string, { block: number; strand: number }>();
  for (const step of plan.sewing)
    if (isSewn(step) && step.piece !== undefined && !placeOf.has(step.piece))
      placeOf.set(step.piece, { block: step.block, strand: step.strand });
  const stopAfter = new Map(
    plan.connectors.filter(({ kind }) => kind === "jump").map((stop) => [stop.from, stop]),
  );
  const blocks: {
    -readonly [K in keyof ListedBlock]: ListedBlock[K] extends readonly (infer T)[] ? T[] : ListedBlock[K];
  }[] = [];
  let place = { block: 0, strand: 0 };
  for (const piece of plan.pieces) {
    place = placeOf.get(piece.id) ?? place;
    let block = blocks.at(-1);
    if (block?.index !== place.block) {
      block = { index: place.block, colour: piece.colour, thread: piece.thread, strands: [] };
      blocks.push(block);
    }
    const strand = block.strands.at(-1);
    const stop = stopAfter.get(piece.id);
    if (strand?.index === place.strand)
      block.strands[block.strands.length - 1] = { ...strand, pieces: [...strand.pieces, piece], stop };
    else block.strands.push({ index: place.strand, pieces: [piece], stop });
  }
  return blocks;
}
