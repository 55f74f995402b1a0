/**
 * Needle holes and where they pile up. Fabric pierced again and again in one spot is cut through, and thread
 * knots there.
 */
import { norm } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import { isSewn } from "./steps.ts";
import type { SewingStep } from "./types.ts";

/** Holes nearer to each other than this, in millimetres, are one spot. */
export const SPOT_MM = 0.3;

export interface Pile {
  /** The hole with the most others round it. */
  readonly at: Point;
  /** Holes within `SPOT_MM` of it, itself among them. */
  readonly holes: number;
  /** Index into `sewing` of the step that made the hole. */
  readonly step: number;
}

/**
 * Spots with more than `most` holes, one for each step that has any: its worst. Ties are not counted: they are
 * a pile on purpose. A hole that two steps share, the end of one and the start of the next, counts once.
 *
 * Holes are sorted into square cells as wide as a spot, so that each looks at its nine cells only.
 */
export function needlePiles(sewing: readonly SewingStep[], most: number): Pile[] {
  const { xs, ys, steps } = holesOf(sewing);
  const cells = sortIntoCells(xs, ys);
  const piles = new Map<number, Pile>();
  for (let hole = 0; hole < xs.length; hole++) {
    if (cells.crowd(hole) <= most) continue;
    const holes = cells.within(hole);
    const step = steps[hole];
    if (holes > most && holes > (piles.get(step)?.holes ?? 0))
      piles.set(step, { at: [xs[hole], ys[hole]], holes, step });
  }
  return [...piles.values()];
}

interface Holes {
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly steps: Int32Array;
}

function holesOf(sewing: readonly SewingStep[]): Holes {
  const pierced = sewing.map((step) =>
    isSewn(step) && step.role !== "tie-in" && step.role !== "tie-off" ? step.points : new Float64Array(0),
  );
  const count = pierced.reduce((sum, points) => sum + Math.max(0, points.length / 2 - 1), 0);
  const holes = { xs: new Float64Array(count), ys: new Float64Array(count), steps: new Int32Array(count) };
  let hole = 0;
  for (const [step, points] of pierced.entries()) {
    for (let i = 2; i < points.length; i += 2, hole++) {
      holes.xs[hole] = points[i];
      holes.ys[hole] = points[i + 1];
      holes.steps[hole] = step;
    }
  }
  return holes;
}

interface Cells {
  /** Holes in the nine cells round a hole: no fewer than lie near it. */
  crowd(hole: number): number;
  /** Holes within the width of a spot, itself among them. */
  within(hole: number): number;
}

function sortIntoCells(xs: Float64Array, ys: Float64Array): Cells {
  let [minX, minY, maxX, maxY] = [0, 0, 0, 0];
  for (let hole = 0; hole < xs.length; hole++) {
    minX = Math.min(minX, xs[hole]);
    maxX = Math.max(maxX, xs[hole]);
    minY = Math.min(minY, ys[hole]);
    maxY = Math.max(maxY, ys[hole]);
  }
  // One cell all round, so that each has eight neighbours.
  const [left, top] = [Math.floor(minX / SPOT_MM) - 1, Math.floor(minY / SPOT_MM) - 1];
  const width = Math.floor(maxX / SPOT_MM) - left + 2;
  const height = Math.floor(maxY / SPOT_MM) - top + 2;
  const cellOf = new Int32Array(xs.length);
  // Counting sort: `starts[c]` to `starts[c + 1]` is the stretch of `order` that holds cell c.
  const starts = new Int32Array(width * height + 1);
  for (let hole = 0; hole < xs.length; hole++) {
    const cell = (Math.floor(ys[hole] / SPOT_MM) - top) * width + Math.floor(xs[hole] / SPOT_MM) - left;
    cellOf[hole] = cell;
    starts[cell + 1]++;
  }
  for (let c = 0; c < width * height; c++) starts[c + 1] += starts[c];
  const next = starts.slice();
  const order = new Int32Array(xs.length);
  for (let hole = 0; hole < xs.length; hole++) order[next[cellOf[hole]]++] = hole;
  const inRow = (c: number) => starts[c + 2] - starts[c - 1];
  return {
    crowd: (hole) => inRow(cellOf[hole] - width) + inRow(cellOf[hole]) + inRow(cellOf[hole] + width),
    within(hole) {
      const c = cellOf[hole];
      let holes = 0;
      for (let row = c - width; row <= c + width; row += width) {
        for (let i = starts[row - 1]; i < starts[row + 2]; i++) {
          if (norm(xs[order[i]] - xs[hole], ys[order[i]] - ys[hole]) <= SPOT_MM) holes++;
        }
      }
      return holes;
    },
  };
}
