/**
 * A thin shape as a line to sew along: out on one side of its medial axis and back on the other, round every
 * branch, so that the line is closed and each place gets two passes. The two lie half the width apart that the
 * thread leaves free; where the shape is as narrow as the thread, on each other.
 */
import { type AxisNode, medialAxis } from "../geometry/medial-axis.ts";
import { distance, norm } from "../geometry/point.ts";
import { closeRing } from "../geometry/polyline.ts";
import { simplifyRing } from "../geometry/simplify.ts";
import type { Point, Polygon, Polyline } from "../geometry/types.ts";

/** The passes lie no further from the axis than this: half a thread, so that they leave no gap between them. */
const MOST_ASIDE_SHARE = 0.5;

/** A closed line round the axis of a thin shape; `null` where it has none. Loops are opened at one place. */
export function thinLoop(polygon: Polygon, threadWidthMm: number): Polyline | null {
  const axis = medialAxis(polygon);
  if (axis === null) return null;
  const { nodes } = axis;
  if (nodes.length < 2) return null;
  const round = spaced(walkRound(nodes), nodes);
  const line = round.map((n, i): Point => {
    const before = nodes[round[(i + round.length - 1) % round.length]].point;
    const after = nodes[round[(i + 1) % round.length]].point;
    const { point, radiusMm } = nodes[n];
    const dx = after[0] - before[0];
    const dy = after[1] - before[1];
    const long = norm(dx, dy);
    const aside = Math.max(0, Math.min(radiusMm - threadWidthMm / 2, MOST_ASIDE_SHARE * threadWidthMm));
    if (long < 1e-9) return tipOf(nodes, n, radiusMm - threadWidthMm / 2);
    return [point[0] + (dy / long) * aside, point[1] - (dx / long) * aside];
  });
  return closeRing(simplifyRing(line, STRAY_MM));
}

/** Nodes nearer together say nothing of the way that the line takes from one to the next. */
const STEP_MM = 0.3;

/** The line keeps this near to the middles of its passes: a quarter of the thread's width, which nobody sees. */
const STRAY_MM = 0.1;

/** The walk without nodes that crowd the one before; tips stay. */
function spaced(round: readonly number[], nodes: readonly AxisNode[]): number[] {
  const kept: number[] = [];
  for (const n of round) {
    const last = kept[kept.length - 1];
    if (last === undefined || nodes[n].links.length === 1) kept.push(n);
    else if (distance(nodes[n].point, nodes[last].point) >= STEP_MM) kept.push(n);
  }
  return kept;
}

/** A little beyond the axis' end, where the shape goes on. */
function tipOf(nodes: readonly AxisNode[], n: number, by: number): Point {
  const { point, links } = nodes[n];
  if (links.length !== 1 || by <= 0) return point;
  const [x, y] = nodes[links[0]].point;
  const long = norm(point[0] - x, point[1] - y);
  return long < 1e-9
    ? point
    : [point[0] + ((point[0] - x) / long) * by, point[1] + ((point[1] - y) / long) * by];
}

/** Nodes in the order of a walk round a tree that spans them, ending beside where it began. */
function walkRound(nodes: readonly AxisNode[]): number[] {
  const start = Math.max(
    0,
    nodes.findIndex(({ links }) => links.length === 1),
  );
  const parent = new Int32Array(nodes.length).fill(-1);
  const seen = new Uint8Array(nodes.length);
  const order: number[] = [];
  // Breadth first gives the tree, so that a loop is opened opposite to where the walk begins.
  seen[start] = 1;
  const queue = [start];
  const children: number[][] = nodes.map(() => []);
  for (let i = 0; i < queue.length; i++)
    for (const next of nodes[queue[i]].links) {
      if (seen[next] === 1) continue;
      seen[next] = 1;
      parent[next] = queue[i];
      children[queue[i]].push(next);
      queue.push(next);
    }
  const passed = new Uint32Array(nodes.length);
  for (let at = start; at >= 0; ) {
    order.push(at);
    const here = nodes[at].point;
    if (passed[at] === 0) {
      const [fx, fy] = parent[at] < 0 ? here : nodes[parent[at]].point;
      // Leftmost first, so that the walk keeps one side.
      const turn = (n: number): number => {
        const [x, y] = nodes[n].point;
        const [ux, uy] = [fx - here[0], fy - here[1]];
        const [vx, vy] = [x - here[0], y - here[1]];
        const angle = Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
        return angle <= 0 ? angle + 2 * Math.PI : angle;
      };
      children[at].sort((a, b) => turn(a) - turn(b));
    }
    const next = children[at][passed[at]++];
    at = next === undefined ? parent[at] : next;
  }
  order.pop();
  return order;
}
