/**
 * Why a strand must end: even the best way under what is sewn later leaves too much thread in sight. The
 * figure is how much, and between which pieces.
 */
import type { Piece } from "../artwork/types.ts";
import { COVER_GAP_MM } from "../constants.ts";
import { boxesMeet, growBox } from "../geometry/point.ts";
import { type Body, gapBetween } from "./body.ts";
import { type Crossing, leastGaps } from "./least-gaps.ts";
import type { Break } from "./types.ts";

/** Gaps wider than this are not worth closing by a nudge. */
const FAR_MM = 8;

/** Explains the break after piece i of the sequence. */
export function breakBetween(
  pieces: readonly Piece[],
  covers: readonly boolean[],
  bodies: readonly Body[],
  i: number,
): Break {
  const [from, to] = [pieces[i].id, pieces[i + 1].id];
  const direct = gapBetween(bodies[i], bodies[i + 1], Number.MAX_VALUE)!;
  const near = growBox(bodies[i].box, direct.distance);
  const helpers = pieces
    .map((_, k) => k)
    .filter((k) => k > i + 1 && covers[k] && boxesMeet(near, bodies[k].box));
  const nodes = [i, ...helpers, i + 1];
  const way = leastGaps(
    nodes.map((k) => bodies[k]),
    direct.distance + COVER_GAP_MM,
  ) ?? [{ node: nodes.length - 1, gap: direct }];
  const openings = openingsOf(way, nodes);
  const shortMm = openings.reduce((sum, { gap }) => sum + gap.distance, 0);
  const named = openings.map(({ near, far, gap }) => ({
    near: pieces[near].id,
    far: pieces[far].id,
    mm: gap.distance.toFixed(1),
  }));
  return {
    shortMm,
    at: (openings[0]?.gap ?? direct).from,
    gaps: openings.map(({ near, far, gap }) => ({
      near: pieces[near].id,
      far: pieces[far].id,
      widthMm: gap.distance,
      from: gap.from,
      to: gap.to,
    })),
    reason: reasonFor(from, to, named, shortMm.toFixed(1)),
    remedy: remedyFor(from, to, named, shortMm),
  };
}

interface NamedGap {
  readonly near: string;
  readonly far: string;
  readonly mm: string;
}

function reasonFor(from: string, to: string, gaps: readonly NamedGap[], short: string): string {
  if (gaps.length === 0) return `a pin of ${from} or ${to} lies where no later piece hides the way from it`;
  const unbridged = `no later piece bridges ${from} and ${to}`;
  if (gaps.length > 1) {
    const list = gaps.map(({ near, far, mm }) => `${mm} mm between ${near} and ${far}`).join(", ");
    return `${unbridged}; the best way leaves ${short} mm in sight: ${list}`;
  }
  const [{ near, far }] = gaps;
  return near === from && far === to
    ? `${unbridged}; they lie ${short} mm apart`
    : `${unbridged}; nearest cover ends ${short} mm short, between ${near} and ${far}`;
}

function remedyFor(from: string, to: string, gaps: readonly NamedGap[], shortMm: number): string {
  const short = shortMm.toFixed(1);
  if (gaps.length === 0)
    return `Move the exit marker of ${from} and the entry marker of ${to} under one later piece.`;
  if (shortMm > FAR_MM)
    return `Draw a later piece that covers a way of ${short} mm from ${from} to ${to}, or keep the trim: so far apart it is the cleaner way.`;
  const letHop = `raise the jump threshold above ${short} mm to let it hop`;
  if (gaps.length > 1)
    return `Close one of these gaps by letting its two pieces overlap, draw a later piece across, or ${letHop}.`;
  const [{ near, far }] = gaps;
  return `Widen ${near} or ${far} by ${short} mm so that they overlap, draw a later piece across the gap, or ${letHop}.`;
}

/** The gaps of a way that can be seen, with the pieces on either side. */
function openingsOf(way: readonly Crossing[], nodes: readonly number[]) {
  return way
    .map(({ node, gap }, index) => ({
      gap,
      near: index === 0 ? nodes[0] : nodes[way[index - 1].node],
      far: nodes[node],
    }))
    .filter(({ gap }) => gap.distance > COVER_GAP_MM);
}
