/**
 * The rungs of a satin: the cross lines that its zigzag goes back and forth between.
 *
 * A *rail* is the edge along which the needle goes down on one side: the stroke's edge, moved out against the
 * pull. A *rung* joins the two rails through the stroke's centre line. On a straight stroke rungs are
 * perpendicular to it. At a bend they turn with it: the direction of a rung is the line's own direction averaged
 * over half a stroke width to either side (a box filter over the angle), so that a corner becomes a fan that
 * begins and ends that far from it, and the facets of a flattened curve vanish.
 *
 * How far a rung reaches:
 * - to the stroke's edge. The stroke's own edge lies half a width away, over the cosine of the rung's slant; the
 *   painted region knows caps and joins, so the rung ends where it leaves the region if that comes first;
 * - on the inner side of a bend no further than the point where neighbouring rungs meet: the centre of
 *   curvature, 1 / (change of angle per millimetre) away (elementary differential geometry).
 *
 * Rungs are spaced so that on the rail where they lie further apart they are half the spacing apart: a zigzag
 * visits each rail at every other rung.
 */
import { distance, lerp } from "../geometry/point.ts";
import { arcLengths, pointAlong, slicePolyline } from "../geometry/polyline.ts";
import { ringsOf } from "../geometry/region.ts";
import type { Point, Polyline, Region } from "../geometry/types.ts";
import { cleanLine, turnAt } from "./even-stitches.ts";
import { isClosed } from "./run.ts";

export interface RungOptions {
  readonly spacingMm: number;
  readonly pullMm: number;
  readonly threadWidthMm: number;
}

export interface Rung {
  /** Arc length of its centre on the sewn line. */
  readonly along: number;
  readonly centre: Point;
  /** On the rails, left and right of the line's direction as seen. */
  readonly left: Point;
  readonly right: Point;
}

export interface Ladder {
  /** The centre line as sewn: carried on into the caps. Closed: it repeats its first point. */
  readonly line: Polyline;
  readonly lengths: Float64Array;
  readonly closed: boolean;
  /** At least three, by ascending `along`. Closed: from 0 to the full length, first and last the same. */
  readonly rungs: readonly Rung[];
}

/** Rails are followed in steps of this through caps and corners: a quarter of the thread's width. */
const STEP_MM = 0.1;

/** Rails are followed in steps of this round bends: the chord's sagitta is then 1/800 of the radius. */
const STEP_RAD = 0.1;

/** Up to this slant, 1 / cos is within 1.2 %: the stroke's own edge is as good as the region's. */
const SLANT_KNOWN_RAD = 0.15;

/** A rung slants until it is this many half widths long: SVG's default miter limit, beyond which joins are cut off. */
const SLANT_LIMIT = 4;

/** A satin stops this share of the thread's width before the end of the stroke: a little less than half of it. */
const INSET_SHARE = 0.35;

/** The nearest edges are looked up again after moving this far. */
const REFRESH_MM = 2;

/**
 * Lays rungs across the stroke of width `widthMm` along `line` that paints `region`. A line that repeats its
 * first point is closed. A single point (a dot) is crossed from left to right. Throws a RangeError if no point
 * is finite.
 */
export function layRungs(line: Polyline, widthMm: number, region: Region, options: RungOptions): Ladder {
  const path = cleanLine(line);
  if (path.length === 0) throw new RangeError("a satin needs a line with a finite point");
  const closed = isClosed(path);
  const half = widthMm / 2;
  const edges = edgesNear(region, SLANT_LIMIT * half + REFRESH_MM);
  const sewn = closed ? path : intoCaps(path, half, options.threadWidthMm * INSET_SHARE, edges);
  const lengths = arcLengths(sewn);
  const direction = smoothDirection(sewn, lengths, closed, half);
  const stations = stationsOf(sewn, lengths, closed, half, direction);
  const samples = stations.map(({ along, cut }) =>
    sampleRung(
      along,
      pointAlong(sewn, lengths, along),
      direction(along),
      half,
      options.pullMm,
      cut ? edges : EDGELESS,
    ),
  );
  return {
    line: sewn,
    lengths,
    closed,
    rungs: spaceEvenly(samples, options.spacingMm / 2, closed),
  };
}

// Ends

/** The line with both ends carried on to the end of the cap, less `insetMm`, which the thread bulges beyond. */
function intoCaps(path: Polyline, half: number, insetMm: number, edges: Edges): Point[] {
  const [start, end] = [path[0], path[path.length - 1]];
  const back = path.length > 1 ? unit(path[1], start) : ([-1, 0] as const);
  const on = path.length > 1 ? unit(path[path.length - 2], end) : ([1, 0] as const);
  const lead = path.length > 1 ? Math.min(0.1, distance(start, path[1]) / 2) : 0;
  const tail = path.length > 1 ? Math.min(0.1, distance(path[path.length - 2], end) / 2) : 0;
  const before = capReach(start, back, lead, half, edges);
  const after = capReach(end, on, tail, half, edges);
  const long = cleanLine([ahead(start, back, before), ...path, ahead(end, on, after)]);
  // A stroke that paints nothing beyond a point still gets a line to put a stitch across.
  const line = long.length > 1 ? long : [ahead(start, back, 0.1), ahead(end, on, 0.1)];
  const lengths = arcLengths(line);
  const total = lengths[lengths.length - 1];
  const inset = Math.min(insetMm, total / 4);
  return cleanLine(slicePolyline(line, lengths, inset, total - inset));
}

/** How far the region reaches beyond the end of the line; looked for from `lead` before the end, inside the stroke. */
function capReach(end: Point, along: Point, lead: number, half: number, edges: Edges): number {
  const hit = edges(ahead(end, along, -lead), along) - lead;
  return Number.isFinite(hit) ? Math.min(half, Math.max(0, hit)) : 0;
}

const unit = (from: Point, to: Point): Point => {
  const length = distance(from, to);
  return [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
};

const ahead = (p: Point, along: Point, by: number): Point => [p[0] + along[0] * by, p[1] + along[1] * by];

// Directions

interface Direction {
  /** Of a rung's neighbourhood: the smoothed angle of the line there. */
  readonly angle: number;
  /** How far the line's own direction deviates from it, at most. */
  readonly slant: number;
  /** Change of `angle` per millimetre; positive turns clockwise as seen, to the right. */
  readonly bend: number;
}

/** The line's direction as a function of arc length, averaged over `reach` to either side; less near open ends. */
function smoothDirection(
  line: Polyline,
  lengths: Float64Array,
  closed: boolean,
  half: number,
): (along: number) => Direction {
  const total = lengths[lengths.length - 1];
  const count = line.length - 1;
  const angles = new Float64Array(count);
  angles[0] = Math.atan2(line[1][1] - line[0][1], line[1][0] - line[0][0]);
  for (let i = 1; i < count; i++) angles[i] = angles[i - 1] + turnAt(line[i - 1], line[i], line[i + 1]);
  const round = closed ? angles[count - 1] - angles[0] + turnAt(line[count - 1], line[0], line[1]) : 0;
  const sums = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) sums[i + 1] = sums[i] + angles[i] * (lengths[i + 1] - lengths[i]);
  const reach = Math.min(half, total / 2);

  const angleAt = (s: number, before: boolean): number => {
    const laps = closed ? Math.floor(s / total) : 0;
    return angles[segmentAt(lengths, s - laps * total, before)] + laps * round;
  };
  const sumTo = (s: number): number => {
    const laps = closed ? Math.floor(s / total) : 0;
    const rest = s - laps * total;
    const i = segmentAt(lengths, rest, false);
    const whole = laps * sums[count] + (round * total * laps * (laps - 1)) / 2;
    return whole + laps * round * rest + sums[i] + angles[i] * (rest - lengths[i]);
  };

  return (along) => {
    const near = closed ? reach : Math.min(reach, along, total - along);
    const own = [angleAt(along, true), angleAt(along, false)];
    if (near < 1e-6) return { angle: own[along < total / 2 ? 1 : 0], slant: 0, bend: 0 };
    const angle = (sumTo(along + near) - sumTo(along - near)) / (2 * near);
    const slant = Math.min(Math.abs(own[0] - angle), Math.abs(own[1] - angle));
    const bend = (angleAt(along + near, true) - angleAt(along - near, false)) / (2 * near);
    return { angle, slant, bend };
  };
}

/** Index of the segment that holds arc length `s`; at a vertex the one that ends there if `before`, else the one that begins. */
function segmentAt(lengths: Float64Array, s: number, before: boolean): number {
  let low = 0;
  let high = lengths.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (before ? lengths[middle] < s : lengths[middle] <= s) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** A place along the sewn line at which the rails are worked out. */
interface Station {
  readonly along: number;
  /** Whether the rung must be cut off where it leaves the region: in caps and at corners. Else its length is known. */
  readonly cut: boolean;
}

/**
 * Places that give the rails by straight lines between them. Between two *marks*, the places where a vertex
 * enters, passes the middle of, or leaves the averaged neighbourhood, the bend is constant.
 */
function stationsOf(
  line: Polyline,
  lengths: Float64Array,
  closed: boolean,
  half: number,
  direction: (along: number) => Direction,
): Station[] {
  const total = lengths[lengths.length - 1];
  const cap = closed ? 0 : 2 * half;
  const marks = [0, total, Math.min(cap, total), Math.max(0, total - cap)];
  for (let i = 0; i < line.length; i++) {
    for (const s of [lengths[i] - half, lengths[i], lengths[i] + half]) {
      if (s > 0 && s < total) marks.push(s);
      else if (closed) marks.push((s + total) % total);
    }
  }
  marks.sort((a, b) => a - b);
  const stations: Station[] = [];
  let along = 0;
  let cutBefore = !closed;
  for (let k = 1; k < marks.length; k++) {
    const [from, to] = [marks[k - 1], marks[k]];
    if (to - from < 1e-6) continue;
    const middle = (from + to) / 2;
    const { slant, bend } = direction(middle);
    const turn = Math.abs(bend) * (to - from);
    const cut = middle < cap || middle > total - cap || slant + turn / 2 > SLANT_KNOWN_RAD;
    const steps = cut ? (to - from) / STEP_MM : turn / STEP_RAD;
    const count = Math.max(1, Math.ceil(steps));
    for (let j = 0; j < count; j++)
      stations.push({ along: from + ((to - from) * j) / count, cut: cut || (j === 0 && cutBefore) });
    along = to;
    cutBefore = cut;
  }
  stations.push({ along, cut: cutBefore || (closed && stations[0].cut) });
  if (closed) stations[0] = { along: 0, cut: stations[stations.length - 1].cut };
  return stations;
}

// Rungs

function sampleRung(
  along: number,
  centre: Point,
  { angle, slant, bend }: Direction,
  half: number,
  pullMm: number,
  edges: Edges,
): Rung {
  const right: Point = [-Math.sin(angle), Math.cos(angle)];
  const left: Point = [-right[0], -right[1]];
  const edge = half / Math.max(Math.cos(slant), 1 / SLANT_LIMIT);
  const meet = bend === 0 ? Number.POSITIVE_INFINITY : 1 / Math.abs(bend);
  const reach = (way: Point, inner: boolean): number => {
    const out = Math.min(edge, edges(centre, way)) + pullMm;
    return inner ? Math.min(out, meet) : out;
  };
  return {
    along,
    centre,
    left: ahead(centre, left, reach(left, bend < 0)),
    right: ahead(centre, right, reach(right, bend > 0)),
  };
}

/** How far apart two rungs are where they are furthest apart: on one of the rails. */
const railGap = (a: Rung, b: Rung): number => Math.max(distance(a.left, b.left), distance(a.right, b.right));

/**
 * Rungs between the samples, `stepMm` apart or a little less, by the gaps between samples. Round a ring their number
 * is even, so that the zigzag meets its own beginning on the other side.
 */
export function spaceEvenly(
  samples: readonly Rung[],
  stepMm: number,
  closed: boolean,
  gapOf = railGap,
): Rung[] {
  const run = new Float64Array(samples.length);
  for (let i = 1; i < samples.length; i++) run[i] = run[i - 1] + gapOf(samples[i - 1], samples[i]);
  const total = run[run.length - 1];
  const count = closed
    ? Math.max(4, 2 * Math.ceil(total / stepMm / 2))
    : Math.max(2, Math.ceil(total / stepMm));
  const rungs: Rung[] = [];
  let i = 0;
  for (let k = 0; k <= count; k++) {
    const place = (k * total) / count;
    while (i < samples.length - 2 && run[i + 1] < place) i++;
    const gap = run[i + 1] - run[i];
    rungs.push(rungBetween(samples[i], samples[i + 1], gap === 0 ? 0 : Math.min(1, (place - run[i]) / gap)));
  }
  return rungs;
}

const rungBetween = (a: Rung, b: Rung, t: number): Rung => ({
  along: a.along + (b.along - a.along) * t,
  centre: lerp(a.centre, b.centre, t),
  left: lerp(a.left, b.left, t),
  right: lerp(a.right, b.right, t),
});

// The region's edge

/** Distance from a point to the region's edge along a unit vector; infinite where there is none near. */
type Edges = (from: Point, along: Point) => number;

const EDGELESS: Edges = () => Number.POSITIVE_INFINITY;

/** Looks at edges within `reachMm` only, and gathers those anew when asked about a place further off than the last. */
function edgesNear(region: Region, reachMm: number): Edges {
  const all = flatEdges(region);
  const near = new Float64Array(all.length);
  let nearEnd = 0;
  let middle: Point | undefined;
  return (from, along) => {
    if (middle === undefined || distance(middle, from) > REFRESH_MM) {
      middle = from;
      nearEnd = gatherNear(all, from, reachMm, near);
    }
    let hit = Number.POSITIVE_INFINITY;
    for (let i = 0; i < nearEnd; i += 4) {
      const ex = near[i + 2] - near[i];
      const ey = near[i + 3] - near[i + 1];
      const slope = along[0] * ey - along[1] * ex;
      if (slope === 0) continue;
      const dx = near[i] - from[0];
      const dy = near[i + 1] - from[1];
      const t = (dx * ey - dy * ex) / slope;
      const u = (dx * along[1] - dy * along[0]) / slope;
      if (t > 0 && t < hit && u >= 0 && u <= 1) hit = t;
    }
    return hit;
  };
}

/** Every edge of the region as x0, y0, x1, y1. */
function flatEdges(region: Region): Float64Array {
  const rings = ringsOf(region);
  const flat = new Float64Array(4 * rings.reduce((sum, ring) => sum + ring.length, 0));
  let n = 0;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      flat[n++] = ring[j][0];
      flat[n++] = ring[j][1];
      flat[n++] = ring[i][0];
      flat[n++] = ring[i][1];
    }
  }
  return flat;
}

/** Copies the edges whose boxes come within `reach` of `p` to `near`; returns the end of what was copied. */
function gatherNear(all: Float64Array, [x, y]: Point, reach: number, near: Float64Array): number {
  let n = 0;
  for (let i = 0; i < all.length; i += 4) {
    const [ax, ay, bx, by] = [all[i], all[i + 1], all[i + 2], all[i + 3]];
    const apart =
      Math.min(ax, bx) > x + reach ||
      Math.max(ax, bx) < x - reach ||
      Math.min(ay, by) > y + reach ||
      Math.max(ay, by) < y - reach;
    if (apart) continue;
    near[n++] = ax;
    near[n++] = ay;
    near[n++] = bx;
    near[n++] = by;
  }
  return n;
}
