/** Strokes to lay satin on, and a sew-out of the result: thread painted in needle order on a 0.1 mm raster. */
import ClipperLib from "clipper-lib";
import { CLIPPER_UNITS_PER_MM } from "../../core/constants.ts";
import { boxOf, growBox } from "../../core/geometry/point.ts";
import { type LineCap, type LineJoin, offset, regionFromRings, ringsOf } from "../../core/geometry/region.ts";
import type { Box, Point, Polyline, Region } from "../../core/geometry/types.ts";
import type { StitchPart, StitchRole } from "../../core/techniques/types.ts";

const { ClipperOffset, EndType, JoinType, PolyTree } = ClipperLib;

const ENDS = { butt: EndType.etOpenButt, round: EndType.etOpenRound, square: EndType.etOpenSquare };
const JOINS = { miter: JoinType.jtMiter, round: JoinType.jtRound, bevel: JoinType.jtSquare };

/** What a stroke paints. A line that repeats its first point is closed; a single point is a dot. */
export function strokeRegion(
  line: Polyline,
  widthMm: number,
  cap: LineCap = "butt",
  join: LineJoin = "round",
): Region {
  const path = line.map(([x, y]) => ({
    X: Math.round(x * CLIPPER_UNITS_PER_MM),
    Y: Math.round(y * CLIPPER_UNITS_PER_MM),
  }));
  const [first, last] = [line[0], line[line.length - 1]];
  const closed = line.length > 3 && first[0] === last[0] && first[1] === last[1];
  const tool = new ClipperOffset(4, 0.01 * CLIPPER_UNITS_PER_MM);
  tool.AddPath(
    closed ? path.slice(0, -1) : path,
    line.length === 1 ? JOINS.round : JOINS[join],
    closed ? EndType.etClosedLine : ENDS[cap],
  );
  const tree = new PolyTree();
  tool.Execute(tree, (widthMm / 2) * CLIPPER_UNITS_PER_MM);
  const rings: Point[][] = [];
  const collect = (nodes: ReturnType<typeof tree.Childs>): void => {
    for (const node of nodes) {
      rings.push(node.Contour().map(({ X, Y }) => [X / CLIPPER_UNITS_PER_MM, Y / CLIPPER_UNITS_PER_MM]));
      collect(node.Childs());
    }
  };
  collect(tree.Childs());
  return regionFromRings(rings, "evenodd");
}

/** Width of sewn thread on the raster: 40 weight, common practice, no source. */
export const THREAD_MM = 0.42;
const CELL_MM = 0.1;

export interface SewOut {
  /** Share of the region that cover lies on. */
  readonly coveredShare: number;
  /** Share of the area that thread lies on which is outside the region grown by `allowanceMm`. */
  readonly outsideShare: number;
  readonly travelMm: number;
  /** Of the travel, what no later cover hides. */
  readonly visibleTravelMm: number;
}

/** Sews the parts on a raster. */
export function sewOut(parts: readonly StitchPart[], region: Region, allowanceMm: number): SewOut {
  const stitches = parts.flatMap(({ role, points }) =>
    points.slice(1).map((to, i): [StitchRole, Point, Point] => [role, points[i], to]),
  );
  const raster = rasterFor(region, 3);
  const top = new Uint8Array(raster.width * raster.height);
  for (const [role, a, b] of stitches) paint(raster, top, a, b, role === "cover" ? 2 : 1);
  const covered = new Uint8Array(raster.width * raster.height);
  for (const [role, a, b] of stitches) if (role === "cover") paint(raster, covered, a, b, 1);

  const inside = filledBy(raster, region);
  const allowed = filledBy(raster, offset(region, allowanceMm, "round"));
  const count = (has: (cell: number) => boolean): number =>
    top.reduce((sum, _, cell) => sum + (has(cell) ? 1 : 0), 0);
  let travelMm = 0;
  let visibleTravelMm = 0;
  for (const [role, a, b] of stitches) {
    if (role !== "travel") continue;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const steps = Math.max(1, Math.ceil(length / 0.05));
    travelMm += length;
    for (let k = 0; k < steps; k++) {
      const t = (k + 0.5) / steps;
      const cell = cellOf(raster, [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t]);
      if (top[cell] === 1) visibleTravelMm += length / steps;
    }
  }
  return {
    coveredShare:
      count((cell) => inside[cell] === 1 && covered[cell] === 1) / count((cell) => inside[cell] === 1),
    outsideShare: count((cell) => top[cell] > 0 && allowed[cell] === 0) / count((cell) => top[cell] > 0),
    travelMm,
    visibleTravelMm,
  };
}

interface Raster {
  readonly box: Box;
  readonly width: number;
  readonly height: number;
}

function rasterFor(region: Region, marginMm: number): Raster {
  const box = growBox(boxOf(region.flatMap(({ outer }) => outer)), marginMm);
  return {
    box,
    width: Math.ceil((box.maxX - box.minX) / CELL_MM),
    height: Math.ceil((box.maxY - box.minY) / CELL_MM),
  };
}

const centreOf = ({ box, width }: Raster, cell: number): Point => [
  box.minX + ((cell % width) + 0.5) * CELL_MM,
  box.minY + (Math.floor(cell / width) + 0.5) * CELL_MM,
];

/** 1 for each cell whose centre lies in the region (even-odd, row by row). */
function filledBy(raster: Raster, region: Region): Uint8Array {
  const { box, width, height } = raster;
  const cells = new Uint8Array(width * height);
  const rings = ringsOf(region);
  for (let row = 0; row < height; row++) {
    const y = box.minY + (row + 0.5) * CELL_MM;
    const crossings: number[] = [];
    for (const ring of rings)
      for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
        const [a, b] = [ring[j], ring[i]];
        if (a[1] > y !== b[1] > y) crossings.push(a[0] + ((y - a[1]) * (b[0] - a[0])) / (b[1] - a[1]));
      }
    crossings.sort((a, b) => a - b);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      const from = Math.max(0, Math.ceil((crossings[k] - box.minX) / CELL_MM - 0.5));
      const to = Math.min(width - 1, Math.floor((crossings[k + 1] - box.minX) / CELL_MM - 0.5));
      cells.fill(1, row * width + from, row * width + Math.max(from, to + 1));
    }
  }
  return cells;
}

const cellOf = ({ box, width }: Raster, [x, y]: Point): number =>
  Math.floor((y - box.minY) / CELL_MM) * width + Math.floor((x - box.minX) / CELL_MM);

function paint(raster: Raster, cells: Uint8Array, a: Point, b: Point, value: number): void {
  const { box, width, height } = raster;
  const r = THREAD_MM / 2;
  const x0 = Math.max(0, Math.floor((Math.min(a[0], b[0]) - r - box.minX) / CELL_MM));
  const x1 = Math.min(width - 1, Math.floor((Math.max(a[0], b[0]) + r - box.minX) / CELL_MM));
  const y0 = Math.max(0, Math.floor((Math.min(a[1], b[1]) - r - box.minY) / CELL_MM));
  const y1 = Math.min(height - 1, Math.floor((Math.max(a[1], b[1]) + r - box.minY) / CELL_MM));
  for (let y = y0; y <= y1; y++)
    for (let x = x0; x <= x1; x++) {
      const cell = y * width + x;
      if (awayFromSegment(centreOf(raster, cell), a, b) <= r) cells[cell] = value;
    }
}

function awayFromSegment(p: Point, a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const long = dx * dx + dy * dy;
  const t = long === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / long));
  return Math.hypot(p[0] - a[0] - dx * t, p[1] - a[1] - dy * t);
}

/** Distance from a point outside the region to its edge. */
export function awayFrom(region: Region, p: Point): number {
  let least = Number.POSITIVE_INFINITY;
  for (const { outer, holes } of region)
    for (const ring of [outer, ...holes])
      for (let i = 0, j = ring.length - 1; i < ring.length; j = i++)
        least = Math.min(least, awayFromSegment(p, ring[j], ring[i]));
  return least;
}

/** Points of a curve given by `at` for t from 0 to 1, flat to well under 0.05 mm. */
export const curve = (at: (t: number) => Point, pieces = 64): Point[] =>
  Array.from({ length: pieces + 1 }, (_, k) => at(k / pieces));

/** A circle that repeats its first point, flattened as coarsely as drawings are: 0.05 mm from the true arc. */
export function circle(cx: number, cy: number, r: number): Point[] {
  const pieces = Math.max(8, Math.ceil(Math.PI / Math.acos(1 - Math.min(0.05 / r, 0.5))));
  const points = Array.from({ length: pieces }, (_, k): Point => {
    const a = (2 * Math.PI * k) / pieces;
    return [cx + r * Math.cos(a), cy + r * Math.sin(a)];
  });
  return [...points, points[0]];
}
