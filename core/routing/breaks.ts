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
  const short = shortMm.toFixed(1);
  const letHop = `raise the jump threshold above ${short} mm to let it hop`;
  const ends = { shortMm, at: (openings[0]?.gap ?? direct).from };
  if (openings.length > 1) {
    const list = openings.map(
      ({ near, far, gap }) =>
        `${gap.distance.toFixed(1)} mm between ${pieces[near].id} and ${pieces[far].id}`,
    );
    return {
      ...ends,
      reason: `no later piece bridges ${from} and ${to}; the best way leaves ${short} mm in sight: ${list.join(", ")}`,
      remedy: `Close one of these gaps by letting the two pieces overlap, draw a later piece across, or ${letHop}.`,
    };
  }
  const { near: a, far: b } = openings[0] ?? { near: i, far: i + 1 };
  if (a === i && b === i + 1) {
    return {
      ...ends,
      reason: `no later piece bridges ${from} and ${to}; they lie ${short} mm apart`,
      remedy: `Bring ${from} and ${to} ${short} mm closer, draw a later piece across the gap, or ${letHop}.`,
    };
  }
  return {
    ...ends,
    reason: `no later piece bridges ${from} and ${to}; nearest cover ends ${short} mm short, between ${pieces[a].id} and ${pieces[b].id}`,
    remedy: `Widen ${pieces[a].id} or ${pieces[b].id} by ${short} mm so that they overlap, draw a later piece across the gap, or ${letHop}.`,
  };
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
