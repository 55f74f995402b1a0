/**
 * A body is where a piece can be left or entered: its area, its line or lines, or, once pinned, one point of it.
 * Ports are the stretches of a body that also lie somewhere else: in another body, or under the cover.
 */
import type { Piece } from "../artwork/types.ts";
import { COVER_GAP_MM } from "../constants.ts";
import { clipLine } from "../geometry/clip-line.ts";
import { polylineRegionDistance, regionDistance } from "../geometry/distance.ts";
import { boxesMeet, boxOf, growBox, lerp } from "../geometry/point.ts";
import { closeRing, nearestOnPolyline } from "../geometry/polyline.ts";
import { intersect, nearestOnEdge, offset, regionBox, regionContains, ringsOf } from "../geometry/region.ts";
import type { Box, Point, Polyline, Region } from "../geometry/types.ts";

export type Body =
  | { readonly kind: "area"; readonly region: Region; readonly box: Box }
  | { readonly kind: "line"; readonly lines: readonly Polyline[]; readonly box: Box }
  | { readonly kind: "point"; readonly at: Point; readonly box: Box };

export interface Gap {
  readonly distance: number;
  readonly from: Point;
  readonly to: Point;
}

export function bodyOf(piece: Piece): Body {
  const lines = linesOf(piece);
  return lines
    ? { kind: "line", lines, box: boxOf(lines.flat()) }
    : { kind: "area", region: piece.region, box: regionBox(piece.region) };
}

/** The lines that a run is sewn along; `null` for all that is sewn as an area. */
export function linesOf({ technique, line, lines }: Piece): readonly Polyline[] | null {
  if (technique !== "run") return null;
  return lines ?? (line ? [line] : null);
}

export const pointBody = (at: Point): Body => ({
  kind: "point",
  at,
  box: boxOf([at]),
});

/** The least distance between two bodies, and where; `null` where it exceeds `limitMm`. */
export function gapBetween(a: Body, b: Body, limitMm: number): Gap | null {
  if (!boxesMeet(growBox(a.box, limitMm), b.box)) return null;
  const gap = leastGap(a, b, limitMm);
  return gap && gap.distance <= limitMm ? gap : null;
}

function leastGap(a: Body, b: Body, limitMm: number): Gap | null {
  if (a.kind === "area" && b.kind === "area") return regionDistance(a.region, b.region, limitMm);
  if (a.kind !== "area" && b.kind === "area") return linesRegionGap(linesIn(a), b.region, limitMm);
  if (a.kind === "area" && b.kind !== "area") return turned(linesRegionGap(linesIn(b), a.region, limitMm));
  return nearestGap(linesIn(a as LineLike), linesIn(b as LineLike));
}

type LineLike = Exclude<Body, { kind: "area" }>;

const linesIn = (body: LineLike): readonly Polyline[] => (body.kind === "line" ? body.lines : [[body.at]]);

function linesRegionGap(lines: readonly Polyline[], region: Region, limitMm: number): Gap | null {
  let best: Gap | null = null;
  for (const line of lines) {
    const gap = polylineRegionDistance(line, region, best?.distance ?? limitMm);
    if (gap && (best === null || gap.distance < best.distance)) best = gap;
    if (best?.distance === 0) return best;
  }
  return best;
}

/** Between two sets of lines. */
function nearestGap(from: readonly Polyline[], to: readonly Polyline[]): Gap {
  let best = lineGap(from[0], to[0]);
  for (const a of from)
    for (const b of to) {
      if (best.distance === 0) return best;
      const gap = lineGap(a, b);
      if (gap.distance < best.distance) best = gap;
    }
  return best;
}

const turned = (gap: Gap | null): Gap | null => gap && { distance: gap.distance, from: gap.to, to: gap.from };

/** Between two polylines: a crossing, else an end or corner of one of them is nearest. */
function lineGap(a: Polyline, b: Polyline): Gap {
  const crossing = crossings(a, b)[0];
  if (crossing) return { distance: 0, from: crossing, to: crossing };
  let best: Gap = { distance: Number.POSITIVE_INFINITY, from: a[0], to: b[0] };
  for (const p of a) {
    const near = nearestOnPolyline(p, b);
    if (near.distance < best.distance) best = { distance: near.distance, from: p, to: near.point };
  }
  for (const p of b) {
    const near = nearestOnPolyline(p, a);
    if (near.distance < best.distance) best = { distance: near.distance, from: near.point, to: p };
  }
  return best;
}

/** Where the segments of two polylines cross. */
export function crossings(a: Polyline, b: Polyline): Point[] {
  const found: Point[] = [];
  for (let i = 1; i < a.length; i++) {
    for (let j = 1; j < b.length; j++) {
      const p = segmentCrossing(a[i - 1], a[i], b[j - 1], b[j]);
      if (p) found.push(p);
    }
  }
  return found;
}

function segmentCrossing(a: Point, b: Point, c: Point, d: Point): Point | null {
  const denominator = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]);
  if (denominator === 0) return null;
  const t = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / denominator;
  const u = ((c[0] - a[0]) * (b[1] - a[1]) - (c[1] - a[1]) * (b[0] - a[0])) / denominator;
  return t >= 0 && t <= 1 && u >= 0 && u <= 1 ? lerp(a, b, t) : null;
}

/** Where two bodies meet: points of both, as polylines to pick from. Empty where they are apart. */
export function meetingPorts(a: Body, b: Body): Polyline[] {
  if (!boxesMeet(growBox(a.box, COVER_GAP_MM), b.box)) return [];
  if (a.kind === "area") return portsWithin(b, a.region);
  if (b.kind === "area") return portsWithin(a, b.region);
  const crossed = linesIn(a).flatMap((line) =>
    linesIn(b).flatMap((other) => crossings(line, other).map((p): Polyline => [p])),
  );
  if (crossed.length > 0) return crossed;
  const gap = nearestGap(linesIn(a), linesIn(b));
  return gap.distance <= COVER_GAP_MM ? [[gap.from]] : [];
}

/**
 * The stretches of a body inside a region: the edge of their common area, the parts of a line, the point.
 * What only touches, or misses by less than the drawing's own tolerance, counts as inside.
 */
export function portsWithin(body: Body, region: Region): Polyline[] {
  const exact = strictPortsWithin(body, region);
  if (exact.length > 0 || region.length === 0) return exact;
  return strictPortsWithin(body, offset(region, COVER_GAP_MM));
}

export function strictPortsWithin(body: Body, region: Region): Polyline[] {
  if (region.length === 0) return [];
  if (body.kind === "area") return ringsOf(intersect(body.region, region)).map(closeRing);
  if (body.kind === "line") return body.lines.flatMap((line) => clipLine(line, region));
  return regionContains(region, body.at) || nearestOnEdge(region, body.at).distance < 1e-3 ? [[body.at]] : [];
}
