import type { Matrix, Point } from "../geometry/types.ts";

export const IDENTITY: Matrix = [1, 0, 0, 1, 0, 0];

/** The map that applies `inner` first, then `outer`. */
export const multiply = (outer: Matrix, inner: Matrix): Matrix => [
  outer[0] * inner[0] + outer[2] * inner[1],
  outer[1] * inner[0] + outer[3] * inner[1],
  outer[0] * inner[2] + outer[2] * inner[3],
  outer[1] * inner[2] + outer[3] * inner[3],
  outer[0] * inner[4] + outer[2] * inner[5] + outer[4],
  outer[1] * inner[4] + outer[3] * inner[5] + outer[5],
];

export const apply = (m: Matrix, [x, y]: Point): Point => [
  m[0] * x + m[2] * y + m[4],
  m[1] * x + m[3] * y + m[5],
];

/** Maps a direction: no translation. */
export const applyVector = (m: Matrix, [x, y]: Point): Point => [m[0] * x + m[2] * y, m[1] * x + m[3] * y];

export const determinant = (m: Matrix): number => m[0] * m[3] - m[1] * m[2];

/** The inverse map. The matrix must not be singular. */
export function invert(m: Matrix): Matrix {
  const det = determinant(m);
  return [
    m[3] / det,
    -m[1] / det,
    -m[2] / det,
    m[0] / det,
    (m[2] * m[5] - m[3] * m[4]) / det,
    (m[1] * m[4] - m[0] * m[5]) / det,
  ];
}

export const translation = (x: number, y: number): Matrix => [1, 0, 0, 1, x, y];

export const scaling = (x: number, y = x): Matrix => [x, 0, 0, y, 0, 0];

/** True where the map flattens the plane to a line or a point, or holds a number that is not finite. */
export const isSingular = (m: Matrix): boolean =>
  !m.every(Number.isFinite) || Math.abs(determinant(m)) < 1e-12;

/** The greatest factor by which the map stretches a length: its larger singular value. */
export function greatestStretch([a, b, c, d]: Matrix): number {
  const sum = (a * a + b * b + c * c + d * d) / 2;
  const det = a * d - b * c;
  return Math.sqrt(sum + Math.sqrt(Math.max(0, sum * sum - det * det)));
}

/** True where every length is stretched by the same factor, to a relative 1e-6: circles stay circles. */
export function isSimilarity(m: Matrix): boolean {
  const [a, b, c, d] = m;
  const scale = a * a + b * b + c * c + d * d;
  return Math.abs(a * c + b * d) <= 1e-6 * scale && Math.abs(a * a + b * b - c * c - d * d) <= 1e-6 * scale;
}
