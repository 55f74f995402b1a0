/**
 * What each thread of a plan has to sew, and how much of it and of the bobbin's thread that takes, by the model of
 * `threads/consumption.ts`. The ends that a trim leaves and what a machine loses at a colour change are not in it.
 */
import { addThread, lockstitchThread, NO_THREAD, type ThreadLengths } from "../threads/consumption.ts";
import type { ThreadLabel } from "../threads/types.ts";
import { countStitches } from "./metrics.ts";
import { isSewn } from "./steps.ts";
import type { Plan, SewnStep } from "./types.ts";

/** How much thread of one colour a plan takes. */
export interface ThreadUse extends ThreadLengths {
  readonly colour: string;
  /** Where the colour is that of a thread from a list: which. */
  readonly thread?: ThreadLabel;
  /** How many blocks are sewn with it: how often it is threaded. */
  readonly blocks: number;
  readonly stitches: number;
}

/** One entry a thread, in the order in which they are first sewn. */
export function threadUse(plan: Plan): ThreadUse[] {
  const pieceOf = new Map(plan.pieces.map((piece) => [piece.id, piece]));
  const uses = new Map<string, ThreadUse>();
  for (const steps of stepsByBlock(plan)) {
    const owner = steps.find(({ piece }) => piece !== undefined)?.piece;
    const piece = owner === undefined ? undefined : pieceOf.get(owner);
    if (piece === undefined) continue;
    const { colour, thread } = piece;
    const before = uses.get(colour) ?? { colour, blocks: 0, stitches: 0, ...NO_THREAD };
    uses.set(colour, {
      ...before,
      ...(thread === undefined ? {} : { thread }),
      blocks: before.blocks + 1,
      stitches: before.stitches + countStitches(steps),
      ...steps
        .map(({ points }) => lockstitchThread(points, plan.settings.fabricThicknessMm))
        .reduce(addThread, before),
    });
  }
  return [...uses.values()];
}

function stepsByBlock(plan: Plan): SewnStep[][] {
  const blocks = new Map<number, SewnStep[]>();
  for (const step of plan.sewing) {
    if (!isSewn(step)) continue;
    const steps = blocks.get(step.block);
    if (steps) steps.push(step);
    else blocks.set(step.block, [step]);
  }
  return [...blocks.values()];
}
