/** The part of clipper-lib (6.4) that `clipper.ts` and `region.ts` use. */
declare module "clipper-lib" {
  interface IntPoint {
    X: number;
    Y: number;
  }
  type Path = IntPoint[];
  type Paths = Path[];
  interface SweptEdge {
    readonly Curr: IntPoint;
    /** The next edge under the sweep line, to the right. */
    readonly NextInAEL: SweptEdge | null;
  }
  /** An edge of what goes in. */
  class TEdge {
    Dx: number;
    Side: 0 | 1;
    WindDelta: number;
    WindCnt: number;
    WindCnt2: number;
    NextInLML: TEdge | null;
    NextInAEL: TEdge | null;
    PrevInAEL: TEdge | null;
    NextInSEL: TEdge | null;
    PrevInSEL: TEdge | null;
  }
  /** A point of a ring that comes out. */
  interface OutPt {
    readonly Pt: IntPoint;
    Next: OutPt;
    Prev: OutPt;
  }
  /** A ring that comes out, or an open line; `Pts` is `null` where nothing is left of it. */
  interface OutRec {
    Pts: OutPt | null;
    readonly IsOpen: boolean;
  }
  class IntersectNode {
    Edge1: SweptEdge | null;
    Edge2: SweptEdge | null;
    readonly Pt: IntPoint;
  }
  class PolyNode {
    Contour(): Path;
    Childs(): PolyNode[];
    IsHole(): boolean;
  }
  class PolyTree extends PolyNode {}
  class Clipper {
    StrictlySimple: boolean;
    /** The first edge under the sweep line. */
    readonly m_ActiveEdges: SweptEdge | null;
    /** The crossings below the next stop of the sweep line. */
    readonly m_IntersectList: IntersectNode[];
    /** What comes out. */
    readonly m_PolyOuts: OutRec[];
    /** Adds a ring to what comes out. */
    CreateOutRec(): OutRec;
    /** Splits rings where they visit a point twice. */
    DoSimplePolygons(): void;
    /** Sets the point where two edges cross. */
    IntersectPoint(left: SweptEdge, right: SweptEdge, point: IntPoint): void;
    /** Lists the crossings below the next stop of the sweep line. */
    BuildIntersectList(topY: number): void;
    AddPath(path: Path, type: number, closed: boolean): boolean;
    AddPaths(paths: Paths, type: number, closed: boolean): boolean;
    Execute(clip: number, solution: Paths | PolyTree, subjectFill: number, clipFill: number): boolean;
    static OpenPathsFromPolyTree(tree: PolyTree): Paths;
    /** 1 inside, 0 outside, −1 on the edge. */
    static PointInPolygon(point: IntPoint, path: Path): number;
    /** Where an edge meets the sweep line. */
    static TopX(edge: SweptEdge, topY: number): number;
    static CleanPolygon(path: Path, distance: number): Path;
  }
  class ClipperOffset {
    constructor(miterLimit?: number, arcTolerance?: number);
    AddPath(path: Path, join: number, end: number): void;
    AddPaths(paths: Paths, join: number, end: number): void;
    Execute(solution: Paths | PolyTree, delta: number): void;
  }
  const ClipType: { ctIntersection: 0; ctUnion: 1; ctDifference: 2; ctXor: 3 };
  const EdgeSide: { esLeft: 0; esRight: 1 };
  const PolyType: { ptSubject: 0; ptClip: 1 };
  const PolyFillType: {
    pftEvenOdd: 0;
    pftNonZero: 1;
    pftPositive: 2;
    pftNegative: 3;
  };
  const JoinType: { jtSquare: 0; jtRound: 1; jtMiter: 2 };
  const EndType: {
    etOpenSquare: 0;
    etOpenRound: 1;
    etOpenButt: 2;
    etClosedLine: 3;
    etClosedPolygon: 4;
  };
}
