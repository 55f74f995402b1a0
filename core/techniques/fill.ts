/**
 * The fill: an area covered with rows of stitches, sewn in one go from any entry to any exit.
 *
 * The region's rows (fill-rows) form a graph of stacks and lines (fill-graph). A tour passes all of it, twice
 * where it must, the first time as travel that the second covers (fill-tour). The tour is then sewn (fill-sew).
 * All this happens in the rows' own frame, in which rows are horizontal.
 */
import { distance, nearestFraction, norm, rotate } from "../geometry/point.ts";
import { nearestOnEdge, regionContains, ringsOf } from "../geometry/region.ts";
import type { Point, Region, Ring } from "../geometry/types.ts";
import type { UnderlayKind } from "../recipes/advice.ts";
import { shortFor } from "./even-stitches.ts";
import { buildFillGraph, type FillGraph, type LineEdge } from "./fill-graph.ts";
import { layRows, type Rows, type Span } from "./fill-rows.ts";
import { sewTour } from "./fill-sew.ts";
import { type Anchor, planTour, tourBase, tourTravelMm } from "./fill-tour.ts";
import type { Stitcher, StitchPart } from "./types.ts";
import { layUnderlay, type Underlay } from "./underlay.ts";

export interface FillOptions {
  /** Direction of the rows, counter-clockwise from the x axis as seen; `null` takes the piece's long direction. */
  readonly angleDeg: number | null;
  readonly spacingMm: number;
  readonly lengthMm: number;
  readonly minStitchMm: number;
  readonly maxStitchMm: number;
  /** How far rows reach beyond the outline at either end. */
  readonly pullMm: number;
  /** How far the first and the last row keep off the outline besides; default none. */
  readonly pushMm?: number;
  /** Rows are shared out over the height of this region, and lie where they would in it; default the filled one. */
  readonly rowsOver?: Region;
  /** What to sew under the rows where the region is wide enough; default nothing. */
  readonly underlay?: readonly UnderlayKind[];
}

/** Shapes whose long direction is less than this longer than their short one have none: rows lie level. */
const LEAST_ELONGATION = 1.05;

/** An entry nearer than this to a line's end begins at that end. */
const END_SNAP_MM = 0.5;

/** A row that ends no further than this from an exit is near enough to end at it. */
const SHORT_MM = 0.4;

/**
 * Lays a fill out over a region of one polygon with holes. The result sews it from any entry to any exit in the
 * closed region, without a trim and without travel that shows.
 */
export function layFill(region: Region, options: FillOptions): Stitcher {
  const angleRad =
    options.angleDeg === null ? longDirection(ringsOf(region)) : (options.angleDeg * Math.PI) / 180;
  const cover = layCover(region, angleRad, options, options.rowsOver);
  const { underlay: kinds = [] } = options;
  return kinds.length === 0 ? cover : withUnderlay(region, cover, angleRad, kinds, options);
}

/** A fill that begins with its underlay and covers it. */
function withUnderlay(
  region: Region,
  cover: Stitcher,
  angleRad: number,
  kinds: readonly UnderlayKind[],
  options: FillOptions,
): Stitcher {
  let laid: Underlay | null | undefined;
  const underlay = (): Underlay | null => {
    if (laid !== undefined) return laid;
    laid = layUnderlay(region, cover, {
      kinds,
      minStitchMm: options.minStitchMm,
      maxStitchMm: options.maxStitchMm,
      crossFill: (island, spacingMm, lengthMm) =>
        layCover(island, angleRad + Math.PI / 2, {
          ...options,
          minStitchMm: shortFor(lengthMm, options.minStitchMm),
          spacingMm,
          lengthMm,
          pullMm: 0,
          pushMm: 0,
        }),
    });
    return laid;
  };
  return {
    snap: cover.snap,
    travelMm: (entry, exit) => underlay()?.coverTravelMm(exit) ?? cover.travelMm(entry, exit),
    stitch: (entry, exit) => {
      const points = underlay()?.sew(entry, exit);
      if (points === undefined) return cover.stitch(entry, exit);
      return [{ role: "underlay", points }, ...cover.stitch(points[points.length - 1], exit)];
    },
  };
}

/** The rows themselves, at an angle in the rows' own sense. */
function layCover(
  region: Region,
  angleRad: number,
  options: Omit<FillOptions, "rowsOver">,
  rowsOver?: Region,
): Stitcher {
  const turned = (some: Region): Ring[] => ringsOf(some).map((ring) => ring.map((p) => rotate(p, angleRad)));
  const over = rowsOver && turned(rowsOver);
  const rows = layRows(turned(region), options.spacingMm, options.pullMm, options.pushMm, over);
  const graph = buildFillGraph(rows);
  const base = tourBase(graph);
  // A region without any height has no rows; it is still one stitch from entry to exit.
  const isEmpty = graph.edges.length === 0;
  const originX = rows.spans.reduce((least, span) => Math.min(least, span.left), Number.POSITIVE_INFINITY);
  const anchor = (p: Point): Anchor => anchorAt(rows, graph, p);

  return {
    snap: (p) => (regionContains(region, p) ? p : nearestOnEdge(region, p).point),
    travelMm: (entry, exit) =>
      isEmpty ? 0 : tourTravelMm(base, anchor(rotate(entry, angleRad)), anchor(rotate(exit, angleRad))),
    stitch: (entry, exit): readonly StitchPart[] => {
      if (isEmpty) return [{ role: "cover", points: [entry, exit] }];
      const from = rotate(entry, angleRad);
      const to = rotate(exit, angleRad);
      const start = anchor(from);
      const end = anchor(to);
      const tour = planTour(base, start, end);
      const stops = [
        { at: from, anchor: start },
        { at: to, anchor: end },
      ] as const;
      const needle = sewTour(graph, tour, ...stops, { ...options, originX });
      needle.finish(to);
      // Turned back, but the ends exactly as they were given.
      return needle.parts((p) => (p === from ? entry : p === to ? exit : rotate(p, -angleRad)));
    },
  };
}

/** Angle, in radians counter-clockwise as seen, of the axis about which the area's second moment is least. */
export function longDirection(rings: readonly Ring[]): number {
  let [area, sx, sy, sxx, sxy, syy] = [0, 0, 0, 0, 0, 0];
  const [ox, oy] = rings[0][0];
  for (const ring of rings)
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [x0, y0] = [ring[j][0] - ox, ring[j][1] - oy];
      const [x1, y1] = [ring[i][0] - ox, ring[i][1] - oy];
      const cross = x0 * y1 - x1 * y0;
      area += cross / 2;
      sx += ((x0 + x1) * cross) / 6;
      sy += ((y0 + y1) * cross) / 6;
      sxx += ((x0 * x0 + x0 * x1 + x1 * x1) * cross) / 12;
      syy += ((y0 * y0 + y0 * y1 + y1 * y1) * cross) / 12;
      sxy += ((x0 * y1 + 2 * x0 * y0 + 2 * x1 * y1 + x1 * y0) * cross) / 24;
    }
  const xx = sxx - (sx * sx) / area;
  const yy = syy - (sy * sy) / area;
  const xy = sxy - (sx * sy) / area;
  const middle = (xx + yy) / 2;
  const spread = norm((xx - yy) / 2, xy);
  if (middle + spread < LEAST_ELONGATION ** 2 * (middle - spread)) return 0;
  return -Math.atan2(2 * xy, xx - yy) / 2;
}

/** The place on the graph where a way that begins or ends at `p` leaves or joins it. */
function anchorAt(rows: Rows, graph: FillGraph, p: Point): Anchor {
  const row = Math.floor((p[1] - rows.firstY) / rows.pitch + 0.5);
  let best: Span | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let reach = 1; best === null && reach <= rows.count; reach *= 2)
    for (let k = Math.max(0, row - reach); k <= Math.min(rows.count - 1, row + reach); k++)
      for (let i = rows.rowStart[k]; i < rows.rowStart[k + 1]; i++) {
        const span = rows.spans[i];
        if (graph.edgesOfSpan[i].length === 0) continue;
        const off = norm(Math.max(span.left - p[0], 0, p[0] - span.right), p[1] - span.y);
        if (off < least) {
          least = off;
          best = span;
        }
      }
  let found = best === null ? null : anchorOnSpan(graph, best, p);
  if (least > rows.pitch / 2 + 1e-6)
    for (const i of graph.sliverEdges) {
      const near = anchorOnLine(graph, i, p);
      if (near.off < least) {
        least = near.off;
        found = near.anchor;
      }
    }
  return found ?? { edge: 0, position: 0, fromA: 0, home: null };
}

function anchorOnSpan(graph: FillGraph, span: Span, p: Point): Anchor {
  const candidates = graph.edgesOfSpan[span.id];
  const edge = graph.edges[candidates[0]];
  if (edge.kind === "line") {
    let best = anchorOnLine(graph, candidates[0], p);
    for (const i of candidates.slice(1)) {
      const near = anchorOnLine(graph, i, p);
      if (near.off < best.off) best = near;
    }
    return best.anchor;
  }
  const count = edge.spans.length;
  const at = span.row - edge.spans[0].row;
  // On the side of the span where the point lies; but where the next row there ends short of the point, on the
  // other: so what is sewn last before an exit ends near it.
  const short = (row: Span | undefined): number =>
    row === undefined ? 0 : Math.max(row.sewnLeft - p[0], 0, p[0] - row.sewnRight);
  const shortAbove = short(edge.spans[at - 1]);
  const shortBelow = short(edge.spans[at + 1]);
  const preferBelow = p[1] > span.y;
  const isBelow = preferBelow
    ? shortBelow <= Math.max(shortAbove, SHORT_MM)
    : shortAbove > Math.max(shortBelow, SHORT_MM);
  const index = isBelow ? at + 1 : at;
  // Where something else meets the end of a stack, a way may end in the stack but not beyond it.
  const low = edge.aX === null ? 0 : 1;
  const high = edge.bX === null ? count : count - 1;
  const position = Math.max(Math.min(index, high), Math.min(low, count));
  return { edge: candidates[0], position, fromA: (position / count) * edge.lengthMm, home: span };
}

function anchorOnLine(graph: FillGraph, index: number, p: Point): { anchor: Anchor; off: number } {
  const { line, lengthMm } = graph.edges[index] as LineEdge;
  let off = Number.POSITIVE_INFINITY;
  let along = 0;
  let walked = 0;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    const t = nearestFraction(p, a, b);
    const d = norm(a[0] + (b[0] - a[0]) * t - p[0], a[1] + (b[1] - a[1]) * t - p[1]);
    const length = distance(a, b);
    if (d < off) {
      off = d;
      along = walked + length * t;
    }
    walked += length;
  }
  const snap = Math.min(END_SNAP_MM, lengthMm / 3);
  const position = along < snap ? 0 : along > lengthMm - snap ? lengthMm : along;
  return { anchor: { edge: index, position, fromA: position, home: null }, off };
}
