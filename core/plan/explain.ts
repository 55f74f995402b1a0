/**
 * Why the machine stops where it does, and the smallest changes that would save a stop. Every change is tried by
 * the planner before it is offered; what saves nothing is not.
 */
import type { Artwork, Marks, Piece } from "../artwork/types.ts";
import { createMemory, type Memory, NO_MEMORY } from "../memory.ts";
import type { Break } from "../routing/types.ts";
import { hasBit } from "../sequence/bits.ts";
import { orderAsWished } from "../sequence/order-as-wished.ts";
import { countOf, type OrderCosts, weighOrders } from "../sequence/order-costs.ts";
import { isLegal, type Precedence, precedenceOf } from "../sequence/precedence.ts";
import type { Sequence } from "../sequence/types.ts";
import type { Settings } from "../settings.ts";
import { applyChange, type Change, changeInWords, type PlanInputs } from "./changes.ts";
import { planArtwork } from "./make-plan.ts";
import type { Plan } from "./types.ts";

/** A stop that is left: the end of a strand inside a block, or a block whose colour was on the needle before. */
export interface Stop {
  readonly kind: "break" | "block";
  /** The last piece before it and the first after it. */
  readonly from: string;
  readonly to: string;
  readonly reason: string;
}

/** A change that was tried, and what it saves. */
export interface Suggestion {
  readonly change: Change;
  /** What to do, in words. */
  readonly what: string;
  readonly blocksSaved: number;
  readonly strandsSaved: number;
}

/** Why the machine stops where it does, and what would save a stop. */
export interface Explanation {
  readonly plan: Plan;
  readonly stops: readonly Stop[];
  /** Best first: most blocks saved, then most strands, then the smallest change. */
  readonly suggestions: readonly Suggestion[];
}

/** Orders to weigh, and suggestions to plan in full, at the most: enough for drawings that are looked at by eye. */
const MOST_ORDERS = 6000;
const MOST_TRIED = 24;
/** A gap wider than this is not closed by widening a shape. */
const WIDEST_MM = 8;
/** How far beyond a gap the threshold is raised so that the gap is hopped. */
const THRESHOLD_STEP_MM = 0.1;
const HIGHEST_THRESHOLD_MM = 6;

/** Explains the stops of a plan and suggests changes. Artwork has its threads; marks are millimetres. Planning goes on from what `memory` holds. */
export function explain(
  artwork: Artwork,
  marks: Marks,
  settings: Settings,
  memory: Memory = createMemory(),
): Explanation {
  const inputs = { artwork, marks, settings };
  const plan = planArtwork(artwork, marks, settings, [], memory);
  const { sequence } = orderAsWished(artwork, settings, marks.after, memory);
  const breaks = plan.connectors.filter(({ kind }) => kind === "jump");
  const gaps = breaks.flatMap((stop) => (stop.gaps && stop.gaps.length > 0 ? [stop.gaps] : []));
  const candidates = [
    ...orderChanges(sequence, settings),
    ...drawingChanges(gaps),
    ...thresholdChanges(gaps, settings),
  ];
  const suggestions = candidates.slice(0, MOST_TRIED).flatMap((change) => {
    const { metrics } = planWith(inputs, change, memory);
    const blocksSaved = plan.metrics.blocks - metrics.blocks;
    const strandsSaved = plan.metrics.strands - metrics.strands;
    if (blocksSaved < 0 || strandsSaved < 0 || blocksSaved + strandsSaved === 0) return [];
    return [{ change, what: changeInWords(change), blocksSaved, strandsSaved }];
  });
  return {
    plan,
    stops: [
      ...breaks.map(({ from, to, reason }): Stop => ({ kind: "break", from, to, reason: reason ?? "" })),
      ...extraBlocks(sequence, settings),
    ],
    suggestions: suggestions.sort(byGain),
  };
}

/** The plan with a change made, as `explain` tried it. */
export function planWith(inputs: PlanInputs, change: Change, memory: Memory = NO_MEMORY): Plan {
  const { artwork, marks, settings } = applyChange(inputs, change, memory);
  return planArtwork(artwork, marks, settings, [], memory);
}

const byGain = (a: Suggestion, b: Suggestion): number =>
  b.blocksSaved - a.blocksSaved || b.strandsSaved - a.strandsSaved || sizeOf(a.change) - sizeOf(b.change);

/** An order costs nothing to change, a drawing what must be drawn, a setting touches everything. */
const sizeOf = (change: Change): number =>
  change.kind === "order" ? 0 : change.kind === "drawing" ? change.widenMm : 100;

/** Blocks whose colour was sewn before, each with the first overlap that keeps them apart. */
function extraBlocks({ pieces, blocks }: Sequence, settings: Settings): Stop[] {
  const precedence = precedenceOf(pieces, settings.pullMm);
  return blocks.flatMap((block, b) => {
    const before = blocks.slice(0, b).findLast(({ colour }) => colour === block.colour);
    if (!before) return [];
    const stop = { kind: "block" as const, from: pieces[block.start - 1].id, to: pieces[block.start].id };
    const blocker = firstBlocker(before.end, block.start, block.end, precedence);
    return [
      {
        ...stop,
        reason:
          blocker === null
            ? `${block.colour} comes back though nothing overlaps that forbids sewing it with ${pieces[before.end - 1].id}`
            : `${block.colour} must come back: ${pieces[blocker.after].id} lies on ${pieces[blocker.before].id}, which is sewn in between`,
      },
    ];
  });
}

function firstBlocker(from: number, start: number, end: number, { before }: Precedence) {
  for (let k = start; k < end; k++) {
    for (let j = from; j < start; j++) if (hasBit(before[k], j)) return { before: j, after: k };
  }
  return null;
}

/** Moves of one element to right after a piece that save a block or a strand, most saved first. */
function orderChanges({ pieces }: Sequence, settings: Settings): Change[] {
  const precedence = precedenceOf(pieces, settings.pullMm);
  const weigh = weighOrders(pieces, settings);
  const order = pieces.map((_, k) => k);
  const now = countOf(weigh.costOf(order));
  const found: { change: Change; blocks: number; strands: number }[] = [];
  for (const [k, target] of moves(pieces, weigh)) {
    // A wish about the order is an element's, and moves all its pieces.
    const moved = order.filter((one) => pieces[one].element === pieces[k].element);
    if (moved.includes(target)) continue;
    const rest = order.filter((one) => !moved.includes(one));
    const at = rest.indexOf(target) + 1;
    const edited = [...rest.slice(0, at), ...moved, ...rest.slice(at)];
    if (!isLegal(edited, precedence)) continue;
    const then = countOf(weigh.costOf(edited));
    if (then.blocks > now.blocks || then.strands > now.strands) continue;
    if (then.blocks === now.blocks && then.strands === now.strands) continue;
    found.push({ change: { kind: "order", piece: pieces[k].id, after: pieces[target].id }, ...then });
  }
  return found
    .sort((a, b) => a.blocks - b.blocks || a.strands - b.strands)
    .slice(0, MOST_TRIED / 2)
    .map(({ change }) => change);
}

/** Pairs of pieces of one colour, [what is moved, what it is moved after], nearest in order first. */
function moves(pieces: readonly Piece[], { colours }: OrderCosts): [number, number][] {
  const pairs: [number, number][] = [];
  for (let span = 2; span < pieces.length; span++) {
    for (let k = 0; k < pieces.length; k++) {
      for (const target of [k - span, k + span - 1]) {
        if (target < 0 || target >= pieces.length || colours[target] !== colours[k]) continue;
        pairs.push([k, target]);
      }
    }
    if (pairs.length > MOST_ORDERS) break;
  }
  return pairs;
}

/** For each break with one narrow gap: either side widened across it. */
const drawingChanges = (breaks: readonly Break["gaps"][]): Change[] =>
  breaks.flatMap((gaps): Change[] => {
    const [gap] = gaps;
    if (gaps.length !== 1 || gap.widthMm > WIDEST_MM) return [];
    const widen = { kind: "drawing" as const, widenMm: gap.widthMm };
    return [
      { ...widen, piece: gap.near, towards: gap.far, from: gap.from, to: gap.to },
      { ...widen, piece: gap.far, towards: gap.near, from: gap.to, to: gap.from },
    ];
  });

/** The jump threshold raised so far that the narrowest break, or every break up to 6 mm, is hopped. */
function thresholdChanges(breaks: readonly Break["gaps"][], settings: Settings): Change[] {
  const widths = breaks
    .map((gaps) => gaps.reduce((sum, { hopCost }) => sum + hopCost, 0))
    .filter((mm) => mm >= settings.jumpThresholdMm && mm < HIGHEST_THRESHOLD_MM);
  const values = [Math.min(...widths), Math.max(...widths)]
    .filter(Number.isFinite)
    .map((mm) => Math.ceil((mm + THRESHOLD_STEP_MM / 2) / THRESHOLD_STEP_MM) * THRESHOLD_STEP_MM)
    .map((mm) => Math.round(mm * 10) / 10);
  return [...new Set(values)].map((value) => ({ kind: "setting", name: "jumpThresholdMm", value }));
}
