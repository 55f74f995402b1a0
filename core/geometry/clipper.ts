/**
 * clipper-lib, made quicker where most of its time goes. It sweeps a line over the plane, from one height at which
 * an edge ends to the next, and looks each time for edges that cross in between: by sorting all edges under the
 * line, with a new object for each neighbouring pair. Nearly always they are in order already, and then there is
 * nothing to look for; else objects are made for crossings only. And each edge of what goes in is five objects, of no
 * use once a result is there: those are used again. What comes out is the same, point by point.
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

/** Edges that are kept, at most: some megabytes. */
const MOST_KEPT = 8192;
const kept: ClipperLib.TEdge[] = [];
let taken = 0;

const NewEdge = ClipperLib.TEdge;
ClipperLib.TEdge = function takeEdge(): ClipperLib.TEdge {
  if (taken < kept.length) return asNew(kept[taken++]);
  const edge = new NewEdge();
  if (kept.length < MOST_KEPT) taken = kept.push(edge);
  return edge;
} as unknown as typeof NewEdge;

/** What the library does not set for each edge itself. */
function asNew(edge: ClipperLib.TEdge): ClipperLib.TEdge {
  edge.Dx = 0;
  edge.Side = ClipperLib.EdgeSide.esLeft;
  edge.WindDelta = 0;
  edge.WindCnt = 0;
  edge.WindCnt2 = 0;
  edge.NextInLML = null;
  edge.NextInAEL = null;
  edge.PrevInAEL = null;
  edge.NextInSEL = null;
  edge.PrevInSEL = null;
  return edge;
}

/** To be called before each operation: what an earlier one made of edges is lost. */
export function startAnew(): void {
  taken = 0;
}

export default ClipperLib;
