import type { Box, Point } from "./types.ts";

export function squaredDistance(a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  return dx * dx + dy * dy;
}

/** Length of a vector. By the square root, which every machine rounds alike; `Math.hypot` is slower and may differ. */
export const norm = (dx: number, dy: number): number => Math.sqrt(dx * dx + dy * dy);

export const distance = (a: Point, b: Point): number => norm(b[0] - a[0], b[1] - a[1]);

/** The point at fraction `t` of the way from `a` to `b`. */
export const lerp = (a: Point, b: Point, t: number): Point => [
  a[0] + (b[0] - a[0]) * t,
  a[1] + (b[1] - a[1]) * t,
];

/** Rotates about the origin by `angleRad`, from the x axis towards the y axis (clockwise as seen, y down). */
export function rotate(p: Point, angleRad: number): Point {
  const cos = Math.cos(angleRad);
  const sin = Math.sin(angleRad);
  return [p[0] * cos - p[1] * sin, p[0] * sin + p[1] * cos];
}

/** The fraction of segment ab, 0 to 1, at which it comes nearest to p. */
export function nearestFraction(p: Point, a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const length2 = dx * dx + dy * dy;
  if (length2 === 0) return 0;
  const t = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / length2;
  return Math.min(1, Math.max(0, t));
}

export const nearestOnSegment = (p: Point, a: Point, b: Point): Point => lerp(a, b, nearestFraction(p, a, b));

export const EMPTY_BOX: Box = {
  minX: Number.POSITIVE_INFINITY,
  minY: Number.POSITIVE_INFINITY,
  maxX: Number.NEGATIVE_INFINITY,
  maxY: Number.NEGATIVE_INFINITY,
};

export function boxOf(points: readonly Point[]): Box {
  let { minX, minY, maxX, maxY } = EMPTY_BOX;
  for (const point of points) {
    const x = point[0];
    const y = point[1];
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

export const growBox = (box: Box, by: number): Box => ({
  minX: box.minX - by,
  minY: box.minY - by,
  maxX: box.maxX + by,
  maxY: box.maxY + by,
});

export const joinBoxes = (a: Box, b: Box): Box => ({
  minX: Math.min(a.minX, b.minX),
  minY: Math.min(a.minY, b.minY),
  maxX: Math.max(a.maxX, b.maxX),
  maxY: Math.max(a.maxY, b.maxY),
});

export const boxesMeet = (a: Box, b: Box): boolean =>
  a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;

export const boxContains = (outer: Box, inner: Box): boolean =>
  outer.minX <= inner.minX &&
  outer.minY <= inner.minY &&
  outer.maxX >= inner.maxX &&
  outer.maxY >= inner.maxY;
