/** Finds which of many boxes meet a given one. The work is flatbush's (a packed Hilbert R-tree). */
import Flatbush from "flatbush";
import type { Box } from "./types.ts";

export interface BoxIndex {
  /** Numbers of the boxes that meet the given one (touching counts), in ascending order. */
  search(box: Box): number[];
}

/** An index of boxes, numbered as they stand in the list, which may be empty. */
export function buildBoxIndex(boxes: readonly Box[]): BoxIndex {
  // flatbush refuses to hold nothing.
  if (boxes.length === 0) return { search: () => [] };
  const tree = new Flatbush(boxes.length);
  for (const { minX, minY, maxX, maxY } of boxes) tree.add(minX, minY, maxX, maxY);
  tree.finish();
  return {
    search({ minX, minY, maxX, maxY }) {
      const found = tree.search(minX, minY, maxX, maxY);
      return isAscending(found) ? found : found.sort((a, b) => a - b);
    },
  };
}

function isAscending(numbers: readonly number[]): boolean {
  for (let i = 1; i < numbers.length; i++) if (numbers[i] < numbers[i - 1]) return false;
  return true;
}
