/**
 * How a fill turns from one row to the next.
 *
 * Sewn plainly, a *turn* is two needle points a row's spacing apart: a stitch too short to be worth sewing, once a
 * row. There are two ways to do without it and keep a needle point on the outline for every row:
 *
 * - A *hook*: from the end of the row back to a needle point inside, half-way between the two rows, and out again
 *   to where the next one starts. Both stitches are as long as the shortest that is worth sewing.
 * - A *zigzag*, where the region is so slim that rows have no room for hooks: rows follow each other at half their
 *   spacing (a *half row* lies between any two), and each is one stitch from side to side, whose end is where the
 *   next one starts. It lies as dense as satin.
 *
 * Both are common practice, no source.
 */
import { norm } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import type { Span } from "./fill-rows.ts";

/** A row and the way it is sewn, from one end to the other. */
export interface SewnRow {
  readonly span: Span;
  readonly startX: number;
  readonly endX: number;
}

/** How a row meets those before and after it. */
export interface TurnedRow extends SewnRow {
  /** Whether a needle point at the start or the end is left out. */
  readonly skipsStart: boolean;
  readonly skipsEnd: boolean;
  /** The needle point between the row's end and the start of the next, if any. */
  readonly hook: Point | null;
}

/** Rows sewn no longer than this are sewn as a zigzag. */
export const SLIM_MM = 2.4;

/** Where both edges shift by no more than this from row to row, the middle between two rows is a row as well. */
const CALM_MM = 1;

/**
 * Hooks go in further than they must by these, by turns: needle points side by side would draw a line along the edge,
 * weaken the cloth there, and end its thicker rim in a ridge.
 * Every other row ends on the same side.
 */
const HOOK_DEPTHS_MM = [0, 0.2, 0.4, 0.6, 0.1, 0.3, 0.5, 0];

/** A row leaves so much room beyond a hook's needle point. */
const HOOK_ROOM_MM = 0.2;

/** A step to the end of the next row that is no longer than this is just taken. */
export const STEP_MM = 1.2;

const lengthOf = ({ sewnLeft, sewnRight }: Span): number => sewnRight - sewnLeft;

/** The spans of a stack, in their order, with half rows between slim ones. */
export function withHalfRows(spans: readonly Span[], shortMm: number): Span[] {
  return spans.flatMap((span, i) => {
    const next = spans[i + 1];
    return next && isSlimPair(span, next, shortMm) ? [span, between(span, next)] : [span];
  });
}

function isSlimPair(a: Span, b: Span, shortMm: number): boolean {
  const shift = Math.max(Math.abs(a.sewnLeft - b.sewnLeft), Math.abs(a.sewnRight - b.sewnRight));
  const length = Math.max(lengthOf(a), lengthOf(b));
  return length <= SLIM_MM && shift <= CALM_MM && Math.abs(a.y - b.y) < shortMm;
}

const between = (a: Span, b: Span): Span => ({
  ...a,
  y: (a.y + b.y) / 2,
  left: (a.left + b.left) / 2,
  right: (a.right + b.right) / 2,
  sewnLeft: (a.sewnLeft + b.sewnLeft) / 2,
  sewnRight: (a.sewnRight + b.sewnRight) / 2,
  ledges: [],
});

/**
 * Turns without a stitch shorter than `shortMm`, where it can be helped. `isPlain(i)`: how row i meets the next is
 * not for this function to say. `keepsLast`: the last row is sewn from its very start.
 */
export function turnRows(
  rows: readonly SewnRow[],
  shortMm: number,
  isPlain: (i: number) => boolean,
  keepsLast: boolean,
): TurnedRow[] {
  const turned = rows.map(({ span, startX, endX }) => ({
    span,
    startX,
    endX,
    skipsStart: false,
    skipsEnd: false,
    hook: null as Point | null,
  }));
  // What the way to a row's start lies under has to be sewn whole.
  let isGoneUnder = true;
  for (let i = 0; i + 1 < rows.length; i++) {
    const [row, next] = [turned[i], turned[i + 1]];
    const outward = Math.sign(row.endX - row.startX);
    const further = (next.startX - row.endX) * outward;
    const rise = Math.abs(next.span.y - row.span.y);
    const isTurn = !isPlain(i) && Math.sign(next.startX - next.endX) === outward;
    if (isTurn && norm(further, rise) < shortMm - 1e-6) {
      const reach = Math.sqrt(shortMm ** 2 - (rise / 2) ** 2) + 1e-9;
      const slimmest = Math.min(lengthOf(row.span), lengthOf(next.span));
      const isSlim = Math.max(lengthOf(row.span), lengthOf(next.span)) <= SLIM_MM;
      if (isSlim || slimmest < reach + HOOK_ROOM_MM) {
        if (further > 1e-6 && !isGoneUnder) row.skipsEnd = true;
        else if (!keepsLast || i + 2 < rows.length) next.skipsStart = true;
      } else {
        const inner = row.endX + outward * Math.min(0, further);
        const deeper = reach + HOOK_DEPTHS_MM[row.span.row % HOOK_DEPTHS_MM.length];
        const inwardMm = slimmest < deeper + 2 * HOOK_ROOM_MM ? reach : deeper;
        row.hook = [inner - outward * inwardMm, (row.span.y + next.span.y) / 2];
      }
    }
    isGoneUnder = !isTurn || further > STEP_MM;
  }
  return turned;
}
