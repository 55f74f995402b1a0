/**
 * Why a strand must end: even the best way under what is sewn later leaves too much thread in sight. The
 * figure is how much, and between which pieces.
 */
import type { Piece } from "../artwork/types.ts";
import { COVER_GAP_MM } from "../constants.ts";
import { boxesMeet, growBox } from "../geometry/point.ts";
import { type Body, gapBetween } from "./body.ts";
import type { GapWays } from "./gap-ways.ts";
import type { HopCost } from "./hops.ts";
import type { Crossing } from "./least-gaps.ts";
import type { Break } from "./types.ts";

/** Gaps wider than this are not worth closing by a nudge. */
const FAR_MM = 8;

/** Gaps named in one sentence. */
const MOST_TOLD = 6;

/** The way from piece i of a sequence to the next over the least width of gaps; `ways` are those among its bodies. */
export function bestWay(
  covers: readonly boolean[],
  bodies: readonly Body[],
  ways: GapWays,
  i: number,
): readonly Crossing[] {
  const direct = gapBetween(bodies[i], bodies[i + 1], Number.MAX_VALUE)!;
  const near = growBox(bodies[i].box, direct.distance);
  const helps = (k: number): boolean => k > i + 1 && covers[k] && boxesMeet(near, bodies[k].box);
  const way = ways({ from: i, to: i + 1, mayCross: helps, after: i + 2 }, direct.distance + COVER_GAP_MM);
  return way ?? [{ node: i + 1, gap: direct }];
}

/** Explains the break after piece i of the sequence, where that is the best way. */
export function breakBetween(
  pieces: readonly Piece[],
  way: readonly Crossing[],
  i: number,
  weigh: HopCost,
  hopLimitMm: number,
): Break {
  const [from, to] = [pieces[i].id, pieces[i + 1].id];
  const gaps = openingsOf(way, i).map(({ near, far, gap }) => ({
    near: pieces[near].id,
    far: pieces[far].id,
    widthMm: gap.distance,
    hopCost: weigh(gap.from, gap.to, pieces[i].colour),
    from: gap.from,
    to: gap.to,
  }));
  const shortMm = gaps.reduce((sum, { widthMm }) => sum + widthMm, 0);
  const hopCost = gaps.reduce((sum, gap) => sum + gap.hopCost, 0);
  // It would be hopped, were it not for what it crosses.
  const isHopLength = shortMm > 0 && shortMm < hopLimitMm;
  const named = gaps.map(({ near, far, widthMm }) => ({ near, far, mm: widthMm.toFixed(1) }));
  return {
    shortMm,
    at: gaps[0]?.from ?? way[0].gap.from,
    gaps,
    reason: `${reasonFor(from, to, named, shortMm.toFixed(1))}${isHopLength ? ON_ANOTHER_COLOUR : ""}`,
    remedy: remedyFor(from, to, named, shortMm, hopCost),
  };
}

const ON_ANOTHER_COLOUR = ", over another colour, where a hop is seen at once";

interface NamedGap {
  readonly near: string;
  readonly far: string;
  readonly mm: string;
}

function reasonFor(from: string, to: string, gaps: readonly NamedGap[], short: string): string {
  if (gaps.length === 0) return `a pin of ${from} or ${to} lies where no later piece hides the way from it`;
  const unbridged = `no later piece bridges ${from} and ${to}`;
  if (gaps.length > 1) {
    const list = gaps.slice(0, MOST_TOLD).map(({ near, far, mm }) => `${mm} mm between ${near} and ${far}`);
    const more = gaps.length > MOST_TOLD ? `, and ${gaps.length - MOST_TOLD} more` : "";
    return `${unbridged}; the best way leaves ${short} mm in sight: ${list.join(", ")}${more}`;
  }
  const [{ near, far }] = gaps;
  return near === from && far === to
    ? `${unbridged}; they lie ${short} mm apart`
    : `${unbridged}; nearest cover ends ${short} mm short, between ${near} and ${far}`;
}

function remedyFor(
  from: string,
  to: string,
  gaps: readonly NamedGap[],
  shortMm: number,
  hopCost: number,
): string {
  const short = shortMm.toFixed(1);
  if (gaps.length === 0)
    return `Move the exit marker of ${from} and the entry marker of ${to} under one later piece.`;
  if (shortMm > FAR_MM)
    return `Draw a later piece that covers a way of ${short} mm from ${from} to ${to}, or keep the trim: so far apart it is the cleaner way.`;
  const letHop = `raise the jump threshold above ${hopCost.toFixed(1)} mm to let it hop`;
  if (gaps.length > 1)
    return `Close one of these gaps by letting its two pieces overlap, draw a later piece across, or ${letHop}.`;
  const [{ near, far }] = gaps;
  return `Widen ${near} or ${far} by ${short} mm so that they overlap, draw a later piece across the gap, or ${letHop}.`;
}

/** The gaps of a way from piece i that can be seen, with the pieces on either side. */
function openingsOf(way: readonly Crossing[], i: number) {
  return way
    .map(({ node, gap }, index) => ({ gap, near: index === 0 ? i : way[index - 1].node, far: node }))
    .filter(({ gap }) => gap.distance > COVER_GAP_MM);
}
