import type { Matrix, Point, Region } from "../geometry/types.ts";
import { apply, determinant } from "./matrix.ts";

/** A rectangle of user units as a region in millimetres. */
export function rectangle(x: number, y: number, width: number, height: number, toMm: Matrix): Region {
  const corners: Point[] = [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
  const outer = corners.map((corner) => apply(toMm, corner));
  return [{ outer: determinant(toMm) < 0 ? outer.reverse() : outer, holes: [] }];
}
