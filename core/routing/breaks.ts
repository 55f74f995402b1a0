/**
 * Why a strand must end: no way under what is sewn later comes near enough. The figure is how far the best way
 * falls short: the gap between what can be reached from the one piece and what leads to the other.
 */
import type { Piece } from "../artwork/types.ts";
import { COVER_GAP_MM } from "../constants.ts";
import { boxesMeet, growBox } from "../geometry/point.ts";
import { type Body, type Gap, gapBetween } from "./body.ts";
import type { Break } from "./types.ts";

interface Shortfall extends Gap {
  /** The pieces on either side of the gap. */
  readonly near: number;
  readonly far: number;
}

/** Explains the break after piece i of the sequence. */
export function breakBetween(
  pieces: readonly Piece[],
  covers: readonly boolean[],
  bodies: readonly Body[],
  i: number,
): Break {
  const gap = shortfall(covers, bodies, i);
  const from = pieces[i].id;
  const to = pieces[i + 1].id;
  const short = gap.distance.toFixed(1);
  const direct = gap.near === i && gap.far === i + 1;
  return {
    shortMm: gap.distance,
    at: gap.from,
    reason: direct
      ? `no later piece bridges ${from} and ${to}; they lie ${short} mm apart`
      : `no later piece bridges ${from} and ${to}; nearest cover ends ${short} mm short, between ${pieces[gap.near].id} and ${pieces[gap.far].id}`,
    remedy: direct
      ? `Let ${from} and ${to} overlap (bring them ${short} mm closer), draw a later piece across the gap, or raise the jump threshold above ${short} mm to let it hop.`
      : `Widen ${pieces[gap.near].id} or ${pieces[gap.far].id} by ${short} mm so that they overlap, sew a piece that spans both later than ${from}, or raise the jump threshold above ${short} mm to let it hop.`,
  };
}

/** The narrowest gap between what can be reached from piece i under later pieces and what leads to piece i + 1. */
function shortfall(covers: readonly boolean[], bodies: readonly Body[], i: number): Shortfall {
  const near = spreadFrom(i, covers, bodies, i);
  const far = spreadFrom(i + 1, covers, bodies, i);
  let best: Shortfall | null = null;
  for (const a of near) {
    for (const b of far) {
      const gap = gapBetween(bodies[a], bodies[b], best ? best.distance : Number.MAX_VALUE);
      if (gap && (!best || gap.distance < best.distance)) best = { ...gap, near: a, far: b };
    }
  }
  return best!;
}

/** Piece k and the covering pieces later than i that it can be followed to without any gap. */
function spreadFrom(k: number, covers: readonly boolean[], bodies: readonly Body[], i: number): number[] {
  const found = [k];
  const seen = new Set(found);
  for (const at of found) {
    const box = growBox(bodies[at].box, COVER_GAP_MM);
    for (let l = i + 1; l < bodies.length; l++) {
      if (seen.has(l) || !covers[l] || !boxesMeet(box, bodies[l].box)) continue;
      if (!gapBetween(bodies[at], bodies[l], COVER_GAP_MM)) continue;
      seen.add(l);
      found.push(l);
    }
  }
  return found;
}
