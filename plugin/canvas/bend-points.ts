/** The points that a connector is led through, and where a new one belongs among them. */
import { nearestFraction, nearestOnSegment, squaredDistance } from "../../core/geometry/point.ts";
import type { Point, Polyline } from "../../core/geometry/types.ts";

/** How far along a line, in segments, the point of it lies that is nearest to `p`. */
function placeOn(line: Polyline, p: Point): number {
  let nearest = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k + 1 < line.length; k++) {
    const away = squaredDistance(p, nearestOnSegment(p, line[k], line[k + 1]));
    if (away < least) [nearest, least] = [k + nearestFraction(p, line[k], line[k + 1]), away];
  }
  return nearest;
}

/**
 * Where among the points that a connector is led through a new one belongs that was taken hold of at `at`:
 * before the first of them that lies further along the line.
 */
export function bendPlace(line: Polyline, through: Polyline, at: Point): number {
  const place = placeOn(line, at);
  const after = through.findIndex((point) => placeOn(line, point) > place);
  return after < 0 ? through.length : after;
}

/** The middle of a line by length. */
export function middleOf(line: Polyline): Point {
  const lengths = line.slice(1).map((point, k) => Math.sqrt(squaredDistance(point, line[k])));
  let left = lengths.reduce((sum, length) => sum + length, 0) / 2;
  for (const [k, length] of lengths.entries()) {
    if (length > 0 && left <= length) {
      const t = left / length;
      const [a, b] = [line[k], line[k + 1]];
      return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
    }
    left -= length;
  }
  return line[0];
}
