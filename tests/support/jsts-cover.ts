/**
 * Tucked means covered, by a second polygon library: every point of a tucked connector must lie in a piece that
 * is sewn later, judged by jsts (a port of the JTS Topology Suite), which the core does not use.
 */
import IndexedPointInAreaLocator from "jsts/org/locationtech/jts/algorithm/locate/IndexedPointInAreaLocator.js";
import Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
import GeometryFactory from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import type { Piece } from "../../core/artwork/types.ts";
import { COVER_GAP_MM } from "../../core/constants.ts";
import { boxesMeet, boxOf } from "../../core/geometry/point.ts";
import type { Point, Polygon, Ring } from "../../core/geometry/types.ts";
import type { Plan } from "../../core/plan/types.ts";
import { coverOf } from "../../core/techniques/cover-of.ts";

const factory = new GeometryFactory();
/** Location.EXTERIOR in JTS. */
const EXTERIOR = 2;
const SAMPLE_MM = 0.1;

const linearRing = (ring: Ring) =>
  factory.createLinearRing([...ring, ring[0]].map(([x, y]) => new Coordinate(x, y)));

export const jstsPolygon = ({ outer, holes }: Polygon) =>
  factory.createPolygon(linearRing(outer), holes.map(linearRing));

/**
 * Millimetres of tucked connectors that lie outside all later pieces by more than the drawing's tolerance.
 * `pieces` in sewing order.
 */
export function strayTuckedMm(plan: Plan, pieces: readonly Piece[]): number {
  const order = new Map(plan.pieces.map((piece) => [piece.id, piece.order - 1]));
  const areas = pieces.map((piece) => {
    const region = coverOf(piece);
    return region?.map((polygon) => {
      const geometry = jstsPolygon(polygon);
      return { geometry, locator: new IndexedPointInAreaLocator(geometry), box: boxOf(polygon.outer) };
    });
  });
  const hidden = (p: Point, from: number): boolean => {
    const at = new Coordinate(p[0], p[1]);
    const here = boxOf([p]);
    const near = areas.slice(from).flatMap((area) => area ?? []);
    if (near.some(({ locator, box }) => boxesMeet(box, here) && locator.locate(at) !== EXTERIOR)) return true;
    const point = factory.createPoint(at);
    return near.some(({ geometry }) => DistanceOp.distance(geometry, point) <= COVER_GAP_MM);
  };
  let stray = 0;
  for (const connector of plan.connectors) {
    if (connector.kind !== "tucked") continue;
    const from = order.get(connector.to)!;
    for (let i = 1; i < connector.points.length; i++) {
      const [a, b] = [connector.points[i - 1], connector.points[i]];
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const steps = Math.max(1, Math.ceil(length / SAMPLE_MM));
      for (let s = 0; s <= steps; s++) {
        const t = s / steps;
        if (!hidden([a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t], from)) stray += length / steps;
      }
    }
  }
  return stray;
}
