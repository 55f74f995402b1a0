/** A grid of square cells over a drawing: a cheap look at where regions lie, before polygons are added up. */
import { boxOf, EMPTY_BOX, joinBoxes } from "../geometry/point.ts";
import { ringsOf } from "../geometry/region.ts";
import { sortFew } from "../geometry/sort-few.ts";
import type { Box, Region } from "../geometry/types.ts";

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
  const rowOf = (y: number) => Math.ceil((y - top) / cellMm - 0.5);
  const columnOf = (x: number) => Math.ceil((x - minX) / cellMm - 0.5);
  const rings = ringsOf(region);
  // From the region's first row to its last: a drawing may have many more.
  const { minY: upper, maxY: lower } = rings.map(boxOf).reduce(joinBoxes, EMPTY_BOX);
  const first = Math.max(0, rowOf(upper));
  const end = Math.min(height, rowOf(lower));
  const crossings: number[][] = [];
  for (let row = first; row < end; row++) crossings.push([]);
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [a, b] = ring[i][1] < ring[j][1] ? [ring[i], ring[j]] : [ring[j], ring[i]];
      const last = Math.min(height, rowOf(b[1]));
      for (let row = Math.max(0, rowOf(a[1])); row < last; row++) {
        const y = top + (row + 0.5) * cellMm;
        const x = a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0]);
        crossings[row - first].push(x);
      }
    }
  }
  crossings.forEach((xs, k) => {
    const row = first + k;
    sortFew(xs);
    for (let n = 0; n + 1 < xs.length; n += 2) {
      const from = Math.max(0, columnOf(xs[n] - reachMm));
      const to = Math.min(width - 1, columnOf(xs[n + 1] + reachMm) - 1);
      if (from <= to) visit(row * width + from, row * width + to);
    }
  });
}

/** Visits the cells whose middle lies in the region. */
export const visitCells = (cells: Cells, region: Region, visit: (cell: number) => void): void =>
  visitRuns(cells, region, (from, to) => {
    for (let cell = from; cell <= to; cell++) visit(cell);
  });
