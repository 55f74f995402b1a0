import type { Matrix, Point } from "./types.ts";

export const IDENTITY: Matrix = [1, 0, 0, 1, 0, 0];

export const applyMatrix = (
	[a, b, c, d, e, f]: Matrix,
	[x, y]: Point,
): Point => [a * x + c * y + e, b * x + d * y + f];

/** The map that applies `inner` first, then `outer`: SVG's order of nested transforms. */
export const multiply = (outer: Matrix, inner: Matrix): Matrix => [
	outer[0] * inner[0] + outer[2] * inner[1],
	outer[1] * inner[0] + outer[3] * inner[1],
	outer[0] * inner[2] + outer[2] * inner[3],
	outer[1] * inner[2] + outer[3] * inner[3],
	outer[0] * inner[4] + outer[2] * inner[5] + outer[4],
	outer[1] * inner[4] + outer[3] * inner[5] + outer[5],
];

export const determinant = ([a, b, c, d]: Matrix): number => a * d - b * c;

/** The map back. Not finite where the determinant is 0: test that first. */
export function invert(matrix: Matrix): Matrix {
	const [a, b, c, d, e, f] = matrix;
	const det = determinant(matrix);
	return [
		d / det,
		-b / det,
		-c / det,
		a / det,
		(c * f - d * e) / det,
		(b * e - a * f) / det,
	];
}
