import type { Matrix, Point, Region } from "../geometry/types.ts";
import { apply, determinant } from "./matrix.ts";
import { withinReach } from "./within-reach.ts";

/** A rectangle of user units as a region in millimetres, as far as it lies within reach. */
export function rectangle(x: number, y: number, width: number, height: number, toMm: Matrix): Region {
  const corners: Point[] = [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
  const outer = corners.map((corner) => apply(toMm, corner));
  const wound = determinant(toMm) < 0 ? outer.reverse() : outer;
  return withinReach([wound]).map((ring) => ({ outer: ring, holes: [] }));
}
