/**
 * Where markers may stand: at once, on the page itself, by the outlines that came with the plan. The rule is the
 * planner's own: within an area anywhere, else at its nearest edge; of running stitches on the line.
 */
import { boxOf, nearestOnSegment, squaredDistance } from "../../core/geometry/point.ts";
import type { Box, Point } from "../../core/geometry/types.ts";
import type { PackedShape, PackedShapes } from "../worker/pack.ts";

export interface Snapper {
  /** The point nearest to `at` at which the piece can be entered or left; `at` itself where there is no such piece. */
  nearest(piece: string, at: Point): Point;
  /** Whether thread that lies there once the piece is sewn will be hidden by what is sewn later. */
  isTucked(piece: string, at: Point): boolean;
}

export function snapperFor({ shapes, coordinates }: PackedShapes): Snapper {
  const order = new Map(shapes.map(({ piece }, k) => [piece, k]));
  const boxes: (Box | undefined)[] = [];
  const boxAt = (k: number): Box => {
    boxes[k] ??= boxOfShape(shapes[k], coordinates);
    return boxes[k];
  };
  return {
    nearest(piece, at) {
      const shape = shapes[order.get(piece) ?? -1];
      if (shape === undefined || (shape.kind === "area" && holds(shape, coordinates, at))) return at;
      return nearestOnLines(shape, coordinates, at);
    },
    isTucked(piece, at) {
      const k = order.get(piece);
      if (k === undefined) return false;
      for (let later = k + 1; later < shapes.length; later++) {
        if (shapes[later].covers && inBox(boxAt(later), at) && holds(shapes[later], coordinates, at))
          return true;
      }
      return false;
    },
  };
}

function nearestOnLines(shape: PackedShape, coordinates: Float32Array, at: Point): Point {
  let nearest = at;
  let least = Number.POSITIVE_INFINITY;
  for (const [a, b] of edgesOf(shape, coordinates)) {
    const p = nearestOnSegment(at, a, b);
    const away = squaredDistance(p, at);
    if (away < least) [nearest, least] = [p, away];
  }
  return nearest;
}

/** Even-odd: how often a ray to the right crosses the edges. */
function holds(shape: PackedShape, coordinates: Float32Array, [x, y]: Point): boolean {
  let isInside = false;
  for (const [[ax, ay], [bx, by]] of edgesOf(shape, coordinates)) {
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) isInside = !isInside;
  }
  return isInside;
}

/** The edges of all lines; an area's lines are closed. */
function* edgesOf({ starts, kind }: PackedShape, coordinates: Float32Array): Generator<[Point, Point]> {
  for (let l = 0; l + 1 < starts.length; l++) {
    const [start, end] = [starts[l], starts[l + 1]];
    if (start === end) continue;
    const pointAt = (k: number): Point => [coordinates[k], coordinates[k + 1]];
    let before = pointAt(kind === "area" ? end - 2 : start);
    for (let k = start; k < end; k += 2) {
      const next = pointAt(k);
      yield [before, next];
      before = next;
    }
  }
}

function boxOfShape({ starts }: PackedShape, coordinates: Float32Array): Box {
  const points: Point[] = [];
  for (let k = starts[0]; k < starts[starts.length - 1]; k += 2)
    points.push([coordinates[k], coordinates[k + 1]]);
  return boxOf(points);
}

const inBox = ({ minX, minY, maxX, maxY }: Box, [x, y]: Point): boolean =>
  x >= minX && x <= maxX && y >= minY && y <= maxY;
