/**
 * The stretches of a polyline that lie in a region, found segment by segment: cut at every crossing with an edge,
 * and kept where the middle of the cut lies inside. Unlike a sweep over the whole plane this does not mind a line
 * that runs over itself, as one does that is sewn out and back.
 */
import { boxesMeet, boxOf, distance, lerp } from "./point.ts";
import { regionBox, regionContains, ringsOf } from "./region.ts";
import type { Box, Point, Polyline, Region } from "./types.ts";

interface Edge {
  readonly start: Point;
  readonly end: Point;
  readonly box: Box;
}

/** Shorter cuts are rounding: where a line crosses a corner, two edges are met at once. */
const LEAST_CUT_MM = 1e-9;

/** The parts of a polyline inside the region, in order. What only touches its edge may go either way. */
export function clipLine(line: Polyline, region: Region): Polyline[] {
  if (line.length < 2 || region.length === 0) return [];
  const lineBox = boxOf(line);
  if (!boxesMeet(lineBox, regionBox(region))) return [];
  const edges = edgesNear(region, lineBox);
  const stretches: Point[][] = [];
  let open: Point[] | null = null;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    const cuts = [0, ...crossingFractions(a, b, edges), 1];
    for (let k = 1; k < cuts.length; k++) {
      const [from, to] = [lerp(a, b, cuts[k - 1]), k + 1 < cuts.length ? lerp(a, b, cuts[k]) : b];
      if (distance(from, to) <= LEAST_CUT_MM) continue;
      if (!regionContains(region, lerp(from, to, 0.5))) open = null;
      else if (open) open.push(to);
      else {
        open = [from, to];
        stretches.push(open);
      }
    }
  }
  return stretches;
}

/** The same for many polylines: one list of stretches. */
export const clipLines = (lines: readonly Polyline[], region: Region): Polyline[] =>
  lines.flatMap((line) => clipLine(line, region));

/** The edges whose box meets another: of a large outline few do, and only for those is anything made. */
function edgesNear(region: Region, { minX, minY, maxX, maxY }: Box): Edge[] {
  const edges: Edge[] = [];
  for (const ring of ringsOf(region))
    for (let i = 0; i < ring.length; i++) {
      const [start, end] = [ring[i], ring[i + 1 < ring.length ? i + 1 : 0]];
      if (Math.max(start[0], end[0]) < minX || Math.min(start[0], end[0]) > maxX) continue;
      if (Math.max(start[1], end[1]) < minY || Math.min(start[1], end[1]) > maxY) continue;
      edges.push({ start, end, box: boxOf([start, end]) });
    }
  return edges;
}

/** Where segment ab meets edges, as fractions of it, ascending. */
function crossingFractions(a: Point, b: Point, edges: readonly Edge[]): number[] {
  const box = boxOf([a, b]);
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const fractions: number[] = [];
  for (const { start, end, box: around } of edges) {
    if (!boxesMeet(box, around)) continue;
    const [ex, ey] = [end[0] - start[0], end[1] - start[1]];
    const denominator = dx * ey - dy * ex;
    if (denominator === 0) continue;
    const [fx, fy] = [start[0] - a[0], start[1] - a[1]];
    const t = (fx * ey - fy * ex) / denominator;
    const u = (fx * dy - fy * dx) / denominator;
    if (t > 0 && t < 1 && u >= 0 && u <= 1) fractions.push(t);
  }
  return fractions.sort((p, q) => p - q);
}
