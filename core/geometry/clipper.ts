/**
 * clipper-lib, made quicker where most of its time goes. It sweeps a line over the plane, from one height at which
 * an edge ends to the next, and looks each time for edges that cross in between: by sorting all edges under the
 * line, with a new object for each neighbouring pair. Nearly always they are in order already, and then there is
 * nothing to look for; else objects are made for crossings only. What comes out is the same, point by point.
 */
import ClipperLib, { type SweptEdge } from "clipper-lib";
import { splitWhereRingsMeetThemselves } from "./clipper-rings.ts";

const sweep = ClipperLib.Clipper.prototype;

sweep.BuildIntersectList = function (topY: number): void {
  const edges = edgesUnder(this.m_ActiveEdges, topY);
  if (edges === null) return;
  // Crossings are listed in the order in which a bubble sort comes upon them, as the library does.
  let isSorted = false;
  for (let end = edges.length - 1; end > 0 && !isSorted; end--) {
    isSorted = true;
    for (let k = 0; k < end; k++) {
      const [left, right] = [edges[k], edges[k + 1]];
      if (left.Curr.X <= right.Curr.X) continue;
      const crossing = new ClipperLib.IntersectNode();
      crossing.Edge1 = left;
      crossing.Edge2 = right;
      this.IntersectPoint(left, right, crossing.Pt);
      if (crossing.Pt.Y < topY) {
        crossing.Pt.X = ClipperLib.Clipper.TopX(left, topY);
        crossing.Pt.Y = topY;
      }
      this.m_IntersectList.push(crossing);
      edges[k] = right;
      edges[k + 1] = left;
      isSorted = false;
    }
  }
};

/** The edges under the sweep line, each placed where it meets the line; `null` where they stand from left to right. */
function edgesUnder(first: SweptEdge | null, topY: number): SweptEdge[] | null {
  let isInOrder = true;
  let count = 0;
  let before = Number.NEGATIVE_INFINITY;
  for (let edge = first; edge !== null; edge = edge.NextInAEL) {
    const x = ClipperLib.Clipper.TopX(edge, topY);
    edge.Curr.X = x;
    if (x < before) isInOrder = false;
    before = x;
    count++;
  }
  if (isInOrder) return null;
  const edges = new Array<SweptEdge>(count);
  let k = 0;
  for (let edge = first; edge !== null; edge = edge.NextInAEL) edges[k++] = edge;
  return edges;
}

/** Rings that touch themselves become several, which no longer know what they lie in. */
sweep.DoSimplePolygons = function (): void {
  splitWhereRingsMeetThemselves(this.m_PolyOuts, () => this.CreateOutRec());
};

export default ClipperLib;
