/** A grid of square cells over a drawing: a cheap look at where regions lie, before polygons are added up. */
import { boxOf, EMPTY_BOX, joinBoxes } from "../geometry/point.ts";
import { ringsOf } from "../geometry/region.ts";
import { sortFew } from "../geometry/sort-few.ts";
import type { Box, Point, Region, Ring } from "../geometry/types.ts";

/** Cell (x, y) is at index y · width + x; its lower corner lies at (minX + x · cellMm, minY + y · cellMm). */
export interface Cells {
  readonly minX: number;
  readonly minY: number;
  readonly width: number;
  readonly height: number;
  readonly cellMm: number;
}

export const cellsOver = (extent: Box, cellMm: number): Cells => ({
  minX: extent.minX,
  minY: extent.minY,
  width: Math.max(1, Math.ceil((extent.maxX - extent.minX) / cellMm)),
  height: Math.max(1, Math.ceil((extent.maxY - extent.minY) / cellMm)),
  cellMm,
});

/**
 * Visits runs of cells whose middle lies in the region, from cell `from` to cell `to` of one row: crossings of each
 * row, taken in pairs. With a reach, also cells whose middle lies that far left or right of it. `shiftMm` moves the
 * region down before it is looked at.
 */
export function visitRuns(
  { minX, minY, width, height, cellMm }: Cells,
  region: Region,
  visit: (from: number, to: number) => void,
  reachMm = 0,
  shiftMm = 0,
): void {
  const top = minY - shiftMm;
  const columnOf = (x: number) => Math.ceil((x - minX) / cellMm - 0.5);
  const { first, starts, xs } = crossingsOf(ringsOf(region), top, height, cellMm);
  for (let k = 0; k + 1 < starts.length; k++) {
    const row = (first + k) * width;
    for (let n = starts[k]; n + 1 < starts[k + 1]; n += 2) {
      const from = Math.max(0, columnOf(xs[n] - reachMm));
      const to = Math.min(width - 1, columnOf(xs[n + 1] + reachMm) - 1);
      if (from <= to) visit(row + from, row + to);
    }
  }
}

/** Where the middles of rows cross some rings: of row `first + k`, `xs` from `starts[k]` to before `starts[k + 1]`. */
interface Crossings {
  readonly first: number;
  readonly starts: Int32Array;
  /** Ascending in each row. */
  readonly xs: Float64Array;
}

function crossingsOf(rings: readonly Ring[], top: number, height: number, cellMm: number): Crossings {
  const rowOf = (y: number) => Math.ceil((y - top) / cellMm - 0.5);
  // From the region's first row to its last: a drawing may have many more.
  const { minY, maxY } = rings.map(boxOf).reduce(joinBoxes, EMPTY_BOX);
  const first = Math.max(0, rowOf(minY));
  const end = Math.max(first, Math.min(height, rowOf(maxY)));
  const eachCrossing = (visit: (k: number, upper: Point, lower: Point) => void): void => {
    for (const ring of rings)
      for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
        const isDown = ring[i][1] >= ring[j][1];
        const upper = isDown ? ring[j] : ring[i];
        const lower = isDown ? ring[i] : ring[j];
        const last = Math.min(end, rowOf(lower[1]));
        for (let row = Math.max(first, rowOf(upper[1])); row < last; row++) visit(row - first, upper, lower);
      }
  };
  // Counted first, then laid one row after the other.
  const starts = new Int32Array(end - first + 1);
  eachCrossing((k) => starts[k + 1]++);
  for (let k = 1; k < starts.length; k++) starts[k] += starts[k - 1];
  const xs = new Float64Array(starts[starts.length - 1]);
  const next = starts.slice();
  eachCrossing((k, upper, lower) => {
    const y = top + (first + k + 0.5) * cellMm;
    xs[next[k]++] = upper[0] + ((y - upper[1]) / (lower[1] - upper[1])) * (lower[0] - upper[0]);
  });
  for (let k = 0; k + 1 < starts.length; k++) sortFew(xs, starts[k], starts[k + 1]);
  return { first, starts, xs };
}

/** Visits the cells whose middle lies in the region. */
export const visitCells = (cells: Cells, region: Region, visit: (cell: number) => void): void =>
  visitRuns(cells, region, (from, to) => {
    for (let cell = from; cell <= to; cell++) visit(cell);
  });
