/**
 * Hops from the edge as sewn. A drawn gap is wider than the one that is left when both sides are sewn: stitches
 * reach beyond the outline by what makes up for their pull. The piece still to come hides the thread up to its own
 * sewn edge; the finished one hides nothing any more, so the thread must leave it where its stitches end, not where
 * its outline runs. This changes no gap and no strand, only where in the gap the needle goes down last.
 */
import { distance, lerp } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import type { Memory } from "../memory.ts";
import type { Sequence } from "../sequence/types.ts";
import { coverOf } from "../techniques/cover-of.ts";
import type { Stitcher, StitchPart } from "../techniques/types.ts";
import type { Join } from "./joins.ts";
import type { Routes } from "./types.ts";

/** Needle holes this far to the side of a hop say where the sewn edge runs: two rows of a fill. */
const BESIDE_MM = 0.5;
/** Holes this far from the exit belong to another edge. */
const NEAR_MM = 1;
/** Less is gained by no one. */
const LEAST_MM = 0.02;

/** The routes with every hop that leaves an area begun at that area's sewn edge, unless its exit is `pinned`. */
export function leaveAtSewnEdges(
  routes: Routes,
  { pieces }: Sequence,
  stitchers: readonly Stitcher[],
  pinned: ReadonlySet<string>,
  memory: Memory,
): Routes {
  const exits = [...routes.exits];
  const joins = routes.joins.map((join, k): Join | null => {
    const leavesOpenly = join?.kind === "hop" && join.bend === undefined && join.legs[0]?.exposed;
    if (!leavesOpenly || pinned.has(pieces[k].id) || coverOf(pieces[k]) === null) return join;
    const [entry, exit] = [routes.entries[k], routes.exits[k]];
    const parts = memory.recall(`stitch ${entry} ${exit}`, [stitchers[k]], () =>
      stitchers[k].stitch(entry, exit),
    );
    const moved = fromSewnEdge(join, parts);
    exits[k] = moved.exit;
    return moved;
  });
  return { ...routes, exits, joins };
}

/** The hop begun as far along its first stretch as the stitches of the piece that it leaves reach on both sides. */
function fromSewnEdge(join: Join, parts: readonly StitchPart[]): Join {
  const [{ points }, ...others] = join.legs;
  const [from, to] = [points[0], points[points.length - 1]];
  const gapMm = distance(from, to);
  const reachMm = Math.min(reachAlong(from, to, gapMm, parts), gapMm / 2);
  if (reachMm < LEAST_MM) return join;
  const exit = lerp(from, to, reachMm / gapMm);
  const legs = [{ points: [exit, to], exposed: true }, ...others];
  return { ...join, exit, legs, exposedMm: join.exposedMm - reachMm };
}

/** How far the needle holes of a piece's cover near `from` reach towards `to`. */
function reachAlong(from: Point, to: Point, gapMm: number, parts: readonly StitchPart[]): number {
  const [ux, uy] = [(to[0] - from[0]) / gapMm, (to[1] - from[1]) / gapMm];
  let reachMm = 0;
  for (const { role, points } of parts) {
    if (role !== "cover") continue;
    for (const [x, y] of points) {
      const [dx, dy] = [x - from[0], y - from[1]];
      const along = dx * ux + dy * uy;
      const beside = Math.abs(dx * uy - dy * ux);
      if (beside <= BESIDE_MM && along > reachMm && along <= NEAR_MM) reachMm = along;
    }
  }
  return reachMm;
}
