/**
 * Sets of polygons: union, intersection, difference, offset. The sums are clipper-lib's (Vatti's algorithm on
 * integers); this file turns millimetres into its units and back, and its tree of contours into polygons.
 */
import type { Path, Paths } from "clipper-lib";
import { CLIPPER_UNITS_PER_MM } from "../constants.ts";
import ClipperLib, { startAnew } from "./clipper.ts";
import { boxContains, boxOf, EMPTY_BOX, joinBoxes, lerp, nearestFraction } from "./point.ts";
import { signedArea } from "./polyline.ts";
import type { Box, Point, Polyline, Region, Ring } from "./types.ts";

const { Clipper, ClipperOffset, ClipType, EndType, JoinType, PolyFillType, PolyType } = ClipperLib;

export type FillRule = "nonzero" | "evenodd";
export type LineCap = "butt" | "round" | "square";
export type LineJoin = "miter" | "round" | "bevel";

/** Arcs made by an offset stay this near the true arc: half the flattening tolerance. */
const ARC_TOLERANCE_MM = 0.025;

function toPath(ring: Polyline): Path {
  const path: Path = [];
  for (let i = 0; i < ring.length; i++) {
    const point = ring[i];
    path.push({
      X: Math.round(point[0] * CLIPPER_UNITS_PER_MM),
      Y: Math.round(point[1] * CLIPPER_UNITS_PER_MM),
    });
  }
  return path;
}

function toRing(path: Path): Ring {
  const ring: Point[] = [];
  for (let i = 0; i < path.length; i++)
    ring.push([path[i].X / CLIPPER_UNITS_PER_MM, path[i].Y / CLIPPER_UNITS_PER_MM]);
  return ring;
}

/** Every ring of a region, outer and holes, in no particular order. */
export const ringsOf = (region: Region): Ring[] => region.flatMap(({ outer, holes }) => [outer, ...holes]);

function toPaths(region: Region): Paths {
  const paths: Paths = [];
  for (const { outer, holes } of region) {
    paths.push(toPath(outer));
    for (const hole of holes) paths.push(toPath(hole));
  }
  return paths;
}

/**
 * Outer rings with the holes that lie in them. clipper-lib can sort them itself, but in time that grows with the
 * square of the edges that its inputs share, and neighbours in a drawing share many.
 */
function polygonsOf(paths: Paths): Region {
  const outers: Outline[] = [];
  const holes: Outline[] = [];
  for (const path of paths) {
    if (path.length < 3) continue;
    const ring = toRing(path);
    const area = signedArea(ring);
    if (area > 0) outers.push({ path, ring, area, holes: [] });
    else if (area < 0) holes.push({ path, ring, area, holes: [] });
  }
  if (holes.length > 0) nest(outers, holes);
  return outers.map(({ ring, holes }) => ({ outer: ring, holes }));
}

interface Outline {
  readonly path: Path;
  readonly ring: Ring;
  readonly area: number;
  readonly holes: Ring[];
}

/** Gives each hole to the smallest outline round it. */
function nest(outers: readonly Outline[], holes: readonly Outline[]): void {
  const bySize = outers
    .map((outer) => ({ outer, box: boxOf(outer.ring) }))
    .sort((a, b) => a.outer.area - b.outer.area);
  for (const { path, ring } of holes) {
    const within = boxOf(ring);
    const home = bySize.find(({ outer, box }) => boxContains(box, within) && encloses(outer.path, path));
    home?.outer.holes.push(ring);
  }
}

/** Whether a ring that does not cross another lies inside it. Points on the edge say nothing. */
function encloses(outer: Path, inner: Path): boolean {
  for (const point of inner) {
    const side = Clipper.PointInPolygon(point, outer);
    if (side >= 0) return side === 1;
  }
  return true;
}

function combine(
  clip: number,
  subject: Paths,
  other: Paths,
  fill: number,
  otherFill: number = PolyFillType.pftNonZero,
): Region {
  startAnew();
  const clipper = new Clipper();
  clipper.StrictlySimple = true;
  clipper.AddPaths(subject, PolyType.ptSubject, true);
  if (other.length > 0) clipper.AddPaths(other, PolyType.ptClip, true);
  const solution: Paths = [];
  clipper.Execute(clip, solution, fill, otherFill);
  return polygonsOf(solution);
}

/** What loose, possibly crossing rings enclose under an SVG fill rule. Each ring is closed implicitly. */
export const regionFromRings = (rings: readonly Ring[], rule: FillRule): Region =>
  combine(
    ClipType.ctUnion,
    rings.map(toPath),
    [],
    rule === "evenodd" ? PolyFillType.pftEvenOdd : PolyFillType.pftNonZero,
  );

export const union = (regions: readonly Region[]): Region =>
  combine(ClipType.ctUnion, regions.flatMap(toPaths), [], PolyFillType.pftNonZero);

/** The union of rings of well-formed regions: outer rings wind forwards, and what winds backwards is empty. */
export const unionOfRings = (rings: readonly Ring[]): Region =>
  combine(
    ClipType.ctUnion,
    rings.filter((ring) => ring.length >= 3).map(toPath),
    [],
    PolyFillType.pftPositive,
  );

export const intersect = (a: Region, b: Region): Region =>
  a.length === 0 || b.length === 0
    ? []
    : combine(ClipType.ctIntersection, toPaths(a), toPaths(b), PolyFillType.pftNonZero);

export const subtract = (a: Region, b: Region): Region =>
  a.length === 0 || b.length === 0
    ? a
    : combine(ClipType.ctDifference, toPaths(a), toPaths(b), PolyFillType.pftNonZero);

/** What rings of well-formed regions, joined as `unionOfRings` joins them, leave of a region. */
export const subtractRings = (a: Region, rings: readonly Ring[]): Region => {
  const other = rings.filter((ring) => ring.length >= 3).map(toPath);
  return a.length === 0 || other.length === 0
    ? a
    : combine(ClipType.ctDifference, toPaths(a), other, PolyFillType.pftNonZero, PolyFillType.pftPositive);
};

const joinTypeOf = {
  miter: JoinType.jtMiter,
  round: JoinType.jtRound,
  bevel: JoinType.jtSquare,
} as const;

/**
 * All points within `deltaMm` of the region; for a negative delta, all that keep that far from its edge. Round
 * corners stay `arcToleranceMm` near the true arc.
 */
export function offset(
  region: Region,
  deltaMm: number,
  join: "miter" | "round" = "miter",
  arcToleranceMm = ARC_TOLERANCE_MM,
): Region {
  if (region.length === 0 || deltaMm === 0) return region;
  startAnew();
  const tool = new ClipperOffset(2, arcToleranceMm * CLIPPER_UNITS_PER_MM);
  tool.AddPaths(toPaths(region), joinTypeOf[join], EndType.etClosedPolygon);
  const solution: Paths = [];
  tool.Execute(solution, deltaMm * CLIPPER_UNITS_PER_MM);
  return polygonsOf(solution);
}

/** All points within `halfMm` of the polylines. */
export function thicken(lines: readonly Polyline[], halfMm: number): Region {
  startAnew();
  const tool = new ClipperOffset(2, ARC_TOLERANCE_MM * CLIPPER_UNITS_PER_MM);
  tool.AddPaths(lines.map(toPath), JoinType.jtRound, EndType.etOpenRound);
  const solution: Paths = [];
  tool.Execute(solution, halfMm * CLIPPER_UNITS_PER_MM);
  return polygonsOf(solution);
}

/** Regions never change, and most are asked about many times: their box is worked out once. */
const boxes = new WeakMap<Region, Box>();

export function regionBox(region: Region): Box {
  let box = boxes.get(region);
  if (!box) {
    box = region.reduce((all, { outer }) => joinBoxes(all, boxOf(outer)), EMPTY_BOX);
    boxes.set(region, box);
  }
  return box;
}

export const regionArea = (region: Region): number =>
  ringsOf(region).reduce((area, ring) => area + signedArea(ring), 0);

/** Even-odd test against every ring: right for disjoint polygons with holes. Points on the edge may go either way. */
export function regionContains(region: Region, p: Point): boolean {
  const x = p[0];
  const y = p[1];
  let inside = false;
  for (const { outer, holes } of region) {
    if (crossesOddly(outer, x, y)) inside = !inside;
    for (const hole of holes) if (crossesOddly(hole, x, y)) inside = !inside;
  }
  return inside;
}

function crossesOddly(ring: Ring, x: number, y: number): boolean {
  let odd = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const yi = ring[i][1];
    const yj = ring[j][1];
    if (yi > y === yj > y) continue;
    const xi = ring[i][0];
    const xj = ring[j][0];
    if (x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) odd = !odd;
  }
  return odd;
}

/** The point on the region's edge that is nearest to `p`. */
export function nearestOnEdge(region: Region, p: Point): { point: Point; distance: number } {
  let best = Number.POSITIVE_INFINITY;
  let point = p;
  for (const ring of ringsOf(region))
    for (let i = 0; i < ring.length; i++) {
      const a = ring[i];
      const b = ring[i + 1 < ring.length ? i + 1 : 0];
      const t = nearestFraction(p, a, b);
      const dx = a[0] + (b[0] - a[0]) * t - p[0];
      const dy = a[1] + (b[1] - a[1]) * t - p[1];
      const squared = dx * dx + dy * dy;
      if (squared < best) {
        best = squared;
        point = lerp(a, b, t);
      }
    }
  return { point, distance: Math.sqrt(best) };
}

/** 0 inside the region, else the distance to its edge. */
export const distanceToRegion = (region: Region, p: Point): number =>
  regionContains(region, p) ? 0 : nearestOnEdge(region, p).distance;
