/**
 * The figures of a run sheet, block by block: what the one at the machine needs to know before threading, and how
 * long it takes. Blocks add up to the whole design and its estimated time.
 *
 * Thread is that of the lockstitch model in `threads/consumption.ts`, with the fabric's thickness as set; time is
 * that of the plan's metrics, told apart into what it is made of.
 */
import { countStitches } from "../../plan/metrics.ts";
import { isSewn } from "../../plan/steps.ts";
import type { Plan, SewnStep } from "../../plan/types.ts";
import { addThread, lockstitchThread, NO_THREAD, type ThreadLengths } from "../../threads/consumption.ts";
import type { ThreadLabel } from "../../threads/types.ts";

export interface BlockFigures extends ThreadLengths {
  /** Its place in the sewing order, from 1. */
  readonly number: number;
  /** Number of its thread, from 1 in the order of first use: a thread that comes back keeps its number. */
  readonly threadNumber: number;
  readonly colour: string;
  readonly thread?: ThreadLabel;
  readonly pieces: number;
  readonly stitches: number;
  readonly hops: number;
  /** The trim after its last strand is its own, except at the design's end. */
  readonly trims: number;
  readonly seconds: number;
}

export interface TimeFigures {
  readonly sewingSeconds: number;
  readonly hopSeconds: number;
  readonly trimSeconds: number;
  readonly changeSeconds: number;
  readonly totalSeconds: number;
}

export interface SheetFigures {
  readonly blocks: readonly BlockFigures[];
  /** How many different threads. */
  readonly threads: number;
  readonly stitches: number;
  readonly hops: number;
  readonly trims: number;
  readonly changes: number;
  readonly thread: ThreadLengths;
  readonly time: TimeFigures;
}

export function sheetFigures(plan: Plan): SheetFigures {
  const { stitchesPerMinute, hopSeconds, trimSeconds, colourChangeSeconds } = plan.settings;
  const blocks = blockFigures(plan);
  const sum = (pick: (block: BlockFigures) => number) =>
    blocks.reduce((total, block) => total + pick(block), 0);
  const stitches = sum((block) => block.stitches);
  const hops = sum((block) => block.hops);
  const trims = sum((block) => block.trims);
  const changes = Math.max(0, blocks.length - 1);
  const time = {
    sewingSeconds: (stitches / stitchesPerMinute) * 60,
    hopSeconds: hops * hopSeconds,
    trimSeconds: trims * trimSeconds,
    changeSeconds: changes * colourChangeSeconds,
  };
  return {
    blocks,
    threads: new Set(blocks.map(({ threadNumber }) => threadNumber)).size,
    stitches,
    hops,
    trims,
    changes,
    thread: blocks.reduce<ThreadLengths>(addThread, NO_THREAD),
    time: { ...time, totalSeconds: Object.values(time).reduce((total, seconds) => total + seconds, 0) },
  };
}

function blockFigures(plan: Plan): BlockFigures[] {
  const { stitchesPerMinute, hopSeconds, trimSeconds, colourChangeSeconds, fabricThicknessMm } =
    plan.settings;
  const pieceOf = new Map(plan.pieces.map((piece) => [piece.id, piece]));
  const isHop = new Set(plan.connectors.filter(({ kind }) => kind === "hop").map(({ id }) => id));
  const numbers = new Map<string, number>();

  return blocksIn(plan).map(({ steps, trims }, k) => {
    const ids = new Set(steps.flatMap(({ piece }) => (piece === undefined ? [] : [piece])));
    const owner = [...ids].map((id) => pieceOf.get(id)).find((piece) => piece !== undefined);
    const colour = owner?.colour ?? "#000000";
    if (!numbers.has(colour)) numbers.set(colour, numbers.size + 1);
    const stitches = countStitches(steps);
    const hops = steps.filter(({ connector }) => connector !== undefined && isHop.has(connector)).length;
    return {
      number: k + 1,
      threadNumber: numbers.get(colour) as number,
      colour,
      ...(owner?.thread === undefined ? {} : { thread: owner.thread }),
      pieces: ids.size,
      stitches,
      hops,
      trims,
      ...steps.map(({ points }) => lockstitchThread(points, fabricThicknessMm)).reduce(addThread, NO_THREAD),
      seconds:
        (stitches / stitchesPerMinute) * 60 +
        hops * hopSeconds +
        trims * trimSeconds +
        (k > 0 ? colourChangeSeconds : 0),
    };
  });
}

/** The steps of each block in needle order, and the trims that follow its strands. */
function blocksIn(plan: Plan): { steps: SewnStep[]; trims: number }[] {
  const blocks = new Map<number, { steps: SewnStep[]; trims: number }>();
  let current: { steps: SewnStep[]; trims: number } | undefined;
  for (const step of plan.sewing) {
    if (isSewn(step)) {
      current = blocks.get(step.block) ?? { steps: [], trims: 0 };
      blocks.set(step.block, current);
      current.steps.push(step);
    } else if (step.role === "trim" && current) current.trims++;
  }
  return [...blocks.values()];
}
