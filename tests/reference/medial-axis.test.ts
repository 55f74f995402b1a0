/**
 * The medial axis against jsts (a port of the JTS Topology Suite), which the core does not use: the Voronoi
 * diagram of points close together on the edge, which tends to the axis, and its maximum inscribed circle.
 */
import MaximumInscribedCircle from "jsts/org/locationtech/jts/algorithm/construct/MaximumInscribedCircle.js";
import IndexedPointInAreaLocator from "jsts/org/locationtech/jts/algorithm/locate/IndexedPointInAreaLocator.js";
import Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
import GeometryFactory from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import VoronoiDiagramBuilder from "jsts/org/locationtech/jts/triangulate/VoronoiDiagramBuilder.js";
import { describe, expect, it } from "vitest";
import { readArtwork } from "../../core/artwork/read.ts";
import { AXIS_OPTIONS, medialAxis } from "../../core/geometry/medial-axis.ts";
import { distance, lerp, nearestOnSegment } from "../../core/geometry/point.ts";
import { regionArea, ringsOf } from "../../core/geometry/region.ts";
import type { Point, Polygon } from "../../core/geometry/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { jstsPolygon } from "../support/jsts-cover.ts";
import { randomRegion, seededRandom } from "../support/random-region.ts";
import { sampleFiles } from "../support/sample.ts";

const NEAR_MM = 0.05;
/** The sites of the diagram: so near together that its edges are within NEAR of the axis where the shape is sewable. */
const SITE_MM = 0.15;
/** Location.INTERIOR in JTS. */
const INTERIOR = 0;

/** What protrudes little is pruned, though it may be a little wider than what it grows from. */
const UNPRUNED = { ...AXIS_OPTIONS, separationRad: 0, protrusionShare: 0 };

const factory = new GeometryFactory();

/** The edges of the diagram that lie in the polygon. */
function voronoiInside(polygon: Polygon): [Point, Point][] {
  const sites = ringsOf([polygon]).flatMap((ring) =>
    ring.flatMap((from, i) => {
      const to = ring[(i + 1) % ring.length];
      const count = Math.max(1, Math.ceil(distance(from, to) / SITE_MM));
      return Array.from({ length: count }, (_, k) => new Coordinate(...lerp(from, to, k / count)));
    }),
  );
  const builder = new VoronoiDiagramBuilder();
  builder.setSites(factory.createMultiPointFromCoords(sites));
  const cells = builder.getSubdivision().getVoronoiCellPolygons(factory).toArray();
  const locator = new IndexedPointInAreaLocator(jstsPolygon(polygon));
  const isInside = new Map<string, boolean>();
  const inside = (c: Coordinate): boolean => {
    const key = `${c.x} ${c.y}`;
    let known = isInside.get(key);
    if (known === undefined) {
      known = locator.locate(c) === INTERIOR;
      isInside.set(key, known);
    }
    return known;
  };
  const edges: [Point, Point][] = [];
  for (const cell of cells) {
    const ring = cell.getCoordinates();
    for (let i = 1; i < ring.length; i++)
      if (inside(ring[i - 1]) && inside(ring[i]))
        edges.push([
          [ring[i - 1].x, ring[i - 1].y],
          [ring[i].x, ring[i].y],
        ]);
  }
  return edges;
}

/** Real outlines of the open drawing sets, at 80 mm, of a size that the diagram is soon made for. */
const outlines = (): Polygon[] =>
  sampleFiles()
    .filter((_, k) => k % 8 === 0)
    .flatMap(({ name, text }) => readArtwork(text, name, { ...DEFAULT_SETTINGS, widthMm: 80 }).pieces)
    .map(({ region }) => region[0])
    .filter((polygon) => regionArea([polygon]) > 8 && regionArea([polygon]) < 250)
    .slice(0, 12);

const random = seededRandom(31);
const randomShapes = Array.from({ length: 8 }, () => randomRegion(random)[0]).filter(
  (polygon) => polygon !== undefined,
);

describe("medial axis against jsts", () => {
  for (const [name, shapes] of [
    ["random regions with holes", randomShapes],
    ["outlines of real drawings", outlines()],
  ] as const) {
    it(`lies on the Voronoi diagram of points on the edge: ${name}`, () => {
      expect(shapes.length).toBeGreaterThan(5);
      for (const polygon of shapes) {
        const edges = voronoiInside(polygon);
        const nodes = (medialAxis(polygon)?.nodes ?? []).filter(
          (node) => node.radiusMm >= AXIS_OPTIONS.stepMm,
        );
        expect(nodes.length).toBeGreaterThan(0);
        const off = nodes.map(({ point }) =>
          edges.reduce((least, [a, b]) => Math.min(least, distance(point, nearestOnSegment(point, a, b))), 9),
        );
        expect(Math.max(...off)).toBeLessThan(NEAR_MM);
      }
    }, 60_000);

    it(`is widest where the largest circle fits in: ${name}`, () => {
      for (const polygon of shapes) {
        const largest = MaximumInscribedCircle.getRadiusLine(jstsPolygon(polygon), 0.001).getLength();
        const widest = Math.max(...(medialAxis(polygon, UNPRUNED)?.nodes ?? []).map((n) => n.radiusMm));
        expect(Math.abs(widest - largest)).toBeLessThan(NEAR_MM);
      }
    }, 60_000);
  }
});
