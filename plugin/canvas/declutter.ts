/** Which marks have room on the screen: taken by rank, each keeps its place free of those after it. */
import type { Point } from "../../core/geometry/types.ts";

/** More cells than a column of any screen has. */
const COLUMN = 2 ** 20;
const NONE: readonly Point[] = [];

/**
 * Picks marks so that no two lie within `apart` of each other along both axes.
 *
 * @param places in order of rank, the foremost first; `null` lies out of sight
 * @returns for each, whether it is shown
 */
export function declutter(places: readonly (Point | null)[], apart: number): boolean[] {
  const taken = new Map<number, Point[]>();
  const cell = (v: number): number => Math.floor(v / apart);
  const name = (i: number, j: number): number => i * COLUMN + j;
  return places.map((place) => {
    if (place === null) return false;
    const [x, y] = place;
    for (let i = cell(x) - 1; i <= cell(x) + 1; i++) {
      for (let j = cell(y) - 1; j <= cell(y) + 1; j++) {
        const near = taken.get(name(i, j)) ?? NONE;
        if (near.some(([ox, oy]) => Math.abs(ox - x) < apart && Math.abs(oy - y) < apart)) return false;
      }
    }
    const own = name(cell(x), cell(y));
    taken.set(own, [...(taken.get(own) ?? NONE), place]);
    return true;
  });
}
