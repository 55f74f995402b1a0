/**
 * The assignment bound: give every piece one successor and the depot one, each taken once, as cheaply as can
 * be, circles allowed. Every order is such an assignment, so none costs less. Solved by shortest augmenting
 * paths (R. Jonker, A. Volgenant, «A shortest augmenting path algorithm for dense and sparse linear assignment
 * problems», Computing 38, 1987): O(n³) steps. The prices bound the cost from below at every moment, so it may
 * be broken off.
 */
import type { Meter } from "./solve-meter.ts";

export interface Assignment {
  /** No assignment costs less; Infinity where none avoids the arcs that cost Infinity. */
  readonly bound: number;
  /** Whether the bound is the cost of the cheapest assignment; false where the work was broken off. */
  readonly isExact: boolean;
  /** Arc (i, j) costs at least rowPrices[i] + columnPrices[j]; the bound is the sum of all prices. */
  readonly rowPrices: Float64Array;
  readonly columnPrices: Float64Array;
}

/** Bounds assignments in a square matrix, `size` wide, row by row: exactly, unless the meter runs out. */
export function boundByAssignment(costs: Float64Array, size: number, meter: Meter): Assignment {
  const rowPrices = leastOfRows(costs, size);
  const columnPrices = new Float64Array(size);
  const rowOf = new Int32Array(size).fill(-1);
  const columnOf = new Int32Array(size).fill(-1);
  const distances = new Float64Array(size);
  const parents = new Int32Array(size);
  const isSettled = new Uint8Array(size);

  /** Lets the free row take a column, shifting others along the cheapest chain; false if there is none. */
  const augment = (freeRow: number): boolean => {
    distances.fill(Number.POSITIVE_INFINITY);
    isSettled.fill(0);
    let row = freeRow;
    let reach = 0;
    let column = -1;
    for (;;) {
      let nearest = -1;
      let least = Number.POSITIVE_INFINITY;
      for (let j = 0; j < size; j++) {
        if (isSettled[j] === 1) continue;
        const way = reach + costs[row * size + j] - rowPrices[row] - columnPrices[j];
        if (way < distances[j]) {
          distances[j] = way;
          parents[j] = row;
        }
        if (distances[j] < least) {
          least = distances[j];
          nearest = j;
        }
      }
      meter.spend(size);
      if (nearest < 0) return false;
      isSettled[nearest] = 1;
      reach = least;
      column = nearest;
      if (rowOf[nearest] < 0) break;
      row = rowOf[nearest];
    }
    for (let j = 0; j < size; j++) {
      if (isSettled[j] === 0 || j === column) continue;
      rowPrices[rowOf[j]] += reach - distances[j];
      columnPrices[j] -= reach - distances[j];
    }
    rowPrices[freeRow] += reach;
    for (let j = column; j >= 0; ) {
      const i = parents[j];
      const next = columnOf[i];
      rowOf[j] = i;
      columnOf[i] = j;
      j = i === freeRow ? -1 : next;
    }
    return true;
  };

  let row = 0;
  for (; row < size && !meter.isSpent(); row++) {
    if (!augment(row)) return { bound: Number.POSITIVE_INFINITY, isExact: true, rowPrices, columnPrices };
  }
  const sum = (prices: Float64Array): number => prices.reduce((total, price) => total + price, 0);
  return {
    bound: sum(rowPrices) + sum(columnPrices),
    isExact: row === size,
    rowPrices,
    columnPrices,
  };
}

/** With these as prices no arc is below its price, which the shortest paths need; costs may be negative. */
function leastOfRows(costs: Float64Array, size: number): Float64Array {
  const least = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    let lowest = Number.POSITIVE_INFINITY;
    for (let j = 0; j < size; j++) lowest = Math.min(lowest, costs[i * size + j]);
    least[i] = Number.isFinite(lowest) ? lowest : 0;
  }
  return least;
}
