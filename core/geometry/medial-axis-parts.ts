/**
 * Cutting a polygon along chords of its medial axis. Every triangle of the axis' mesh belongs to one node; nodes
 * with the same label make one area. Two areas touch along chords only, so that together they are the polygon.
 */

import type { MedialAxis } from "./medial-axis.ts";
import { nextEdge, triangleOf } from "./mesh.ts";
import { norm } from "./point.ts";
import { signedArea } from "./polyline.ts";
import type { Point, Polygon, Ring } from "./types.ts";

/** Vertices that lie this near to the line between their neighbours were made by cutting the edge finely. */
const STRAIGHT_MM = 1e-7;

/**
 * The areas that the labels make, by label from 0; a label's nodes must hang together. `null` for a label that
 * no node has. A negative label leaves its nodes out.
 */
export function areasOf({ mesh, nodeOf }: MedialAxis, labels: Int32Array): (Polygon | null)[] {
  const { corners, coords, twins } = mesh;
  const labelAt = (e: number): number => {
    const node = nodeOf[triangleOf(e)];
    return node < 0 ? -1 : labels[node];
  };
  const count = labels.reduce((most, label) => Math.max(most, label + 1), 0);
  const rings: Ring[][] = Array.from({ length: count }, () => []);
  const passed = new Uint8Array(corners.length);
  for (let start = 0; start < corners.length; start++) {
    const label = labelAt(start);
    if (label < 0 || passed[start] === 1 || isInner(start)) continue;
    const ring: Point[] = [];
    let e = start;
    do {
      passed[e] = 1;
      ring.push([coords[2 * corners[e]], coords[2 * corners[e] + 1]]);
      e = nextEdge(e);
      while (isInner(e)) e = nextEdge(twins[e]);
    } while (e !== start);
    rings[label].push(withoutStraight(ring).reverse());
  }
  return rings.map(polygonOf);

  function isInner(e: number): boolean {
    return twins[e] >= 0 && labelAt(twins[e]) === labelAt(e);
  }
}

function withoutStraight(ring: Ring): Point[] {
  return ring.filter((p, i) => {
    const [ax, ay] = ring[(i + ring.length - 1) % ring.length];
    const [bx, by] = ring[(i + 1) % ring.length];
    const long = norm(bx - ax, by - ay);
    const off = Math.abs((p[0] - ax) * (by - ay) - (p[1] - ay) * (bx - ax));
    return long === 0 || off > STRAIGHT_MM * long;
  });
}

function polygonOf(rings: readonly Ring[]): Polygon | null {
  const whole = rings.filter((ring) => ring.length >= 3);
  const outer = whole.reduce<Ring | null>(
    (best, ring) => (best === null || signedArea(ring) > signedArea(best) ? ring : best),
    null,
  );
  return outer === null ? null : { outer, holes: whole.filter((ring) => ring !== outer) };
}
