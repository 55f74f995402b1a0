/**
 * Underlay of a fill: what is sewn first, under the rows, so that the fabric holds still and the rows stand up.
 *
 * - An *edge run* follows the outline, inset: the rows' ends get something to bite on.
 * - A *cross fill* is open rows square to the rows above: it ties fabric and backing together.
 *
 * Both keep to the *inset*: the part of the region that lies so far inside the outline that nothing sewn there can
 * show. The inset may fall into several *islands*; those too slim are left out. The underlay passes from the entry
 * through all islands and ends where the cover starts best, so it is also the way there: all of it, and all ways
 * between islands, lie in the region, which is covered afterwards. Insets, widths, spacing and lengths are common
 * practice, no source.
 */
import { append } from "../append.ts";
import { distance } from "../geometry/point.ts";
import {
  arcLengths,
  closeRing,
  nearestOnPolyline,
  pointAlong,
  polylineLength,
  slicePolyline,
} from "../geometry/polyline.ts";
import { nearestOnEdge, offset, regionArea, regionBox, regionContains, ringsOf } from "../geometry/region.ts";
import { buildPathFinder, type PathFinder } from "../geometry/shortest-path.ts";
import type { Point, Polygon, Polyline, Region, Ring } from "../geometry/types.ts";
import type { UnderlayKind } from "../recipes/advice.ts";
import { shortFor, stitchAlong, withoutShort } from "./even-stitches.ts";
import { corners } from "./fill-path.ts";
import type { Stitcher } from "./types.ts";

/** How far inside the outline the underlay keeps: the thread, the pull of the rows, and some to spare. */
const INSET_MM = 0.8;

/** Ways between islands keep this far inside where there is room. */
const WAY_INSET_MM = 0.6;

/** Slimmer than this a fill needs no underlay; from the second width on it gets cross fill besides the edge run. */
const LEAST_WIDTH_MM = 3;
const CROSS_WIDTH_MM = 8;

/** The outline is straightened by no more than this before it is inset. */
const TOLERANCE_MM = 0.1;

/** Holes with a shorter edge get no edge run. */
const LEAST_RING_MM = 6;

const CROSS_SPACING_MM = 2;
const STITCH_MM = 3;
const EDGE_STITCH_MM = 2.5;

/** From an entry on the outline to the inset it is no further than this, unless the region is too slim there. */
const NEAR_MM = 1.2;

/** So many places along the inset's edge are tried as the start of the cover. */
const STARTS = 6;

/** Underlay thread beside travel under the rows: so much is a millimetre of it worth. */
const WAY_COST = 0.3;

export interface UnderlayOptions {
  readonly kinds: readonly UnderlayKind[];
  readonly minStitchMm: number;
  readonly maxStitchMm: number;
  /** Lays open rows, square to the cover's, over an island. */
  crossFill(island: Region, spacingMm: number, lengthMm: number): Stitcher;
}

export interface Underlay {
  /** Needle points from the entry to where the cover, which ends at `exit`, is to start. */
  sew(entry: Point, exit: Point): Polyline;
  /** How much a cover that ends at `exit` travels from where it then starts. */
  coverTravelMm(exit: Point): number;
}

interface Island {
  readonly polygon: Polygon;
  readonly region: Region;
  readonly isWide: boolean;
  /** Where the cover may start. */
  readonly starts: readonly Point[];
}

/** The underlay of a fill that `cover` covers; `null` where the region is too slim for any. */
export function layUnderlay(region: Region, cover: Stitcher, options: UnderlayOptions): Underlay | null {
  const hasEdge = options.kinds.includes("edge run");
  const hasCross = options.kinds.includes("cross fill");
  if (!hasEdge && !hasCross) return null;
  const islands = islandsOf(region).filter(({ isWide }) => hasEdge || isWide);
  if (islands.length === 0) return null;
  const way = wayIn(region);
  // No one sees the underlay: it has no short stitches to follow its line.
  const shortMm = shortFor(EDGE_STITCH_MM, options.minStitchMm);

  const startIn = (island: Island, from: Point, exit: Point): Point => {
    let best = island.starts[0];
    let least = Number.POSITIVE_INFINITY;
    for (const start of island.starts) {
      const cost = cover.travelMm(start, exit) + WAY_COST * distance(from, start);
      if (cost >= least) continue;
      least = cost;
      best = start;
    }
    return best;
  };
  const lastIsland = (exit: Point): Island => nearestIsland(islands, exit);
  const known = new Map<string, number>();

  return {
    coverTravelMm(exit) {
      const key = exit.join(" ");
      const travelMm =
        known.get(key) ??
        lastIsland(exit).starts.reduce(
          (least, start) => Math.min(least, cover.travelMm(start, exit)),
          Number.POSITIVE_INFINITY,
        );
      known.set(key, travelMm);
      return travelMm;
    },
    sew(entry, exit) {
      const last = lastIsland(exit);
      const open = islands.filter((island) => island !== last);
      const points: Point[] = [entry];
      const at = (): Point => points[points.length - 1];
      const run = (line: Polyline, lengthMm: number): void => {
        append(points, stitchAlong(line, Math.min(lengthMm, options.maxStitchMm), shortMm).slice(1));
      };
      for (let left = islands.length; left > 0; left--) {
        const island = left === 1 ? last : nearestIsland(open, at());
        if (left > 1) open.splice(open.indexOf(island), 1);
        const first = nearestOnEdge(island.region, at()).point;
        run(way(at(), first), EDGE_STITCH_MM);
        const goal = left === 1 ? startIn(island, first, exit) : first;
        const isCrossed = hasCross && island.isWide;
        if (hasEdge)
          for (const line of edgeRuns(island, first, isCrossed ? first : goal)) run(line, EDGE_STITCH_MM);
        if (isCrossed) {
          const parts = options.crossFill(island.region, CROSS_SPACING_MM, STITCH_MM).stitch(at(), goal);
          for (const part of parts) append(points, part.points.slice(1));
        }
      }
      return withoutShort(points, shortMm);
    },
  };
}

function islandsOf(region: Region): Island[] {
  const islands: Island[] = [];
  if (!mayHoldCircle(region, LEAST_WIDTH_MM / 2)) return islands;
  for (const polygon of offset(region.map(simpler), -INSET_MM)) {
    const island = [polygon];
    if (!holdsCircle(island, LEAST_WIDTH_MM / 2 - INSET_MM)) continue;
    const isWide = holdsCircle(island, CROSS_WIDTH_MM / 2 - INSET_MM);
    islands.push({ polygon, region: island, isWide, starts: evenly(polygon.outer, STARTS) });
  }
  return islands;
}

/**
 * Whether a circle of this radius fits into one polygon. Mostly two bounds tell: the widest circle's radius is no
 * less than area over edge length (what lies near the edge is no more than edge times radius), and its box and area
 * fit into the polygon's.
 */
function holdsCircle(island: Region, radiusMm: number): boolean {
  if (!mayHoldCircle(island, radiusMm)) return false;
  const edge = ringsOf(island).reduce((sum, ring) => sum + ringLength(ring), 0);
  return regionArea(island) >= radiusMm * edge || offset(island, -radiusMm).length > 0;
}

function mayHoldCircle(region: Region, radiusMm: number): boolean {
  const { minX, minY, maxX, maxY } = regionBox(region);
  return (
    Math.min(maxX - minX, maxY - minY) >= 2 * radiusMm && regionArea(region) >= Math.PI * radiusMm * radiusMm
  );
}

/** With fewer corners: no one sees the underlay follow the outline. */
const simpler = ({ outer, holes }: Polygon): Polygon => ({
  outer: simplerRing(outer),
  holes: holes.map(simplerRing),
});

/** A ring of two halves, each straightened; one too small for that is left as it is. */
function simplerRing(ring: Ring): Ring {
  const half = Math.floor(ring.length / 2);
  const there = corners(ring.slice(0, half + 1), TOLERANCE_MM);
  const back = corners([...ring.slice(half), ring[0]], TOLERANCE_MM);
  const simple = [...there.slice(0, -1), ...back.slice(0, -1)];
  return simple.length < 3 ? ring : simple;
}

/** So many points evenly along a ring. */
function evenly(ring: Ring, count: number): Point[] {
  const line = closeRing(ring);
  const lengths = arcLengths(line);
  const total = lengths[lengths.length - 1];
  return Array.from({ length: count }, (_, k) => pointAlong(line, lengths, (k * total) / count));
}

function nearestIsland(islands: readonly Island[], p: Point): Island {
  let best = islands[0];
  let least = Number.POSITIVE_INFINITY;
  for (const island of islands) {
    const away = regionContains(island.region, p) ? 0 : nearestOnEdge(island.region, p).distance;
    if (away >= least) continue;
    least = away;
    best = island;
  }
  return best;
}

/** Shortest ways inside the region: straight where it is near, else round its corners, inset where that hangs together. */
function wayIn(region: Region): (from: Point, to: Point) => Polyline {
  let finder: PathFinder | undefined;
  let room = region;
  return (from, to) => {
    if (distance(from, to) <= NEAR_MM) return [from, to];
    if (finder === undefined) {
      const inset = offset(region, -WAY_INSET_MM);
      if (inset.length === 1) room = inset;
      finder = buildPathFinder(room);
    }
    const inside = (p: Point): Point => (regionContains(room, p) ? p : nearestOnEdge(room, p).point);
    const path = finder.shortestPath(inside(from), inside(to));
    return [from, ...(path?.points ?? []), to];
  };
}

/**
 * Once round each edge of an island, from a point on one of them, then on along that one to `goal` if it lies there:
 * a line for each. Edges of holes are reached from the nearest point of the edge that is being sewn, where the way
 * there is clear.
 */
function edgeRuns({ polygon, region }: Island, first: Point, goal: Point): Polyline[] {
  const rings = ringsOf(region).filter((ring) => ring === polygon.outer || ringLength(ring) > LEAST_RING_MM);
  const own = rings.reduce((best, ring) => (away(ring, first) < away(best, first) ? ring : best));
  const round = loop(own, first);
  const lengths = arcLengths(round);
  const detours = rings
    .filter((ring) => ring !== own)
    .map((ring) => detourTo(ring, round, region))
    .filter((detour) => detour !== null)
    .sort((a, b) => a.along - b.along);
  const lines: Polyline[] = [];
  let from = 0;
  for (const { along, line } of detours) {
    if (along > from) lines.push(slicePolyline(round, lengths, from, along));
    lines.push(...line);
    from = along;
  }
  lines.push(slicePolyline(round, lengths, from, lengths[lengths.length - 1]));
  const on = nearestOnPolyline(goal, round);
  if (distance(goal, first) > 0 && on.distance < NEAR_MM) {
    const total = lengths[lengths.length - 1];
    const isForward = on.along <= total / 2;
    lines.push(slicePolyline(round, lengths, isForward ? 0 : total, on.along));
  }
  return lines;
}

const ringLength = (ring: Ring): number => polylineLength(closeRing(ring));

const away = (ring: Ring, p: Point): number => nearestOnPolyline(p, closeRing(ring)).distance;

/** A ring as a line from one of its points round to it. */
function loop(ring: Ring, from: Point): Point[] {
  const line = closeRing(ring);
  const lengths = arcLengths(line);
  const { along, point } = nearestOnPolyline(from, line);
  return [
    ...slicePolyline(line, lengths, along, lengths[lengths.length - 1]),
    ...slicePolyline(line, lengths, 0, along).slice(1, -1),
    point,
  ];
}

/** There, once round, and back: `null` where the straight way leaves the island. */
function detourTo(ring: Ring, round: Polyline, region: Region): { along: number; line: Polyline[] } | null {
  let best = { distance: Number.POSITIVE_INFINITY, along: 0, point: round[0] };
  let to = ring[0];
  for (const p of ring) {
    const near = nearestOnPolyline(p, round);
    if (near.distance >= best.distance) continue;
    best = near;
    to = p;
  }
  const isClear = [0.2, 0.4, 0.6, 0.8].every((t) =>
    regionContains(region, [
      best.point[0] + (to[0] - best.point[0]) * t,
      best.point[1] + (to[1] - best.point[1]) * t,
    ]),
  );
  if (!isClear) return null;
  return { along: best.along, line: [[best.point, to], loop(ring, to), [to, best.point]] };
}
