/**
 * Areas that lie exactly on each other, as where an element was pasted in place: of any number of them, what is asked
 * of the cover above a piece is answered by the last alone. Without this a thousand copies would take the square of
 * their number.
 */
import type { Region } from "../geometry/types.ts";

/** For each area the place of the last one with the very same rings: its own, for nearly all. */
export function lastAlike(areas: readonly (Region | null)[]): readonly number[] {
  const last = areas.map((_, k) => k);
  const seen = new Map<string, number[]>();
  for (let k = areas.length - 1; k >= 0; k--) {
    const area = areas[k];
    if (area === null || area.length === 0) continue;
    const key = roughly(area);
    const others = seen.get(key);
    const same = others?.find((j) => isAlike(area, areas[j] as Region));
    if (same !== undefined) last[k] = same;
    else if (others) others.push(k);
    else seen.set(key, [k]);
  }
  return last;
}

/** The same of areas that are alike, and seldom of others. */
function roughly(area: Region): string {
  const { outer, holes } = area[0];
  return `${area.length} ${holes.length} ${outer.length} ${outer[0]} ${outer[outer.length >> 1]}`;
}

const isAlike = (a: Region, b: Region): boolean =>
  a.length === b.length &&
  a.every(({ outer, holes }, n) => {
    const [rings, others] = [
      [outer, ...holes],
      [b[n].outer, ...b[n].holes],
    ];
    return (
      rings.length === others.length &&
      rings.every(
        (ring, m) =>
          ring.length === others[m].length &&
          ring.every(([x, y], i) => x === others[m][i][0] && y === others[m][i][1]),
      )
    );
  });
