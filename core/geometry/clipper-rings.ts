/**
 * Rings that visit a point twice, split there into rings that don't. clipper-lib looks for such points by comparing
 * each with all that follow in its ring, and asks after each split which ring lies in which: a ring that touches
 * itself in thousands of points takes minutes. Here equal points are found by a hash, and nobody asks: rings are
 * sorted into outer ones and holes by which way they wind. What comes out is the same, ring by ring, point by point.
 */
import type { OutPt, OutRec } from "clipper-lib";

/** A stretch of a ring's points, and the points that close it: those hold no two alike. */
interface Stretch {
  readonly outRec: OutRec;
  /** Of the ring that it was cut from. */
  readonly points: readonly OutPt[];
  /** For each point the place of the next one equal to it, or −1. */
  readonly again: Int32Array;
  readonly from: number;
  readonly to: number;
  readonly closing: OutPt[];
}

/**
 * Splits rings of the library's, each of which keeps one part and has the others made as new records, in time that
 * grows with their points. No two points that follow each other may be equal, which the library has seen to.
 */
export function splitWhereRingsMeetThemselves(outRecs: readonly OutRec[], createOutRec: () => OutRec): void {
  const stretches = outRecs.flatMap(wholeRing);
  for (const stretch of stretches) stretches.push(...splitStretch(stretch, createOutRec));
}

/** A ring as a stretch; none where it visits no point twice. */
function wholeRing(outRec: OutRec): Stretch[] {
  if (outRec.Pts === null || outRec.IsOpen) return [];
  const points = pointsOf(outRec.Pts);
  const again = nextVisits(points);
  return again ? [{ outRec, points, again, from: 0, to: points.length, closing: [] }] : [];
}

/**
 * From the first point that is visited again, what lies between both visits stays, to be split on; what is left is
 * for a new ring. The points up to the first visit close that ring: all of its points were compared with them.
 */
function splitStretch(stretch: Stretch, createOutRec: () => OutRec): Stretch[] {
  const { points, again } = stretch;
  let { from, to, closing } = stretch;
  const apart: Stretch[] = [];
  for (let i = from; i < to; i++) {
    const visit = again[i];
    if (visit < 0 || visit >= to) continue;
    for (let k = from; k < i; k++) closing.push(points[k]);
    apart.push({ outRec: createOutRec(), points, again, from: visit, to, closing });
    [from, to, closing] = [i, visit, []];
  }
  linkRing({ ...stretch, from, to, closing });
  return apart;
}

function linkRing({ outRec, points, from, to, closing }: Stretch): void {
  let before = closing.length > 0 ? closing[closing.length - 1] : points[to - 1];
  const add = (point: OutPt): void => {
    before.Next = point;
    point.Prev = before;
    before = point;
  };
  for (let k = from; k < to; k++) add(points[k]);
  closing.forEach(add);
  outRec.Pts = points[from];
}

function pointsOf(first: OutPt): OutPt[] {
  const points: OutPt[] = [];
  let point = first;
  do {
    points.push(point);
    point = point.Next;
  } while (point !== first);
  return points;
}

/** For each point the place of the next one equal to it, or −1; `null` where all differ. */
function nextVisits(points: readonly OutPt[]): Int32Array | null {
  let size = 4;
  while (size < 2 * points.length) size *= 2;
  /** Places of points by their hash, each one on from where it should lie while that is taken; 0: free. */
  const slots = new Int32Array(size);
  const again = new Int32Array(points.length).fill(-1);
  let isAnyEqual = false;
  for (let i = points.length - 1; i >= 0; i--) {
    const { X, Y } = points[i].Pt;
    let slot = hashOf(X, Y) & (size - 1);
    for (; slots[slot] !== 0; slot = (slot + 1) & (size - 1)) {
      const { Pt: other } = points[slots[slot] - 1];
      if (other.X !== X || other.Y !== Y) continue;
      again[i] = slots[slot] - 1;
      isAnyEqual = true;
      break;
    }
    slots[slot] = i + 1;
  }
  return isAnyEqual ? again : null;
}

/** Spreads whole numbers over 32 bits: multiplied by odd numbers of high entropy and folded. */
function hashOf(x: number, y: number): number {
  const mixed = Math.imul(x, 0x9e3779b1) ^ Math.imul(y, 0x85ebca6b);
  return mixed ^ (mixed >>> 15);
}
