/**
 * Rings and lines with fewer points that keep near their old course (Douglas and Peucker 1973): between two points that
 * stay, no point that goes lay farther than the tolerance from the straight line.
 */
import { distance, nearestOnSegment } from "./point.ts";
import type { Point, Polyline, Ring } from "./types.ts";

/** The ring within `toleranceMm` of its old course. It may be left with fewer than three points, and may cross itself. */
export function simplifyRing(ring: Ring, toleranceMm: number): Ring {
  if (ring.length < 4) return ring;
  const far = farthestFrom(ring[0], ring);
  const closed = [...ring, ring[0]];
  const stays = new Uint8Array(closed.length);
  stays[0] = 1;
  stays[far] = 1;
  keepBetween(closed, 0, far, toleranceMm, stays);
  keepBetween(closed, far, closed.length - 1, toleranceMm, stays);
  return ring.filter((_, i) => stays[i] === 1);
}

/** An open line within `toleranceMm` of its old course, from its first point to its last. */
export function simplifyLine(line: Polyline, toleranceMm: number): Polyline {
  if (line.length < 3) return line;
  const stays = new Uint8Array(line.length);
  stays[0] = 1;
  stays[line.length - 1] = 1;
  keepBetween(line, 0, line.length - 1, toleranceMm, stays);
  return line.filter((_, i) => stays[i] === 1);
}

function farthestFrom(p: Point, ring: Ring): number {
  let best = 0;
  for (let i = 1; i < ring.length; i++) if (distance(p, ring[i]) > distance(p, ring[best])) best = i;
  return best;
}

function keepBetween(line: Polyline, from: number, to: number, toleranceMm: number, stays: Uint8Array): void {
  let farthest = -1;
  let most = toleranceMm;
  for (let i = from + 1; i < to; i++) {
    const off = distance(line[i], nearestOnSegment(line[i], line[from], line[to]));
    if (off > most) [farthest, most] = [i, off];
  }
  if (farthest < 0) return;
  stays[farthest] = 1;
  keepBetween(line, from, farthest, toleranceMm, stays);
  keepBetween(line, farthest, to, toleranceMm, stays);
}
