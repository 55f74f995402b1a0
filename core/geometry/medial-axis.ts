/**
 * The medial axis of a polygon with holes: the middles of all circles that touch its edge in two places or more
 * and hold no edge inside. Where its radius is r, the shape is 2r wide.
 *
 * Method: the edge is cut into short pieces and triangulated with the edge forced in. Every triangle inside is a
 * node, its circumcentre the node's place, its circumradius the radius: where the edge is dense enough these are
 * the vertices of the points' Voronoi diagram, which tend to the axis (H. Blum, «A transformation for extracting
 * new descriptors of shape», 1967, for the axis; J. Brandt, «Convergence and continuity criteria for discrete
 * approximations of the continuous planar skeleton», 1994, for the limit). Two nodes are linked where their
 * triangles share a side, the link's *chord*. As all vertices lie on the edge, links hang together and go round
 * holes just as the polygon does, whatever the rounding.
 *
 * Every kink of the edge makes a twig of its own. Twigs are pruned from their tips, which never takes the axis
 * apart:
 * - a tip goes where its chord is seen from the next node under a *separation angle* below a limit (the θ-simplified
 *   medial axis: M. Foskey, M. Lin, D. Manocha, «Efficient computation of a simplified medial axis», 2003), unless
 *   its circle is the larger one;
 * - a whole end branch goes where it *protrudes* from the circle that it starts in by less than a share of that
 *   circle's radius: a right angle protrudes by 0.41 of it, a corner of 60° by all of it.
 *
 * What is pruned stays known: each triangle has the node that it hangs on, so that a set of nodes is an area
 * (`medial-axis-parts.ts`).
 */
import { nextEdge, previousEdge, triangleOf } from "./mesh.ts";
import { distance, lerp, norm } from "./point.ts";
import { OUTSIDE, type RegionMesh, triangulate } from "./triangulate.ts";
import type { Point, Polygon, Ring } from "./types.ts";

export interface AxisNode {
  readonly point: Point;
  /** Half the local width, mm. */
  readonly radiusMm: number;
  /** The linked nodes. */
  readonly links: readonly number[];
  /** Half-edges of the mesh, parallel to `links`: the chord, in this node's triangle. */
  readonly chords: readonly number[];
}

export interface MedialAxis {
  readonly nodes: readonly AxisNode[];
  readonly mesh: RegionMesh;
  /** For each triangle the node that it belongs to, -1 outside. */
  readonly nodeOf: Int32Array;
}

export interface MedialAxisOptions {
  /** The edge is cut into pieces no longer than this. The axis is off by about its square over 8 widths. */
  readonly stepMm: number;
  /** Tips under a smaller separation angle go. */
  readonly separationRad: number;
  /** End branches that protrude by a smaller share of the radius they start from go. */
  readonly protrusionShare: number;
}

/**
 * A piece of 0.4 mm keeps the axis within 0.05 mm wherever the shape is twice as wide as that; in narrower tips it
 * may be 0.15 mm off. 60° takes
 * all that curves flattened to 0.05 mm make; corners up to a little under 60° keep their branch.
 */
export const AXIS_OPTIONS: MedialAxisOptions = {
  stepMm: 0.4,
  separationRad: Math.PI / 3,
  protrusionShare: 0.8,
};

/** A long edge is cut into this many pieces at most; its shape is then so large that the axis need not be finer. */
const MOST_PIECES = 1600;

/** The medial axis, or `null` where the polygon has no area or its rings cross so often that no mesh comes of it. */
export function medialAxis(polygon: Polygon, options: MedialAxisOptions = AXIS_OPTIONS): MedialAxis | null {
  const mesh = triangulate([cutFinely(polygon, options.stepMm)]);
  if (mesh === null) return null;
  const twigs = pruneTips(mesh, options.separationRad);
  const whole = gather(mesh, twigs);
  return whole === null ? null : pruneBranches(whole, protrudesBy(options.protrusionShare));
}

/** Whether an end branch stays: its nodes from the tip to the junction. */
export type KeepBranch = (branch: readonly AxisNode[]) => boolean;

/** Keeps branches that protrude from the circle they start in by this share of its radius. */
export const protrudesBy =
  (share: number): KeepBranch =>
  (branch) => {
    const root = branch[branch.length - 1];
    return branchLength(branch) + branch[0].radiusMm - root.radiusMm >= share * root.radiusMm;
  };

export const branchLength = (branch: readonly AxisNode[]): number => {
  let length = 0;
  for (let i = 1; i < branch.length; i++) length += distance(branch[i - 1].point, branch[i].point);
  return length;
};

// The mesh

function cutFinely({ outer, holes }: Polygon, stepMm: number): Polygon {
  const rings = [outer, ...holes];
  let around = 0;
  for (const ring of rings)
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) around += distance(ring[j], ring[i]);
  const step = Math.max(stepMm, around / MOST_PIECES);
  const cut = (ring: Ring): Ring => {
    const fine: Point[] = [];
    for (let i = 0; i < ring.length; i++) {
      const to = ring[i + 1 < ring.length ? i + 1 : 0];
      const count = Math.ceil(distance(ring[i], to) / step);
      fine.push(ring[i]);
      for (let k = 1; k < count; k++) fine.push(lerp(ring[i], to, k / count));
    }
    return fine;
  };
  return { outer: cut(outer), holes: holes.map(cut) };
}

const isInside = (mesh: RegionMesh, t: number): boolean => mesh.components[t] !== OUTSIDE;

/** For each triangle the one that it hangs on, itself where it stays, -1 outside. */
function pruneTips(mesh: RegionMesh, separationRad: number): Int32Array {
  const { components, twins } = mesh;
  const count = components.length;
  const hangsOn = new Int32Array(count);
  for (let t = 0; t < count; t++) hangsOn[t] = components[t] === OUTSIDE ? -1 : t;
  const isLinked = (e: number): boolean => {
    const beyond = triangleOf(twins[e]);
    return hangsOn[beyond] === beyond;
  };
  const degree = new Uint8Array(count);
  const tips: number[] = [];
  for (let t = 0; t < count; t++) {
    if (hangsOn[t] < 0) continue;
    for (let e = 3 * t; e < 3 * t + 3; e++) if (isLinked(e)) degree[t]++;
    if (degree[t] === 1) tips.push(t);
  }
  for (let t = tips.pop(); t !== undefined; t = tips.pop()) {
    if (degree[t] !== 1) continue;
    let chord = 3 * t;
    while (!isLinked(chord)) chord++;
    const next = triangleOf(twins[chord]);
    // The angle at a circle's centre is twice the one at its rim.
    if (2 * angleOpposite(mesh, twins[chord]) >= separationRad) continue;
    if (circumradius(mesh, t) > BULGE * circumradius(mesh, next)) continue;
    hangsOn[t] = next;
    degree[next]--;
    if (degree[next] === 1) tips.push(next);
  }
  return hangsOn;
}

/**
 * A tip whose circle is larger by this than the next is no corner but a bulge behind a neck, and stays. Circles on
 * a flattened arc differ by less.
 */
const BULGE = 1.02;

function circumradius({ coords, corners }: RegionMesh, t: number): number {
  const [a, b, c] = [2 * corners[3 * t], 2 * corners[3 * t + 1], 2 * corners[3 * t + 2]];
  const ux = coords[b] - coords[a];
  const uy = coords[b + 1] - coords[a + 1];
  const vx = coords[c] - coords[a];
  const vy = coords[c + 1] - coords[a + 1];
  const sides = norm(ux, uy) * norm(vx, vy) * norm(ux - vx, uy - vy);
  return sides / (2 * Math.abs(ux * vy - uy * vx));
}

function angleOpposite({ coords, corners }: RegionMesh, e: number): number {
  const [a, b, c] = [corners[e], corners[nextEdge(e)], corners[previousEdge(e)]];
  const ux = coords[2 * a] - coords[2 * c];
  const uy = coords[2 * a + 1] - coords[2 * c + 1];
  const vx = coords[2 * b] - coords[2 * c];
  const vy = coords[2 * b + 1] - coords[2 * c + 1];
  return Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
}

/** The triangles that stay as nodes; `null` where there is none inside. */
function gather(mesh: RegionMesh, hangsOn: Int32Array): MedialAxis | null {
  const number = new Int32Array(hangsOn.length).fill(-1);
  let count = 0;
  for (let t = 0; t < hangsOn.length; t++) if (hangsOn[t] === t) number[t] = count++;
  if (count === 0) return null;
  const nodes: AxisNode[] = [];
  const nodeOf = new Int32Array(hangsOn.length).fill(-1);
  for (let t = 0; t < hangsOn.length; t++) {
    if (hangsOn[t] < 0) continue;
    let root = t;
    while (hangsOn[root] !== root) root = hangsOn[root];
    nodeOf[t] = number[root];
    if (root === t) nodes.push(nodeAt(mesh, t, number));
  }
  return { nodes, mesh, nodeOf };
}

/** A triangle as a node. */
function nodeAt(mesh: RegionMesh, t: number, number: Int32Array): AxisNode {
  const beyond = (e: number): number => number[triangleOf(mesh.twins[e])];
  const { point, radiusMm } = circleOf(mesh, t);
  const chords = keptOf(3 * t, 3 * t + 1, 3 * t + 2, (e) => beyond(e) >= 0);
  return { point, radiusMm, links: chords.map(beyond), chords };
}

/** Those of three that pass. There may be very many such lists, and pushing would make room for 16 in each. */
function keptOf(a: number, b: number, c: number, keeps: (one: number) => boolean): readonly number[] {
  if (keeps(a)) {
    if (keeps(b)) return keeps(c) ? [a, b, c] : [a, b];
    return keeps(c) ? [a, c] : [a];
  }
  if (keeps(b)) return keeps(c) ? [b, c] : [b];
  return keeps(c) ? [c] : [];
}

/**
 * The circle through a triangle's corners. Where its middle is not to be reached from the triangle without
 * crossing the polygon's edge (in tips too narrow for the step), the middle is held at the side in the way.
 */
function circleOf(mesh: RegionMesh, t: number): { point: Point; radiusMm: number } {
  const { coords, corners, twins } = mesh;
  const a = 2 * corners[3 * t];
  const bx = coords[2 * corners[3 * t + 1]] - coords[a];
  const by = coords[2 * corners[3 * t + 1] + 1] - coords[a + 1];
  const cx = coords[2 * corners[3 * t + 2]] - coords[a];
  const cy = coords[2 * corners[3 * t + 2] + 1] - coords[a + 1];
  const d = 2 * (bx * cy - by * cx);
  if (d === 0) return sideCircle(mesh, longestSide(mesh, t));
  const b2 = bx * bx + by * by;
  const c2 = cx * cx + cy * cy;
  const ux = (cy * b2 - by * c2) / d;
  const uy = (bx * c2 - cx * b2) / d;
  const x = coords[a] + ux;
  const y = coords[a + 1] + uy;
  let at = t;
  let from = -1;
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    let out = -1;
    for (let e = 3 * at; e < 3 * at + 3 && out < 0; e++)
      if (e !== from && isBeyond(coords, 2 * corners[e], 2 * corners[nextEdge(e)], x, y)) out = e;
    if (out < 0) return { point: [x, y], radiusMm: norm(ux, uy) };
    from = twins[out];
    if (!isInside(mesh, triangleOf(from))) return sideCircle(mesh, out);
    at = triangleOf(from);
  }
  return sideCircle(mesh, longestSide(mesh, t));
}

/** A circle's middle that is further from its triangle than so many others comes of rounding. */
const MOST_STEPS = 100;

/** Whether a point lies on the outer side of a triangle's side from a to b; the mesh turns anticlockwise as seen. */
const isBeyond = (coords: Float64Array, a: number, b: number, x: number, y: number): boolean =>
  (coords[b + 1] - coords[a + 1]) * (x - coords[a]) < (coords[b] - coords[a]) * (y - coords[a + 1]);

function sideCircle({ coords, corners }: RegionMesh, e: number): { point: Point; radiusMm: number } {
  const [a, b] = [2 * corners[e], 2 * corners[nextEdge(e)]];
  return {
    point: [(coords[a] + coords[b]) / 2, (coords[a + 1] + coords[b + 1]) / 2],
    radiusMm: norm(coords[b] - coords[a], coords[b + 1] - coords[a + 1]) / 2,
  };
}

function longestSide(mesh: RegionMesh, t: number): number {
  const long = (e: number): number => sideCircle(mesh, e).radiusMm;
  return [3 * t, 3 * t + 1, 3 * t + 2].reduce((best, e) => (long(e) > long(best) ? e : best));
}

// Branches

/** A run of nodes from one end or junction to the next; a closed one repeats its first node. */
export type Branch = readonly number[];

/** All branches of an axis. A node without links is a branch of its own. */
export function branchesOf(nodes: readonly AxisNode[]): Branch[] {
  const branches: Branch[] = [];
  const isMiddle = (n: number): boolean => nodes[n].links.length === 2;
  const passed = new Uint8Array(nodes.length);
  const walk = (from: number, towards: number): void => {
    const branch = [from];
    let [before, at] = [from, towards];
    while (isMiddle(at) && at !== from) {
      passed[at] = 1;
      branch.push(at);
      const [a, b] = nodes[at].links;
      [before, at] = [at, a === before ? b : a];
    }
    branch.push(at);
    // Each is met from both its ends; a loop on one junction, twice from that one.
    const twin = branch.length === 2 ? at < from : passed[branch[branch.length - 2]] === 2;
    for (const n of branch.slice(1, -1)) passed[n] = 2;
    if (!twin) branches.push(branch);
  };
  for (let n = 0; n < nodes.length; n++) {
    if (isMiddle(n)) continue;
    if (nodes[n].links.length === 0) branches.push([n]);
    for (const next of nodes[n].links) if (!isMiddle(next) || passed[next] !== 2) walk(n, next);
  }
  for (let n = 0; n < nodes.length; n++) {
    if (!isMiddle(n) || passed[n] !== 0) continue;
    passed[n] = 1;
    walk(n, nodes[n].links[0]);
  }
  return branches;
}

/** Takes off end branches that are not to be kept, all at once, until all that are left are. */
export function pruneBranches(axis: MedialAxis, keep: KeepBranch): MedialAxis {
  for (let pruned = axis; ; ) {
    const { nodes } = pruned;
    const hangsOn = Int32Array.from(nodes, (_, n) => n);
    let isPruned = false;
    for (const branch of branchesOf(nodes)) {
      const [first, last] = [branch[0], branch[branch.length - 1]];
      const atTip = nodes[first].links.length === 1;
      if (atTip === (nodes[last].links.length === 1)) continue;
      const outwards = atTip ? branch : [...branch].reverse();
      if (keep(outwards.map((n) => nodes[n]))) continue;
      for (const n of outwards) hangsOn[n] = outwards[outwards.length - 1];
      isPruned = true;
    }
    if (!isPruned) return pruned;
    pruned = withoutNodes(pruned, hangsOn);
  }
}

/** The axis without the nodes that hang on others; their triangles go to those. */
function withoutNodes({ nodes, mesh, nodeOf }: MedialAxis, hangsOn: Int32Array): MedialAxis {
  const number = new Int32Array(nodes.length).fill(-1);
  let count = 0;
  for (let n = 0; n < nodes.length; n++) if (hangsOn[n] === n) number[n] = count++;
  const stays = (n: number): boolean => number[n] >= 0;
  const left: AxisNode[] = [];
  for (let n = 0; n < nodes.length; n++) {
    if (!stays(n)) continue;
    const { point, radiusMm, links, chords } = nodes[n];
    left.push({
      point,
      radiusMm,
      links: links.filter(stays).map((m) => number[m]),
      chords: links.every(stays) ? chords : chords.filter((_, k) => stays(links[k])),
    });
  }
  return { mesh, nodes: left, nodeOf: nodeOf.map((n) => (n < 0 ? -1 : number[hangsOn[n]])) };
}
