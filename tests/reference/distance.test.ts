/** Least distances against `DistanceOp` of jsts, a port of the JTS Topology Suite, which the core does not use. */
import Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
import GeometryFactory from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import { expect, it } from "vitest";
import { polylineRegionDistance, regionDistance } from "../../core/geometry/distance.ts";
import type { Point, Polyline, Region } from "../../core/geometry/types.ts";
import { jstsPolygon } from "../support/jsts-cover.ts";
import { randomRegion, seededRandom } from "../support/random-region.ts";

const factory = new GeometryFactory();
const jstsRegion = (region: Region) => factory.createMultiPolygon(region.map(jstsPolygon));
const jstsLine = (line: Polyline) => factory.createLineString(line.map(([x, y]) => new Coordinate(x, y)));

it("equals that of jsts between 100 pairs of regions, apart or overlapping", () => {
  for (let seed = 1; seed <= 100; seed++) {
    const random = seededRandom(seed);
    const a = randomRegion(random);
    const by = 40 * random();
    const b = randomRegion(random, { blobs: 1 }).map(({ outer, holes }) => {
      const move = (ring: Polyline): Point[] => ring.map(([x, y]) => [x + by, y - by / 2]);
      return { outer: move(outer), holes: holes.map(move) };
    });
    if (a.length === 0 || b.length === 0) continue;
    const theirs = DistanceOp.distance(jstsRegion(a), jstsRegion(b));
    expect(regionDistance(a, b, 1000)?.distance, `seed ${seed}`).toBeCloseTo(theirs, 9);
  }
});

it("equals that of jsts between 100 lines and regions", () => {
  for (let seed = 1; seed <= 100; seed++) {
    const random = seededRandom(seed);
    const region = randomRegion(random);
    const shift = 40 * random() - 10;
    const line = Array.from({ length: 5 }, (): Point => [shift + 12 * random(), shift + 12 * random()]);
    if (region.length === 0) continue;
    const theirs = DistanceOp.distance(jstsLine(line), jstsRegion(region));
    expect(polylineRegionDistance(line, region, 1000)?.distance, `seed ${seed}`).toBeCloseTo(theirs, 9);
  }
});
