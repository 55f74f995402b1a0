/**
 * clipper-lib, made quicker where most of its time goes. It sweeps a line over the plane, from one height at which
 * an edge ends to the next, and looks each time for edges that cross in between: by sorting all edges under the
 * line, with a new object for each neighbouring pair. Nearly always they are in order already, and then there is
 * nothing to look for. What comes out is the same, point by point.
 */
import ClipperLib, { type SweptEdge } from "clipper-lib";

const sweep = ClipperLib.Clipper.prototype;
const sortEdges = sweep.BuildIntersectList;

sweep.BuildIntersectList = function (topY: number): void {
  if (!isInOrder(this.m_ActiveEdges, topY)) sortEdges.call(this, topY);
};

/** Places each edge where it meets the line, as the sort does, and tells whether they stand from left to right. */
function isInOrder(first: SweptEdge | null, topY: number): boolean {
  let before = Number.NEGATIVE_INFINITY;
  for (let edge = first; edge !== null; edge = edge.NextInAEL) {
    const x = ClipperLib.Clipper.TopX(edge, topY);
    edge.Curr.X = x;
    if (x < before) return false;
    before = x;
  }
  return true;
}

export default ClipperLib;
