/** Hops: as much of the way as there is under cover, over gaps that together stay below the jump threshold. */
import TinyQueue from "tinyqueue";
import { COVER_GAP_MM } from "../constants.ts";
import { growBox, joinBoxes } from "../geometry/point.ts";
import { polylineLength } from "../geometry/polyline.ts";
import { regionBox } from "../geometry/region.ts";
import { buildPathFinder, type PathFinder } from "../geometry/shortest-path.ts";
import type { Point, Polygon, Polyline } from "../geometry/types.ts";
import { type Body, type Gap, gapBetween, portsWithin } from "./body.ts";
import { insideBy } from "./cover.ts";
import type { Join, JoinOffer, JoinTask, Leg } from "./joins.ts";
import { nearestFew, samplePorts, trimEnd } from "./ports.ts";

/** The first window reaches this far beyond the pair. */
const WINDOW_MM = 6;
const ENTRY_POINTS = 12;

/**
 * As much cover as there is, joined over its gaps: Dijkstra over the separate parts of the cover, where only
 * the width of the gaps costs. `null` where the gaps add up to the jump threshold or more.
 */
export function hopOffer(task: JoinTask): JoinOffer | null {
  const window = growBox(joinBoxes(task.from.box, task.to.box), WINDOW_MM);
  const near = hopUnder(task, task.cover.members(task.firstLater, window));
  if (near) return near;
  const everything = growBox(window, Number.MAX_SAFE_INTEGER);
  return hopUnder(task, task.cover.members(task.firstLater, everything));
}

function hopUnder(task: JoinTask, members: readonly number[]): JoinOffer | null {
  const parts = insideBy(task.cover.unionOf(members), 0);
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

interface Crossing {
  readonly node: number;
  readonly gap: Gap;
}

/** The gaps from the first body to the last with the least total width, or `null` where that is not below the limit. */
function leastGaps(nodes: readonly Body[], limitMm: number): Crossing[] | null {
  const last = nodes.length - 1;
  const cost = new Array<number>(nodes.length).fill(Number.POSITIVE_INFINITY);
  const came: ({ from: number; gap: Gap } | null)[] = nodes.map(() => null);
  const queue = new TinyQueue([{ node: 0, cost: 0 }], (a, b) => a.cost - b.cost || a.node - b.node);
  cost[0] = 0;
  for (let next = queue.pop(); next; next = queue.pop()) {
    if (next.node === last) break;
    if (next.cost > cost[next.node]) continue;
    for (let k = 1; k < nodes.length; k++) {
      if (k === next.node) continue;
      const gap = gapBetween(nodes[next.node], nodes[k], limitMm);
      if (!gap || next.cost + gap.distance >= Math.min(limitMm, cost[k])) continue;
      cost[k] = next.cost + gap.distance;
      came[k] = { from: next.node, gap };
      queue.push({ node: k, cost: cost[k] });
    }
  }
  if (!came[last]) return null;
  const way: Crossing[] = [];
  for (let node = last, step = came[node]; step; node = step.from, step = came[node]) {
    way.unshift({ node, gap: step.gap });
  }
  return way;
}

/** The legs along a chain of gaps, with the shortest way under the cover between one gap and the next. */
function hopAlong(way: readonly Crossing[], task: JoinTask, parts: readonly Polygon[]): Join | null {
  const legs: Leg[] = [];
  let exposedMm = 0;
  let at = way[0].gap.from;
  for (const [index, { gap, node }] of way.entries()) {
    if (gap.distance > 0)
      legs.push({
        points: [gap.from, gap.to],
        exposed: gap.distance > COVER_GAP_MM,
      });
    if (gap.distance > COVER_GAP_MM) exposedMm += gap.distance;
    at = gap.to;
    const next = way[index + 1];
    if (!next) break;
    const finder = buildPathFinder([parts[node - 1]]);
    const isLast = index + 1 === way.length - 1;
    const targets = isLast
      ? nearestFew(samplePorts(portsWithin(task.to, [parts[node - 1]]), ENTRY_POINTS), at, 3)
      : [];
    const path = shortestOf(finder, at, targets.length > 0 ? targets : [next.gap.from]);
    if (!path) return null;
    const points =
      isLast && targets.length > 0 ? trimEnd(path, portsWithin(task.to, [parts[node - 1]])) : path;
    if (polylineLength(points) > 0) legs.push({ points, exposed: false });
    at = points[points.length - 1];
    if (isLast && targets.length > 0) break;
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

function shortestOf(finder: PathFinder, from: Point, targets: readonly Point[]): Polyline | null {
  let best: { points: Polyline; length: number } | null = null;
  for (const target of targets) {
    const path = finder.shortestPath(from, target);
    if (path && (!best || path.length < best.length)) best = path;
  }
  return best && best.points;
}
