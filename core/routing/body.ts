/**
 * A body is where a piece can be left or entered: its area, its line, or, once pinned, one point of it.
 * Ports are the stretches of a body that also lie somewhere else: in another body, or under the cover.
 */
import type { Piece } from "../artwork/types.ts";
import { COVER_GAP_MM } from "../constants.ts";
import { polylineRegionDistance, regionDistance } from "../geometry/distance.ts";
import { boxesMeet, boxOf, growBox, lerp } from "../geometry/point.ts";
import { closeRing, nearestOnPolyline } from "../geometry/polyline.ts";
import {
  clipPolylines,
  intersect,
  nearestOnEdge,
  offset,
  regionBox,
  regionContains,
  ringsOf,
} from "../geometry/region.ts";
import type { Box, Point, Polyline, Region } from "../geometry/types.ts";

export type Body =
  | { readonly kind: "area"; readonly region: Region; readonly box: Box }
  | { readonly kind: "line"; readonly line: Polyline; readonly box: Box }
  | { readonly kind: "point"; readonly at: Point; readonly box: Box };

export interface Gap {
  readonly distance: number;
  readonly from: Point;
  readonly to: Point;
}

export const bodyOf = (piece: Piece): Body =>
  piece.technique === "run" && piece.line
    ? { kind: "line", line: piece.line, box: boxOf(piece.line) }
    : { kind: "area", region: piece.region, box: regionBox(piece.region) };

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
  if (a.kind !== "area" && b.kind === "area") return polylineRegionDistance(lineOf(a), b.region, limitMm);
  if (a.kind === "area" && b.kind !== "area")
    return turned(polylineRegionDistance(lineOf(b), a.region, limitMm));
  return lineGap(lineOf(a as LineLike), lineOf(b as LineLike));
}

type LineLike = Exclude<Body, { kind: "area" }>;

const lineOf = (body: LineLike): Polyline => (body.kind === "line" ? body.line : [body.at]);

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
  const crossed = crossings(lineOf(a), lineOf(b)).map((p): Polyline => [p]);
  if (crossed.length > 0) return crossed;
  const gap = lineGap(lineOf(a), lineOf(b));
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
  if (body.kind === "line") return clipPolylines([body.line], region);
  return regionContains(region, body.at) || nearestOnEdge(region, body.at).distance < 1e-3 ? [[body.at]] : [];
}
