/**
 * Forces edges into a triangle mesh. The triangles that an edge crosses form a channel; they are taken out, and
 * the polygons left and right of the edge are filled anew, each time with the triangle whose circumcircle is
 * empty (Anglada, «An improved incremental algorithm for constructing restricted Delaunay triangulations»,
 * 1997). Every decision is an exact predicate, so the mesh stays a mesh whatever the input. A vertex that lies
 * on the edge splits it; an edge forced in before is not crossed but reported.
 */
import { incircle } from "robust-predicates";
import { type Mesh, nextEdge, previousEdge, sideOf, triangleOf } from "./mesh.ts";

export const FREE = -1;

export interface ConstrainedMesh extends Mesh {
  /** For each half-edge which edge forced it in, or `FREE`. */
  readonly owners: Int32Array;
  /** For each half-edge 1 where an odd number of edges run along it, in either direction, else 0. */
  readonly parities: Uint8Array;
  /** For each vertex one of the half-edges that start there. */
  readonly outgoing: Int32Array;
}

export type Insertion =
  | { readonly outcome: "inserted" }
  /** The half-edge of an earlier edge that is in the way. */
  | { readonly outcome: "crossed"; readonly halfEdge: number }
  /** The mesh was no triangulation to begin with. */
  | { readonly outcome: "broken" };

const INSERTED: Insertion = { outcome: "inserted" };
const BROKEN: Insertion = { outcome: "broken" };

export function constrainable(mesh: Mesh): ConstrainedMesh {
  const { corners, coords } = mesh;
  const outgoing = new Int32Array(coords.length / 2).fill(-1);
  for (let e = 0; e < corners.length; e++) outgoing[corners[e]] = e;
  return {
    ...mesh,
    owners: new Int32Array(corners.length).fill(FREE),
    parities: new Uint8Array(corners.length),
    outgoing,
  };
}

/**
 * Makes the straight line between two vertices a chain of half-edges owned by `owner`. No vertex of the line may lie on the mesh's rim.
 */
export function insertEdge(mesh: ConstrainedMesh, from: number, to: number, owner: number): Insertion {
  let at = from;
  // In a sound mesh each step comes nearer to the end: it is there before it has passed every vertex.
  for (let steps = mesh.outgoing.length; at !== to; steps--) {
    if (steps === 0) return BROKEN;
    const first = firstTowards(mesh, at, to);
    if (first === null) return BROKEN;
    let along = first.halfEdge;
    if (first.crosses) {
      const channel = channelFrom(mesh, at, to, along);
      if (channel === null) return BROKEN;
      if ("blockedBy" in channel) return { outcome: "crossed", halfEdge: channel.blockedBy };
      along = refill(mesh, channel);
      if (along < 0) return BROKEN;
    }
    own(mesh, along, owner);
    at = mesh.corners[nextEdge(along)];
  }
  return INSERTED;
}

function own(mesh: ConstrainedMesh, e: number, owner: number): void {
  const twin = mesh.twins[e];
  mesh.owners[e] = owner;
  mesh.parities[e] ^= 1;
  mesh.owners[twin] = owner;
  mesh.parities[twin] ^= 1;
}

/**
 * What lies first on the way from a vertex: a half-edge along it, or (`crosses`) the half-edge from the vertex
 * whose triangle the way enters.
 */
function firstTowards(
  { coords, corners, twins, outgoing }: ConstrainedMesh,
  from: number,
  to: number,
): { halfEdge: number; crosses: boolean } | null {
  const start = outgoing[from];
  if (start < 0) return null;
  let e = start;
  do {
    const right = corners[nextEdge(e)];
    const left = corners[previousEdge(e)];
    if (right === to) return { halfEdge: e, crosses: false };
    const rightSide = sideOf(coords, from, to, right);
    if (rightSide === 0 && isAhead(coords, from, to, right)) return { halfEdge: e, crosses: false };
    if (rightSide < 0 && sideOf(coords, from, to, left) > 0) return { halfEdge: e, crosses: true };
    e = twins[previousEdge(e)];
  } while (e >= 0 && e !== start);
  return null;
}

function isAhead(coords: Float64Array, from: number, to: number, vertex: number): boolean {
  const x = coords[2 * from];
  const y = coords[2 * from + 1];
  return (
    (coords[2 * to] - x) * (coords[2 * vertex] - x) +
      (coords[2 * to + 1] - y) * (coords[2 * vertex + 1] - y) >
    0
  );
}

interface Channel {
  readonly triangles: readonly number[];
  /** The channel's half-edges right of the line, from its start to its end. */
  readonly right: readonly number[];
  /** The channel's half-edges left of the line, from its end back to its start. */
  readonly left: readonly number[];
}

/** The triangles that the line crosses up to the first vertex on it. `entry` starts at `from`. */
function channelFrom(
  { coords, corners, twins, owners }: ConstrainedMesh,
  from: number,
  to: number,
  entry: number,
): Channel | { blockedBy: number } | null {
  const right = [entry];
  const left = [previousEdge(entry)];
  const triangles = [triangleOf(entry)];
  let crossed = nextEdge(entry);
  for (;;) {
    if (owners[crossed] !== FREE) return { blockedBy: crossed };
    const twin = twins[crossed];
    if (twin < 0) return null;
    const apex = corners[previousEdge(twin)];
    triangles.push(triangleOf(twin));
    const side = apex === to ? 0 : sideOf(coords, from, to, apex);
    if (side <= 0) right.push(nextEdge(twin));
    if (side >= 0) left.push(previousEdge(twin));
    if (side === 0) return { triangles, right, left: left.reverse() };
    crossed = side > 0 ? nextEdge(twin) : previousEdge(twin);
  }
}

/** Fills the channel's two polygons with triangles; the half-edge from its start to its end, or -1 if broken. */
function refill(mesh: ConstrainedMesh, channel: Channel): number {
  const { corners, twins, owners, parities, outgoing } = mesh;
  const free = [...channel.triangles];
  const rim = [...channel.right, ...channel.left].map((e) => ({
    was: e,
    is: -1,
    from: corners[e],
    to: corners[nextEdge(e)],
    twin: twins[e],
    owner: owners[e],
    parity: parities[e],
  }));
  type Rim = (typeof rim)[number];

  const addTriangle = (a: number, b: number, c: number): number => {
    const e = 3 * (free.pop() as number);
    for (const [i, v] of [a, b, c].entries()) {
      corners[e + i] = v;
      outgoing[v] = e + i;
      owners[e + i] = FREE;
      parities[e + i] = 0;
    }
    return e;
  };
  const pair = (e: number, f: number): void => {
    twins[e] = f;
    if (f >= 0) twins[f] = e;
  };
  /** Fills the polygon that `chain` and the straight line from its end to its start enclose on their left. */
  const fill = (chain: readonly Rim[]): number => {
    const from = chain[0].from;
    const to = (chain.at(-1) as Rim).to;
    const cut = emptiestApex(mesh.coords, to, from, chain);
    if (cut < 0 || free.length === 0) return -1;
    const e = addTriangle(to, from, chain[cut].from);
    return attach(e + 1, chain.slice(0, cut)) && attach(e + 2, chain.slice(cut)) ? e : -1;
  };
  const attach = (e: number, chain: readonly Rim[]): boolean => {
    if (chain.length === 1) {
      chain[0].is = e;
      return true;
    }
    const inner = fill(chain);
    if (inner >= 0) pair(e, inner);
    return inner >= 0;
  };

  const back = fill(rim.slice(0, channel.right.length));
  const forth = back < 0 ? -1 : fill(rim.slice(channel.right.length));
  if (forth < 0) return -1;
  pair(back, forth);
  // A loose end inside the channel has both its sides on the rim: then the twin was renewed as well.
  const renewed = new Map(rim.map(({ was, is }) => [was, is]));
  for (const { is, twin, owner, parity } of rim) {
    pair(is, renewed.get(twin) ?? twin);
    owners[is] = owner;
    parities[is] = parity;
  }
  return forth;
}

/** Index in the chain whose start makes the triangle with the base that has no other vertex in its circle. */
function emptiestApex(
  coords: Float64Array,
  baseFrom: number,
  baseTo: number,
  chain: readonly { readonly from: number }[],
): number {
  let best = -1;
  for (let i = 1; i < chain.length; i++) {
    const v = chain[i].from;
    if (sideOf(coords, baseFrom, baseTo, v) <= 0) continue;
    if (best < 0 || inCircle(coords, baseFrom, baseTo, chain[best].from, v)) best = i;
  }
  return best;
}

const inCircle = (coords: Float64Array, a: number, b: number, c: number, p: number): boolean =>
  incircle(
    coords[2 * a],
    coords[2 * a + 1],
    coords[2 * b],
    coords[2 * b + 1],
    coords[2 * c],
    coords[2 * c + 1],
    coords[2 * p],
    coords[2 * p + 1],
  ) < 0;
