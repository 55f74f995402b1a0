/**
 * A satin column on a filled shape: rungs from edge to edge of the true outline, turning with its medial axis.
 *
 * - The *spine* is the axis of the column, evened out: its places and its direction are averaged over the local
 *   half width to either side, so that neither the facets of the outline nor a branch that was pruned shows.
 * - A rung lies across the spine: the stretch inside the shape of the line perpendicular to it. On the inner side
 *   of a bend it goes no further than where neighbouring rungs meet (the centre of curvature), and nowhere further
 *   than a few half widths, so that it does not run off into a fork.
 * - The axis of a shape ends half a width before the shape does. The spine goes straight on from there, and rungs
 *   are laid as long as they meet the shape: so squared, rounded, slanted and pointed ends are sewn as drawn.
 *
 * The result is a ladder like that of a stroke's satin (`satin-rungs.ts`), sewn by the same hands (`satin.ts`).
 */
import {
  AXIS_OPTIONS,
  type AxisNode,
  branchesOf,
  branchLength,
  type MedialAxis,
  medialAxis,
  protrudesBy,
  pruneBranches,
} from "../geometry/medial-axis.ts";
import { distance, norm } from "../geometry/point.ts";
import {
  arcLengths,
  closeRing,
  pointAlong,
  ringCentroid,
  segmentAt,
  signedArea,
} from "../geometry/polyline.ts";
import { regionArea, ringsOf } from "../geometry/region.ts";
import { sortFew } from "../geometry/sort-few.ts";
import type { Point, Polygon, Polyline } from "../geometry/types.ts";
import { cleanLine } from "./even-stitches.ts";
import { longDirection } from "./fill.ts";
import { areaSwept, shareFilled } from "./satin-fit.ts";
import { type Ladder, type Rung, type RungOptions, spaceEvenly } from "./satin-rungs.ts";

/** The middle line of a column with the half widths along it. */
export interface Spine {
  /** Closed: repeats its first point. */
  readonly line: Polyline;
  readonly halfWidthsMm: readonly number[];
  readonly closed: boolean;
}

/** Rungs are worked out this far apart along the spine: half a thread's width. */
const STATION_MM = 0.2;

/** A rung goes no further from the spine than this many half widths: a bump that is no column of its own is in reach. */
const REACH_SHARE = 3.6;

/** Corners of 47° and more are no tips: a spine does not turn into one corner of a slanted end. */
const SPINE_OPTIONS = { ...AXIS_OPTIONS, protrusionShare: 1.5 };

/** A spine shorter than this many of its widest half widths says nothing of a direction: the shape's own long one counts. */
const SHORT_SHARE = 0.6;

/** Columns that fill less of their area than this, or lie over it more often, are no satin. */
const FILLED_SHARE = 0.96;
const LAYERS = 1.5;

/**
 * The spine of a shape that is one column: the longest way along its medial axis, or, round a hole, all round.
 * `null` where the shape has several holes, or no axis. `known` is its medial axis where that is known already.
 */
export function spineOf(polygon: Polygon, known?: MedialAxis): Spine | null {
  if (polygon.holes.length > 1) return null;
  const axis = known
    ? pruneBranches(known, protrudesBy(SPINE_OPTIONS.protrusionShare))
    : medialAxis(polygon, SPINE_OPTIONS);
  if (axis === null) return null;
  const nodes = polygon.holes.length === 1 ? loopIn(axis) : longestWay(axis);
  if (nodes === null) return null;
  const closed = polygon.holes.length === 1;
  const widest = nodes.reduce((most, { radiusMm }) => Math.max(most, radiusMm), 0);
  if (!closed && branchLength(nodes) < SHORT_SHARE * widest) return shortSpine(polygon, widest);
  return { line: nodes.map(({ point }) => point), halfWidthsMm: nodes.map((n) => n.radiusMm), closed };
}

function shortSpine(polygon: Polygon, halfWidthMm: number): Spine {
  const angle = -longDirection([polygon.outer, ...polygon.holes]);
  const [x, y] = ringCentroid(polygon.outer);
  const dx = Math.cos(angle) * 0.1;
  const dy = Math.sin(angle) * 0.1;
  return {
    line: [
      [x - dx, y - dy],
      [x + dx, y + dy],
    ],
    halfWidthsMm: [halfWidthMm, halfWidthMm],
    closed: false,
  };
}

/** The longest way between two tips, by length and the radius beyond each; of an axis without loops. */
function longestWay({ nodes }: MedialAxis): AxisNode[] | null {
  const sweep = (from: number): { far: number; before: Int32Array } => {
    const before = new Int32Array(nodes.length).fill(-1);
    const length = new Float64Array(nodes.length).fill(-1);
    const open = [from];
    length[from] = 0;
    let far = from;
    let most = -1;
    for (let n = open.pop(); n !== undefined; n = open.pop()) {
      const reach = length[n] + nodes[n].radiusMm;
      if (nodes[n].links.length <= 1 && n !== from && reach > most) [most, far] = [reach, n];
      for (const next of nodes[n].links) {
        if (length[next] >= 0) continue;
        length[next] = length[n] + distance(nodes[n].point, nodes[next].point);
        before[next] = n;
        open.push(next);
      }
    }
    return { far, before };
  };
  if (nodes.length === 0) return null;
  const tip = nodes.findIndex(({ links }) => links.length <= 1);
  if (tip < 0) return null;
  const start = sweep(sweep(tip).far);
  const way: AxisNode[] = [];
  for (let n = start.far; n >= 0; n = start.before[n]) way.push(nodes[n]);
  return way;
}

/** The way round the only hole. */
function loopIn(axis: MedialAxis): AxisNode[] | null {
  const branches = branchesOf(withoutTwigs(axis));
  const loop = branches.find((branch) => branch.length > 3 && branch[0] === branch[branch.length - 1]);
  return loop ? loop.map((n) => axis.nodes[n]) : null;
}

/** The same nodes with all links taken out that lead to a dead end. */
function withoutTwigs({ nodes }: MedialAxis): AxisNode[] {
  const links = nodes.map((node) => [...node.links]);
  const tips = links.flatMap((own, n) => (own.length === 1 ? [n] : []));
  for (let n = tips.pop(); n !== undefined; n = tips.pop()) {
    if (links[n].length !== 1) continue;
    const [next] = links[n];
    links[n] = [];
    links[next] = links[next].filter((m) => m !== n);
    if (links[next].length === 1) tips.push(next);
  }
  return nodes.map((node, n) => ({ ...node, links: links[n] }));
}

/**
 * Rungs across a shape along its spine. At least three; the line of the ladder runs through their middles. `null`
 * where the shape is a sliver so thin that no place on its spine lies inside once rounded. `stationMm` is how far apart
 * along the spine they are worked out.
 */
export function layColumn(
  spine: Spine,
  polygon: Polygon,
  options: RungOptions,
  stationMm = STATION_MM,
): Ladder | null {
  const across = crossings(polygon);
  const sections = sectionsAlong(spine, across, stationMm);
  if (sections.length === 0) return null;
  if (!spine.closed) {
    sections.unshift(...sectionsBeyond(sections[0], -1, across, stationMm).reverse());
    sections.push(...sectionsBeyond(sections[sections.length - 1], 1, across, stationMm));
  }
  return ladderOn(sections, spine.closed, options);
}

/** Whether rungs fill a shape, but for a few per cent, without lying over each other too much. */
export function fillsShape(ladder: Ladder, polygon: Polygon): boolean {
  const area = regionArea([polygon]);
  const swept = areaSwept(ladder);
  if (swept > LAYERS * area) return false;
  // Swept once as a whole: then next to nothing is left out, and there is no need to look.
  const once = swept <= area * (2 - FILLED_SHARE) && Math.abs(sweptOnce(ladder)) >= area * FILLED_SHARE;
  return once || shareFilled(ladder, [polygon]) >= FILLED_SHARE;
}

/** The area swept from rung to rung; what is swept back again counts against it. */
function sweptOnce({ rungs }: Ladder): number {
  let area = 0;
  for (let i = 1; i < rungs.length; i++) {
    const [a, b] = [rungs[i - 1], rungs[i]];
    area += signedArea([a.left, b.left, b.right, a.right]);
  }
  return area;
}

// Sections

/** A cross-section: a place on the spine, the direction there, and how far the shape reaches to either side. */
interface Section {
  readonly at: Point;
  readonly angle: number;
  /** Along the perpendicular, to the right as seen; `left` is less than `right`. */
  readonly left: number;
  readonly right: number;
}

const perpendicular = (angle: number): Point => [-Math.sin(angle), Math.cos(angle)];

const beside = ([x, y]: Point, angle: number, by: number): Point => [
  x - Math.sin(angle) * by,
  y + Math.cos(angle) * by,
];

function sectionsAlong(spine: Spine, across: Crossings, stationMm: number): Section[] {
  const { line, halfAt, angleAt, total, closed } = evened(spine, stationMm);
  const lengths = arcLengths(line);
  const count = Math.max(closed ? 8 : 1, Math.ceil(total / stationMm));
  const angles = Float64Array.from({ length: count + 1 }, (_, k) => angleAt((k * total) / count));
  // A closed spine ends where it begins.
  const neighbour = (k: number): number => (closed ? (k + count) % count : Math.min(Math.max(k, 0), count));
  const sections: Section[] = [];
  for (let k = 0; k <= count; k++) {
    const s = (k * total) / count;
    const at = pointAlong(line, lengths, s);
    const angle = angles[k];
    const [before, after] = [neighbour(k - 1), neighbour(k + 1)];
    const stretch = ((closed ? 2 : after - before) * total) / count;
    const bend = stretch === 0 ? 0 : wrapped(angles[after] - angles[before]) / stretch;
    const span = across.spanAround(at, perpendicular(angle));
    if (span === null) continue;
    const most = REACH_SHARE * halfAt(s);
    const meet = Math.abs(bend) < 1e-6 ? Number.POSITIVE_INFINITY : 1 / Math.abs(bend);
    const reach = (out: number, inner: boolean): number => Math.min(out, most, inner ? meet : out);
    sections.push({ at, angle, left: -reach(-span[0], bend < 0), right: reach(span[1], bend > 0) });
  }
  return sections;
}

/** Sections beyond an end of the spine, straight on, as long as each meets the shape beside the one before it. */
function sectionsBeyond(end: Section, way: 1 | -1, across: Crossings, stationMm: number): Section[] {
  const sections: Section[] = [];
  let last = end;
  for (;;) {
    const by = (sections.length + 1) * stationMm * way;
    const at: Point = [end.at[0] + Math.cos(end.angle) * by, end.at[1] + Math.sin(end.angle) * by];
    const hits = across.hits(at, perpendicular(end.angle));
    let best: readonly [number, number] | null = null;
    let most = 0;
    for (let i = 0; i + 1 < hits.length; i += 2) {
      const shared = Math.min(hits[i + 1], last.right) - Math.max(hits[i], last.left);
      if (shared > most) [most, best] = [shared, [hits[i], hits[i + 1]]];
    }
    if (best === null || sections.length > 2000) return sections;
    // The shape may open again beyond a narrow place: that is not this column's.
    last = { at, angle: end.angle, left: best[0], right: best[1] };
    sections.push(last);
  }
}

function ladderOn(sections: readonly Section[], closed: boolean, options: RungOptions): Ladder {
  const middles = sections.map(({ at, angle, left, right }) => beside(at, angle, (left + right) / 2));
  const line = closed ? closeRing(cleanLine(middles.slice(0, -1))) : cleanLine(middles);
  const safe = line.length > 1 ? line : [line[0], [line[0][0] + 0.1, line[0][1]] as Point];
  const lengths = arcLengths(safe);
  const walked = arcLengths(middles);
  const scale = lengths[lengths.length - 1] / Math.max(walked[walked.length - 1], 1e-9);
  const samples = sections.map(
    ({ at, angle, left, right }, k): Rung => ({
      along: walked[k] * scale,
      centre: middles[k],
      left: beside(at, angle, left - options.pullMm),
      right: beside(at, angle, right + options.pullMm),
    }),
  );
  const whole =
    samples.length > 1 ? samples : [samples[0], { ...samples[0], along: lengths[lengths.length - 1] }];
  return { line: safe, lengths, closed, rungs: spaceEvenly(whole, options.spacingMm / 2, closed, gapAcross) };
}

/**
 * How far apart two rungs are, at the further of their ends, across their own direction: where the outline runs
 * slantwise to the spine (a taper, a slanted end) it is the distance between stitches that counts, not that along
 * the outline.
 */
function gapAcross(a: Rung, b: Rung): number {
  const dx = a.right[0] - a.left[0] + b.right[0] - b.left[0];
  const dy = a.right[1] - a.left[1] + b.right[1] - b.left[1];
  const long = norm(dx, dy) || 1;
  const across = (p: Point, q: Point): number => Math.abs((q[0] - p[0]) * dy - (q[1] - p[1]) * dx) / long;
  return Math.max(across(a.left, b.left), across(a.right, b.right), 1e-9);
}

// Evening out

interface Evened {
  readonly line: Polyline;
  readonly total: number;
  readonly closed: boolean;
  readonly halfAt: (s: number) => number;
  readonly angleAt: (s: number) => number;
}

/** The spine with places and directions averaged over the half width to either side; less near open ends. */
function evened({ line: raw, halfWidthsMm, closed }: Spine, stationMm: number): Evened {
  const keep = raw.map((p, i) => i === 0 || distance(p, raw[i - 1]) > 1e-6);
  const path = raw.filter((_, i) => keep[i]);
  const halves = halfWidthsMm.filter((_, i) => keep[i]);
  const lengths = arcLengths(path);
  const total = lengths[lengths.length - 1];
  const halfAt = (s: number): number => valueAt(lengths, halves, closed ? mod(s, total) : s);
  const places = averages(path, lengths, closed);
  const count = Math.max(closed ? 8 : 2, Math.ceil(total / stationMm));
  const line = Array.from({ length: count + 1 }, (_, k): Point => {
    const s = (k * total) / count;
    const reach = Math.min(halfAt(s) / 2, total / 8);
    return places(s, closed ? reach : Math.min(reach, s, total - s));
  });
  const along = averages(line, arcLengths(line), closed);
  const evenTotal = arcLengths(line)[count];
  const angleAt = (s: number): number => {
    const reach = Math.max(
      Math.min(halfAt((s * total) / evenTotal), closed ? evenTotal / 8 : evenTotal / 2),
      1e-3,
    );
    // The mean direction over a stretch is that from its start to its end; near open ends the stretch is shifted.
    const middle = closed ? s : Math.max(reach, Math.min(s, evenTotal - reach));
    const a = along(middle - reach, 0);
    const b = along(middle + reach, 0);
    return Math.atan2(b[1] - a[1], b[0] - a[0]);
  };
  return { line, total: evenTotal, closed, halfAt: (s) => halfAt((s * total) / evenTotal), angleAt };
}

const mod = (s: number, total: number): number => s - Math.floor(s / total) * total;

const wrapped = (angle: number): number => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));

function valueAt(lengths: Float64Array, values: readonly number[], s: number): number {
  const low = segmentAt(lengths, s);
  const gap = lengths[low + 1] - lengths[low];
  const t = gap === 0 ? 0 : Math.min(1, Math.max(0, (s - lengths[low]) / gap));
  return values[low] + (values[low + 1] - values[low]) * t;
}

/** The mean place of a line over `reach` to either side of `s`; the place itself for a reach of 0. */
function averages(
  line: Polyline,
  lengths: Float64Array,
  closed: boolean,
): (s: number, reach: number) => Point {
  const last = line.length - 1;
  const total = lengths[last];
  // Twice the integral of the place along the line, up to each of its points.
  const sumX = new Float64Array(line.length);
  const sumY = new Float64Array(line.length);
  for (let i = 1; i < line.length; i++) {
    const step = lengths[i] - lengths[i - 1];
    sumX[i] = sumX[i - 1] + (line[i - 1][0] + line[i][0]) * step;
    sumY[i] = sumY[i - 1] + (line[i - 1][1] + line[i][1]) * step;
  }
  const sumTo = (s: number): Point => {
    const laps = closed ? Math.floor(s / total) : 0;
    const rest = Math.min(Math.max(s - laps * total, 0), total);
    const low = segmentAt(lengths, rest);
    const at = pointAlong(line, lengths, rest);
    const step = rest - lengths[low];
    return [
      laps * sumX[last] + sumX[low] + (line[low][0] + at[0]) * step,
      laps * sumY[last] + sumY[low] + (line[low][1] + at[1]) * step,
    ];
  };
  return (s, reach) => {
    if (reach < 1e-6) return pointAlong(line, lengths, closed ? mod(s, total) : s);
    const [a, b] = [sumTo(s - reach), sumTo(s + reach)];
    return [(b[0] - a[0]) / (4 * reach), (b[1] - a[1]) / (4 * reach)];
  };
}

// The outline

/** Where lines through a point along a unit vector cross the outline, as signed distances from the point. */
interface Crossings {
  /** All of them, ascending. */
  hits(through: Point, along: Point): number[];
  /** The stretch inside the shape that holds the point; `null` where that lies outside. */
  spanAround(through: Point, along: Point): readonly [number, number] | null;
}

/** Edges that follow each other are passed over so many at a time where all of them lie beside the line. */
const BUNCH = 8;
/** What a sum of lengths may be off by. */
const ROUNDING_MM = 1e-9;

function crossings(polygon: Polygon): Crossings {
  const rings = ringsOf([polygon]);
  const edges: number[] = [];
  for (const ring of rings)
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++)
      edges.push(ring[j][0], ring[j][1], ring[i][0], ring[i][1]);
  const flat = Float64Array.from(edges);
  const bunches = boxesOfBunches(flat);
  /** The first edge from i on that the line may cross. */
  const skip = (i: number, x: number, y: number, ux: number, uy: number): number => {
    let k = i;
    for (; k < flat.length && k % (4 * BUNCH) === 0; k += 4 * BUNCH) {
      const b = k / BUNCH;
      const off = Math.abs((bunches[b] - x) * uy - (bunches[b + 1] - y) * ux);
      if (off <= Math.abs(bunches[b + 2] * uy) + Math.abs(bunches[b + 3] * ux) + ROUNDING_MM) break;
    }
    return k;
  };
  /** Where edge i crosses the line; `NaN` where it does not. */
  const hitAt = (i: number, x: number, y: number, ux: number, uy: number): number => {
    // Offsets from the line; an end on the line counts as right of it, so that a corner counts once or twice.
    const a = (flat[i] - x) * uy - (flat[i + 1] - y) * ux;
    const b = (flat[i + 2] - x) * uy - (flat[i + 3] - y) * ux;
    if (a >= 0 === b >= 0) return Number.NaN;
    const t = a / (a - b);
    const px = flat[i] + (flat[i + 2] - flat[i]) * t - x;
    const py = flat[i + 1] + (flat[i + 3] - flat[i + 1]) * t - y;
    return px * ux + py * uy;
  };
  return {
    hits([x, y], [ux, uy]) {
      const hits: number[] = [];
      for (let i = skip(0, x, y, ux, uy); i < flat.length; i = skip(i + 4, x, y, ux, uy)) {
        const hit = hitAt(i, x, y, ux, uy);
        if (!Number.isNaN(hit)) hits.push(hit);
      }
      return sortFew(hits);
    },
    spanAround([x, y], [ux, uy]) {
      let before = Number.NEGATIVE_INFINITY;
      let after = Number.POSITIVE_INFINITY;
      let further = Number.POSITIVE_INFINITY;
      let isInside = false;
      for (let i = skip(0, x, y, ux, uy); i < flat.length; i = skip(i + 4, x, y, ux, uy)) {
        const hit = hitAt(i, x, y, ux, uy);
        if (hit < 0) {
          isInside = !isInside;
          if (hit > before) before = hit;
        } else if (hit < after) [after, further] = [hit, after];
        else if (hit < further) further = hit;
      }
      // On the outline, where a shape begins.
      if (!isInside && after === 0) return [after, further];
      return isInside ? [before, after] : null;
    },
  };
}

/** Of each bunch of edges the middle of its box and half its width and height. */
function boxesOfBunches(flat: Float64Array): Float64Array {
  const boxes = new Float64Array(4 * Math.ceil(flat.length / (4 * BUNCH)));
  for (let from = 0, b = 0; from < flat.length; from += 4 * BUNCH, b += 4) {
    let [minX, minY, maxX, maxY] = [flat[from], flat[from + 1], flat[from], flat[from + 1]];
    for (let i = from; i < Math.min(from + 4 * BUNCH, flat.length); i += 2) {
      minX = Math.min(minX, flat[i]);
      maxX = Math.max(maxX, flat[i]);
      minY = Math.min(minY, flat[i + 1]);
      maxY = Math.max(maxY, flat[i + 1]);
    }
    boxes.set([(minX + maxX) / 2, (minY + maxY) / 2, (maxX - minX) / 2, (maxY - minY) / 2], b);
  }
  return boxes;
}
