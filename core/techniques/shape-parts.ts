/**
 * Which technique each part of a shape gets, by the local width along its medial axis: a run where it is narrow,
 * satin where it is of middling width, fill where it is wide. The shape is cut along chords of the axis.
 *
 * A cut is made only where it is worth one (the figures are common practice, no source):
 * - a wide place that is hardly wider than satin is sewn stays satin;
 * - a narrow part between or beside wide ones is one of its own only if it is long for its width; a tip, which
 *   tapers, must be longer still, or every corner of a fill would be cut off;
 * - a thin end of a satin stays satin, unless it is a long line.
 *
 * Satin parts fall into columns (`shape-parts-columns.ts`). Where two parts meet, one of them goes on under or
 * over the other for a little, so that no gap opens.
 */
import type { PieceJoint, PiecePart } from "../artwork/types.ts";
import { buildBoxIndex } from "../geometry/box-index.ts";
import { AXIS_OPTIONS, type AxisNode, type MedialAxis, medialAxis } from "../geometry/medial-axis.ts";
import { areasOf } from "../geometry/medial-axis-parts.ts";
import { nextEdge } from "../geometry/mesh.ts";
import { boxOf, distance, growBox, lerp } from "../geometry/point.ts";
import { closeRing, polylineLength } from "../geometry/polyline.ts";
import { intersect, nearestOnEdge, offset, regionArea, regionContains, union } from "../geometry/region.ts";
import type { Point, Polygon } from "../geometry/types.ts";
import { fillsShape, layColumn, type Spine, spineOf } from "./columns.ts";
import type { Ladder } from "./satin-rungs.ts";
import { columnLabels } from "./shape-parts-columns.ts";
import { thinLoop } from "./shape-parts-thin.ts";

export interface PartLimits {
  /** Narrower is a run. */
  readonly satinMinWidthMm: number;
  /** Wider is a fill. */
  readonly satinMaxWidthMm: number;
  readonly threadWidthMm: number;
}

/** A shape's parts, and where they hang together: a tree. */
export interface ShapeParts {
  readonly parts: readonly PiecePart[];
  readonly joints: readonly PieceJoint[];
}

/** A place this much wider than satin is sewn does not yet break a satin. */
const WIDE_SHARE = 1.2;

/** Satin beside a fill is this many times as long as it is wide where it begins; one that tapers to a tip, this many. */
const LONG_SHARE = 1.5;
const LONG_TIP_SHARE = 2.4;

/** A run on from a satin's or fill's end is this long at least. */
const LONG_RUN_MM = 6;

/** Parts go on into one another for this long. Common practice, no source. */
const OVERLAP_MM = 0.5;

/** The parts of a shape; one where it is not worth a cut. */
export function shapeParts(polygon: Polygon, limits: PartLimits): ShapeParts {
  const whole: ShapeParts = { parts: [{ technique: "fill", region: [polygon] }], joints: [] };
  if (isCompact(polygon, limits)) return whole;
  const axis = medialAxis(polygon, { ...AXIS_OPTIONS, stepMm: stepFor(polygon) });
  if (axis === null) return whole;
  const zones = settleZones(axis, limits);
  if (zones.length === 1 && zones[0].kind === "fill") return whole;
  return assemble(polygon, axis, zones, limits);
}

/**
 * Whether a shape is so round and large that no part of it is worth a cut: its isoperimetric quotient (4π·area /
 * perimeter²; 1 for a disc, 0.79 for a square) leaves no edge to spare for a long arm.
 */
const isCompact = (polygon: Polygon, limits: PartLimits): boolean =>
  regionArea([polygon]) > COMPACT_AREA_SHARE * (WIDE_SHARE * limits.satinMaxWidthMm) ** 2 &&
  4 * Math.PI * regionArea([polygon]) > COMPACT_QUOTIENT * perimeterOf(polygon) ** 2;

/** Beyond this a rectangle is less than 1.7 times as long as wide, an ellipse less than 2.4 times. */
const COMPACT_QUOTIENT = 0.75;

/** An ellipse 2.4 times as long as wide has this many squares of its width for area, and a little less. */
const COMPACT_AREA_SHARE = 2;

/**
 * The outline is cut as finely as the shape is narrow on average: the axis of a strip is off by the step's square
 * over 8 widths. Narrow parts of a wide shape have their axis worked out again once they are cut out.
 */
const stepFor = (polygon: Polygon): number =>
  Math.max(
    AXIS_OPTIONS.stepMm,
    Math.min(MOST_STEP_MM, (2 * regionArea([polygon])) / perimeterOf(polygon) / STEPS_PER_WIDTH),
  );

const STEPS_PER_WIDTH = 4;
const MOST_STEP_MM = 0.8;

const perimeterOf = ({ outer, holes }: Polygon): number =>
  [outer, ...holes].reduce((sum, ring) => sum + polylineLength(closeRing(ring)), 0);

// Zones

type Kind = "run" | "satin" | "fill";

/** Nodes that hang together and get the same technique. */
interface Zone {
  readonly kind: Kind;
  readonly nodes: readonly number[];
}

function settleZones({ nodes }: MedialAxis, limits: PartLimits): Zone[] {
  const kinds = nodes.map(({ radiusMm }): Kind => {
    if (2 * radiusMm < limits.satinMinWidthMm) return "run";
    return 2 * radiusMm <= limits.satinMaxWidthMm ? "satin" : "fill";
  });
  // Widest first: what a fill gives up, a satin may need to be long enough. Zones of one kind never touch, so
  // that none of them changes what the next one is to do.
  for (const kind of ["fill", "run", "satin"] as const)
    for (const zone of zonesOf(nodes, kinds)) {
      const into = zone.kind === kind ? absorbedBy(zone, nodes, kinds, limits) : null;
      if (into !== null) for (const n of zone.nodes) kinds[n] = into;
    }
  return zonesOf(nodes, kinds);
}

function zonesOf(nodes: readonly AxisNode[], kinds: readonly Kind[]): Zone[] {
  const seen = new Uint8Array(nodes.length);
  const zones: Zone[] = [];
  for (let start = 0; start < nodes.length; start++) {
    if (seen[start] === 1) continue;
    seen[start] = 1;
    const own = [start];
    for (let i = 0; i < own.length; i++)
      for (const next of nodes[own[i]].links)
        if (seen[next] === 0 && kinds[next] === kinds[start]) {
          seen[next] = 1;
          own.push(next);
        }
    zones.push({ kind: kinds[start], nodes: own });
  }
  return zones;
}

/** The technique of the neighbour that a zone is to be sewn with; `null` where it stands for itself. */
function absorbedBy(
  { kind, nodes: own }: Zone,
  nodes: readonly AxisNode[],
  kinds: readonly Kind[],
  limits: PartLimits,
): Kind | null {
  const rims = own.flatMap((n) =>
    nodes[n].links.filter((m) => kinds[m] !== kind).map((m) => ({ at: n, beside: kinds[m] })),
  );
  if (rims.length === 0) return null;
  const besides = (what: Kind): boolean => rims.some(({ beside }) => beside === what);
  if (kind === "fill") {
    const widest = own.reduce((most, n) => Math.max(most, 2 * nodes[n].radiusMm), 0);
    return besides("satin") && widest <= WIDE_SHARE * limits.satinMaxWidthMm ? "satin" : null;
  }
  const long = longestWay(own, nodes);
  if (kind === "run") {
    if (long >= LONG_RUN_MM) return null;
    return besides("satin") ? "satin" : "fill";
  }
  const widest = own.reduce((most, n) => Math.max(most, 2 * nodes[n].radiusMm), 0);
  if (!besides("fill"))
    return long < LONG_SHARE * widest + limits.satinMinWidthMm && widest < 2 * limits.satinMinWidthMm
      ? "run"
      : null;
  const cutWidth = rims.reduce((most, { at }) => Math.max(most, 2 * nodes[at].radiusMm), 0);
  const tip = own.find((n) => nodes[n].links.length === 1);
  const isTip = rims.length === 1 && tip !== undefined && 4 * nodes[tip].radiusMm < cutWidth;
  return long >= (isTip ? LONG_TIP_SHARE : LONG_SHARE) * cutWidth ? null : "fill";
}

/** Length of the longest way within some nodes, with the radius beyond each tip of the shape. */
function longestWay(own: readonly number[], nodes: readonly AxisNode[]): number {
  const isOwn = new Set(own);
  const beyond = (n: number): number => (nodes[n].links.length <= 1 ? nodes[n].radiusMm : 0);
  const sweep = (from: number): [far: number, mm: number] => {
    const length = new Map([[from, beyond(from)]]);
    const open = [from];
    let best: [number, number] = [from, 0];
    for (let n = open.pop(); n !== undefined; n = open.pop()) {
      const reach = length.get(n)! + (n === from ? 0 : beyond(n));
      if (reach > best[1]) best = [n, reach];
      for (const next of nodes[n].links) {
        if (!isOwn.has(next) || length.has(next)) continue;
        length.set(next, length.get(n)! + distance(nodes[n].point, nodes[next].point));
        open.push(next);
      }
    }
    return best;
  };
  return sweep(sweep(own[0])[0])[1];
}

// Parts

/** A part while it is made: its own area, and whether it goes on into its neighbours or they into it. */
interface Draft {
  readonly technique: Kind;
  readonly own: Polygon;
  /** Of a satin. */
  readonly spine?: Spine;
  /** Of two parts that meet, the one of higher rank keeps its edge and the other goes on into it. */
  readonly rank: number;
}

function assemble(
  polygon: Polygon,
  axis: MedialAxis,
  zones: readonly Zone[],
  limits: PartLimits,
): ShapeParts {
  const labels = labelsOf(zones, axis.nodes.length);
  const areas = areasOf(axis, labels);
  const cuts = cutsBetween(axis, labels);
  const drafts: Draft[] = [];
  zones.forEach(({ kind }, k) => {
    const area = areas[k];
    if (area === null) return;
    if (kind === "satin") {
      const within = zones.length === 1 ? axis : medialAxis(area);
      const columns = within === null ? [] : columnsIn(within);
      if (columns.length === 0) drafts.push({ technique: "fill", own: area, rank: 0 });
      for (const [i, column] of columns.entries()) {
        drafts.push(satinOrFill(column.own, columns.length === 1 ? within : null, limits, 100 - i));
        cuts.push(...column.cuts);
      }
    } else drafts.push({ technique: kind, own: area, rank: kind === "fill" ? 0 : 200 });
  });
  const merged = mergeFills(drafts);
  return joinUp(merged, cuts, limits, polygon);
}

function labelsOf(zones: readonly Zone[], count: number): Int32Array {
  const labels = new Int32Array(count);
  zones.forEach(({ nodes }, k) => {
    for (const n of nodes) labels[n] = k;
  });
  return labels;
}

/** The middles of the chords along which labels meet. */
function cutsBetween({ nodes, mesh }: MedialAxis, labels: Int32Array): Point[] {
  const { coords, corners } = mesh;
  const cuts: Point[] = [];
  for (let n = 0; n < nodes.length; n++) {
    const { links, chords } = nodes[n];
    for (let i = 0; i < links.length; i++) {
      if (labels[n] >= labels[links[i]]) continue;
      const a = corners[chords[i]];
      const b = corners[nextEdge(chords[i])];
      cuts.push(lerp([coords[2 * a], coords[2 * a + 1]], [coords[2 * b], coords[2 * b + 1]], 0.5));
    }
  }
  return cuts;
}

/** The columns of a narrow area, those that take junctions first, and where they meet. */
function columnsIn(axis: MedialAxis): { own: Polygon; cuts: Point[] }[] {
  const columns = columnLabels(axis);
  const cuts = cutsBetween(columns.axis, columns.labels);
  return areasOf(columns.axis, columns.labels)
    .filter((own) => own !== null)
    .map((own, i) => ({ own, cuts: i === 0 ? cuts : [] }));
}

/** `axis` is the area's own, where it is known. */
function satinOrFill(own: Polygon, axis: MedialAxis | null, limits: PartLimits, rank: number): Draft {
  const spine = spineOf(own, axis ?? undefined);
  const options = { spacingMm: CHECK_SPACING_MM, pullMm: 0, threadWidthMm: limits.threadWidthMm };
  const ladder = spine && layColumn(spine, own, options, CHECK_SPACING_MM / 2);
  return ladder && widestRung(ladder) <= LONG_RUNG_SHARE * limits.satinMaxWidthMm && fillsShape(ladder, own)
    ? { technique: "satin", own, spine, rank }
    : { technique: "fill", own, rank: 0 };
}

const widestRung = ({ rungs }: Ladder): number =>
  rungs.reduce((most, { left, right }) => Math.max(most, distance(left, right)), 0);

/** Rungs lie askew in bends and slanted ends, and are longer there than the column is wide; longer ones make no satin. */
const LONG_RUNG_SHARE = 1.6;

/** Whether rungs fill a shape is looked at with rungs this far apart on a side, and places half as far. */
const CHECK_SPACING_MM = 0.6;

/** Neighbouring fills are one. */
function mergeFills(drafts: readonly Draft[]): Draft[] {
  const fills = drafts.filter(({ technique }) => technique === "fill");
  if (fills.length < 2) return [...drafts];
  const areas = union(fills.map(({ own }) => offset([own], ON_EDGE_MM)));
  return [
    ...drafts.filter(({ technique }) => technique !== "fill"),
    ...areas.map((own): Draft => ({ technique: "fill", own, rank: 0 })),
  ];
}

/** Areas this near to each other touch, and a cut's middle this near to both its parts is theirs: polygon sums round to less. */
const ON_EDGE_MM = 1e-3;

function joinUp(
  drafts: readonly Draft[],
  cuts: readonly Point[],
  limits: PartLimits,
  polygon: Polygon,
): ShapeParts {
  if (drafts.length === 1 && drafts[0].technique === "fill")
    return { parts: [{ technique: "fill", region: [polygon] }], joints: [] };
  const index = buildBoxIndex(drafts.map(({ own }) => growBox(boxOf(own.outer), ON_EDGE_MM)));
  const meetings = cuts.flatMap((at): PieceJoint[] => {
    const near = index.search(boxOf([at])).filter((k) => isNear(drafts[k].own, at));
    // Where columns part right at a cut, it touches three.
    return near.flatMap((a, i) => near.slice(i + 1).map((b): PieceJoint => ({ parts: [a, b], at })));
  });
  const lower = drafts.map((): Polygon[] => []);
  for (const { parts } of meetings)
    for (const [k, other] of [parts, [parts[1], parts[0]]])
      if (drafts[other].rank > drafts[k].rank) lower[k].push(drafts[other].own);
  const parts = drafts.map((draft, k) => finish(draft, grownInto(draft.own, lower[k]), limits));
  return { parts, joints: spanningTree(drafts.length, meetings) };
}

const isNear = (polygon: Polygon, p: Point): boolean =>
  regionContains([polygon], p) || nearestOnEdge([polygon], p).distance <= ON_EDGE_MM;

/** The polygon with a rim of the overlap's width inside its neighbours. */
function grownInto(own: Polygon, neighbours: readonly Polygon[]): Polygon {
  if (neighbours.length === 0) return own;
  const rim = intersect(offset([own], OVERLAP_MM, "round"), union(neighbours.map((one) => [one])));
  return union([[own], offset(rim, ON_EDGE_MM)]).reduce((best, one) =>
    regionArea([one]) > regionArea([best]) ? one : best,
  );
}

function finish({ technique, own, spine }: Draft, polygon: Polygon, limits: PartLimits): PiecePart {
  const region = [polygon];
  if (technique === "fill") return { technique, region };
  if (technique === "run") {
    const line = thinLoop(polygon, limits.threadWidthMm);
    return line === null ? { technique: "fill", region } : { technique, region, line };
  }
  const middle = (polygon === own ? spine : spineOf(polygon)) ?? spine;
  return middle
    ? { technique, region, line: middle.line, halfWidthsMm: middle.halfWidthsMm }
    : { technique: "fill", region };
}

/** Of the places where parts meet, as many as hold them together. */
function spanningTree(count: number, meetings: readonly PieceJoint[]): PieceJoint[] {
  const tree = Array.from({ length: count }, (_, k) => k);
  return meetings.filter(({ parts: [a, b] }) => {
    const [kept, gone] = [tree[a], tree[b]];
    if (kept === gone) return false;
    for (let k = 0; k < count; k++) if (tree[k] === gone) tree[k] = kept;
    return true;
  });
}
