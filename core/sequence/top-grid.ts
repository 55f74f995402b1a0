/**
 * A coarse grid of which piece lies on top: a cheap look at where a piece could be hidden, before polygons are
 * added up. It may be wrong by a cell along edges; whoever asks allows for that.
 */
import { regionBox } from "../geometry/region.ts";
import type { Box, Region } from "../geometry/types.ts";
import { type Cells, cellsOver, visitCells, visitRuns } from "./cells.ts";

const CELL_MM = 1;

export interface TopGrid {
  /** The pieces on top where the middles of cells lie in the region; `null` where one is not under pieces after piece k. */
  over(k: number, region: Region): readonly number[] | null;
  /**
   * The box round all places in the region of piece k that pieces after it hide and that lie at least `farMm` from
   * whatever is seen of it; `null` where they do not come to `areaMm2`.
   */
  farFromSeen(k: number, region: Region, farMm: number, areaMm2: number): Box | null;
}

/** `areas[k]` is what piece k hides, or `null`; a later piece lies over an earlier one. */
export function buildTopGrid(areas: readonly (Region | null)[], extent: Box): TopGrid {
  const grid = cellsOver(extent, CELL_MM);
  const { width, height } = grid;
  const top = new Int32Array(width * height).fill(-1);
  for (const [k, area] of areas.entries())
    if (area) visitRuns(grid, area, (from, to) => top.fill(k, from, to + 1));
  return {
    over(k, region) {
      const found = new Set<number>();
      visitCells(grid, region, (cell) => {
        found.add(Math.max(top[cell], k));
      });
      return found.has(k) ? null : [...found];
    },
    farFromSeen(k, region, farMm, areaMm2) {
      let hidden = 0;
      visitCells(grid, region, (cell) => {
        if (top[cell] > k) hidden++;
      });
      if (hidden * CELL_MM ** 2 < areaMm2) return null;
      // The nearest cell that is seen lies in the region too: nothing beyond its box matters.
      const window = windowOf(grid, regionBox(region));
      const distances = new Float32Array(window.width * window.height).fill(Number.POSITIVE_INFINITY);
      const placeOf = (cell: number) =>
        (Math.floor(cell / width) - window.row) * window.width + (cell % width) - window.column;
      visitCells(grid, region, (cell) => {
        if (top[cell] <= k) distances[placeOf(cell)] = 0;
      });
      spreadDistances(distances, window.width, window.height);
      let far = 0;
      const box = { minX: width, minY: height, maxX: -1, maxY: -1 };
      visitCells(grid, region, (cell) => {
        if (distances[placeOf(cell)] * CELL_MM < farMm) return;
        far++;
        const [x, y] = [cell % width, Math.floor(cell / width)];
        box.minX = Math.min(box.minX, x);
        box.maxX = Math.max(box.maxX, x);
        box.minY = Math.min(box.minY, y);
        box.maxY = Math.max(box.maxY, y);
      });
      if (far * CELL_MM ** 2 < areaMm2) return null;
      return {
        minX: extent.minX + box.minX * CELL_MM,
        minY: extent.minY + box.minY * CELL_MM,
        maxX: extent.minX + (box.maxX + 1) * CELL_MM,
        maxY: extent.minY + (box.maxY + 1) * CELL_MM,
      };
    },
  };
}

/** The rows and columns of the grid that a box reaches. */
function windowOf({ minX, minY, width, height }: Cells, box: Box) {
  const column = Math.max(0, Math.floor((box.minX - minX) / CELL_MM));
  const row = Math.max(0, Math.floor((box.minY - minY) / CELL_MM));
  return {
    column,
    row,
    width: Math.max(0, Math.min(width, Math.ceil((box.maxX - minX) / CELL_MM)) - column),
    height: Math.max(0, Math.min(height, Math.ceil((box.maxY - minY) / CELL_MM)) - row),
  };
}

/**
 * From cells that hold 0, distances in cells to all others, diagonals counted as one and a half (a chamfer
 * distance: two passes over the grid).
 */
function spreadDistances(distances: Float32Array, width: number, height: number): void {
  const lower = (x: number, y: number, back: -1 | 1) => {
    const cell = y * width + x;
    const row = cell + back * width;
    const hasRow = y + back >= 0 && y + back < height;
    let least = distances[cell];
    if (x + back >= 0 && x + back < width) least = Math.min(least, distances[cell + back] + 1);
    if (hasRow) least = Math.min(least, distances[row] + 1);
    if (hasRow && x > 0) least = Math.min(least, distances[row - 1] + 1.5);
    if (hasRow && x + 1 < width) least = Math.min(least, distances[row + 1] + 1.5);
    distances[cell] = least;
  };
  for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) lower(x, y, -1);
  for (let y = height - 1; y >= 0; y--) for (let x = width - 1; x >= 0; x--) lower(x, y, 1);
}
