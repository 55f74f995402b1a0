import Flatbush from "flatbush";
import type { Ring } from "../geometry/types.ts";

/**
 * How many pairs of edges have overlapping boxes: no fewer than cross each other. Counting stops at `limit`.
 */
export function overlappingEdges(rings: readonly Ring[], limit: number): number {
  const count = rings.reduce((sum, ring) => sum + ring.length, 0);
  if (count === 0 || limit <= 0) return 0;
  const index = new Flatbush(count);
  for (const ring of rings)
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++)
      index.add(
        Math.min(ring[j][0], ring[i][0]),
        Math.min(ring[j][1], ring[i][1]),
        Math.max(ring[j][0], ring[i][0]),
        Math.max(ring[j][1], ring[i][1]),
      );
  index.finish();

  let pairs = 0;
  let edge = 0;
  for (const ring of rings)
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++, edge++) {
      const self = edge;
      index.search(
        Math.min(ring[j][0], ring[i][0]),
        Math.min(ring[j][1], ring[i][1]),
        Math.max(ring[j][0], ring[i][0]),
        Math.max(ring[j][1], ring[i][1]),
        (other) => {
          if (other > self) pairs++;
          return false;
        },
      );
      if (pairs >= limit) return limit;
    }
  return pairs;
}
