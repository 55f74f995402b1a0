/** Hops: as much of the way as there is under cover, over gaps that together stay below the jump threshold. */
import { COVER_GAP_MM } from "../constants.ts";
import { growBox, joinBoxes } from "../geometry/point.ts";
import { polylineLength } from "../geometry/polyline.ts";
import { regionBox } from "../geometry/region.ts";
import { buildPathFinder } from "../geometry/shortest-path.ts";
import type { Box, Point, Polygon, Polyline } from "../geometry/types.ts";
import { type Body, portsWithin } from "./body.ts";
import { EVERYWHERE } from "./cover.ts";
import { inlandOf } from "./inland.ts";
import type { Join, JoinOffer, JoinTask, Leg } from "./joins.ts";
import { type Crossing, leastGaps } from "./least-gaps.ts";
import { nearestFew, nearestOnPorts, samplePorts, trimEnd } from "./ports.ts";

/** The first window reaches this far beyond the pair. */
const WINDOW_MM = 6;
const ENTRY_POINTS = 12;

/**
 * As much cover as there is, joined over its gaps: Dijkstra over the separate parts of the cover, where only
 * the width of the gaps costs. `null` where the gaps add up to the jump threshold or more.
 */
export function hopOffer(task: JoinTask): JoinOffer | null {
  const window = growBox(joinBoxes(task.from.box, task.to.box), WINDOW_MM);
  return hopUnder(task, window) ?? hopUnder(task, EVERYWHERE);
}

function hopUnder(task: JoinTask, window: Box): JoinOffer | null {
  const parts = task.cover.openUnion(task.cover.members(task.firstLater, window), window);
  const nodes: Body[] = [
    task.from,
    ...parts.map(
      (part): Body => ({
        kind: "area",
        region: [part],
        box: regionBox([part]),
      }),
    ),
    task.to,
  ];
  const way = leastGaps(nodes, task.jumpThresholdMm);
  if (!way) return null;
  const join = hopAlong(way, task, parts);
  return join && { joins: [join], near: () => [] };
}

/** The legs along a chain of gaps, with the shortest way under the cover between one gap and the next. */
function hopAlong(way: readonly Crossing[], task: JoinTask, parts: readonly Polygon[]): Join | null {
  const legs: Leg[] = [];
  let exposedMm = 0;
  let at = way[0].gap.from;
  for (const [index, { gap, node }] of way.entries()) {
    const exposed = gap.distance > COVER_GAP_MM;
    if (gap.distance > 0) legs.push({ points: [gap.from, gap.to], exposed });
    if (exposed) exposedMm += gap.distance;
    at = gap.to;
    if (index === way.length - 1) break;
    const part = parts[node - 1];
    const next = way[index + 1];
    // The last part holds the piece itself: any of its points will do.
    const arrives = index === way.length - 2 && next.gap.distance === 0;
    const edged = arrives ? pathOnto(task.to, part, at) : pathTo(part, at, next.gap.from);
    if (!edged) return null;
    const path = edged.length > 1 ? inlandOf([part], 0, task.tuckMarginMm)(edged) : edged;
    if (polylineLength(path) > 0) legs.push({ points: path, exposed: false });
    at = path[path.length - 1];
    if (arrives) break;
  }
  const tuckedMm = legs.reduce((sum, leg) => sum + (leg.exposed ? 0 : polylineLength(leg.points)), 0);
  return {
    kind: exposedMm === 0 ? "tucked" : "hop",
    exit: way[0].gap.from,
    entry: at,
    legs,
    tuckedMm,
    exposedMm,
    marginMm: 0,
    shadowMm: 0,
  };
}

const pathTo = (part: Polygon, from: Point, to: Point): Polyline | null =>
  buildPathFinder([part]).shortestPath(from, to)?.points ?? null;

/** The shortest way found from a point to where a body begins. */
function pathOnto(to: Body, part: Polygon, from: Point): Polyline | null {
  const ports = portsWithin(to, [part]);
  const nearest = nearestOnPorts(ports, from);
  if (!nearest) return null;
  const finder = buildPathFinder([part]);
  const targets = [nearest, ...nearestFew(samplePorts(ports, ENTRY_POINTS), from, 3)];
  const paths = targets.flatMap((target) => finder.shortestPath(from, target) ?? []);
  if (paths.length === 0) return null;
  const best = paths.reduce((a, b) => (b.length < a.length ? b : a));
  return best.length === 0 ? best.points : trimEnd(best.points, ports);
}
