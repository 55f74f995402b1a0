/**
 * Blended ways, offered on request only: along a seam, where one finished piece of the thread's own colour lies
 * on another, a running stitch of that colour is nearly invisible. The way may use seams and whatever is still to
 * come; how much of it lies on a seam is counted apart.
 */
import { clipLine, clipLines } from "../geometry/clip-line.ts";
import { boxesMeet, growBox, joinBoxes } from "../geometry/point.ts";
import { closeRing, polylineLength } from "../geometry/polyline.ts";
import { regionBox, ringsOf, subtract, thicken, union } from "../geometry/region.ts";
import { buildPathFinder } from "../geometry/shortest-path.ts";
import type { Box, Point, Polyline, Region } from "../geometry/types.ts";
import { portsWithin } from "./body.ts";
import type { Join, JoinOffer, JoinTask } from "./joins.ts";
import { nearestFew, nearestOnPorts, samplePorts, trimEnd } from "./ports.ts";

/** Seams further off than this are not looked for. */
const WINDOW_MM = 20;
/** Half the width of the strip along a seam in which a stitch blends in: half a thread and a little. */
const SEAM_HALF_MM = 0.25;
const EXIT_POINTS = 6;
const ENTRY_POINTS = 12;

/** What is finished when the connector is sewn: pieces in order, what they hide, and which are of its colour. */
export interface Finished {
  readonly areas: readonly (Region | null)[];
  readonly isOwn: (k: number) => boolean;
}

export function blendOffer(task: JoinTask, finished: Finished): JoinOffer | null {
  const window = growBox(joinBoxes(task.from.box, task.to.box), WINDOW_MM);
  const seams = seamsAmong(finished, task.firstLater, window);
  if (seams.length === 0) return null;
  const members = task.cover.members(task.firstLater, window);
  const cover = task.cover.closedUnion(members, window);
  const joins = union([cover, seams]).flatMap((part) => {
    const exits = portsWithin(task.from, [part]);
    const entries = portsWithin(task.to, [part]);
    if (exits.length === 0 || entries.length === 0) return [];
    const finder = buildPathFinder([part]);
    return samplePorts(exits, EXIT_POINTS).flatMap((exit) => {
      const targets = [
        nearestOnPorts(entries, exit),
        ...nearestFew(samplePorts(entries, ENTRY_POINTS), exit, 2),
      ];
      return targets.flatMap((entry) => {
        const path = entry && finder.shortestPath(exit, entry);
        if (!path) return [];
        const points = trimEnd(trimEnd(path.points, entries).reverse(), exits).reverse();
        return [blendedJoin(points, cover)];
      });
    });
  });
  return joins.length > 0 ? { joins, near: () => [] } : null;
}

function blendedJoin(points: readonly Point[], cover: Region): Join {
  const lengthMm = polylineLength(points);
  const tuckedMm = clipLine(points, cover).reduce((sum, line) => sum + polylineLength(line), 0);
  return {
    kind: "blended",
    exit: points[0],
    entry: points[points.length - 1],
    legs: [{ points, exposed: false }],
    tuckedMm: Math.min(tuckedMm, lengthMm),
    exposedMm: 0,
    blendedMm: Math.max(0, lengthMm - tuckedMm),
    marginMm: 0,
    shadowMm: 0,
  };
}

/** Strips along the edges of finished own pieces where they lie on other own pieces and nothing else lies there. */
function seamsAmong({ areas, isOwn }: Finished, end: number, window: Box): Region {
  const near = areas.flatMap((area, k) => (k < end && area && boxesMeet(regionBox(area), window) ? [k] : []));
  const strips = near.filter(isOwn).flatMap((b) => {
    const own = near.filter((a) => a < b && isOwn(a));
    if (own.length === 0) return [];
    const edges: Polyline[] = ringsOf(areas[b]!).map(closeRing);
    const seam = clipLines(edges, union(own.map((a) => areas[a]!)));
    if (seam.length === 0) return [];
    const others = near.filter((c) => !isOwn(c) && c > own[0]).map((c) => areas[c]!);
    return [subtract(thicken(seam, SEAM_HALF_MM), union(others))];
  });
  return strips.length === 0 ? [] : union(strips);
}
