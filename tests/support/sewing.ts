/** Sewing steps by hand, for tests that need no planner. */
import type { SewnRole, SewnStep } from "../../core/plan/types.ts";

/** One step through the given needle points. */
export const sewn = (
  role: SewnRole,
  points: readonly (readonly [number, number])[],
  block = 0,
): SewnStep => ({
  role,
  block,
  strand: block,
  points: Float64Array.from(points.flat()),
});

/** A square fill, sewn row by row, back and forth: corner (x, y), side and spacing in millimetres. */
export function filledSquare(x: number, y: number, side: number, block = 0, spacing = 0.4): SewnStep {
  const rows = Math.floor(side / spacing) + 1;
  const points = Array.from({ length: rows }, (_, row): [number, number][] => {
    const ends: [number, number][] = [
      [x, y + row * spacing],
      [x + side, y + row * spacing],
    ];
    return row % 2 === 0 ? ends : ends.reverse();
  });
  return sewn("cover", points.flat(), block);
}

/** Numbers from 0 to 1, the same for the same seed (a linear congruential generator, Numerical Recipes' constants, from memory). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
