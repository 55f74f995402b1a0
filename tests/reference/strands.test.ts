/**
 * The number of strands against exhaustive connectivity by other means: for every pair of a block, jsts (a port
 * of the JTS Topology Suite) joins the later pieces and measures the gaps, Floyd and Warshall's algorithm finds
 * the cheapest way over the parts, and the strand breaks where that costs the jump threshold or more. A gap costs its
 * width, twice so much where another colour is seen in it. 200 random small designs (seeded), half of them on a board.
 */

import ArrayList from "jsts/java/util/ArrayList.js";
import GeometryFactory from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import OverlayOp from "jsts/org/locationtech/jts/operation/overlay/OverlayOp.js";
import UnaryUnionOp from "jsts/org/locationtech/jts/operation/union/UnaryUnionOp.js";
import { expect, test } from "vitest";
import type { Piece } from "../../core/artwork/types.ts";
import { regionFromRings } from "../../core/geometry/region.ts";
import type { Point } from "../../core/geometry/types.ts";
import { routeSequence } from "../../core/routing/route.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { jstsPolygon } from "../support/jsts-cover.ts";
import { box, inOrder, NAVY, plainStitcher, REED } from "../support/pieces.ts";
import { seeded } from "../support/sewing.ts";

/** Gaps at either side of it are common in these designs. */
const THRESHOLD_MM = 5;
const SETTINGS = { ...DEFAULT_SETTINGS, jumpThresholdMm: THRESHOLD_MM };
/** Designs in which a way comes this near to the threshold prove nothing either way. */
const UNDECIDED_MM = 0.1;

function randomDesign(seed: number): Piece[] {
  const random = seeded(seed);
  const count = 3 + Math.floor(random() * 6);
  const leaves = Array.from({ length: count }, (_, k): Piece => {
    const [cx, cy] = [5 + random() * 40, 5 + random() * 25];
    const radius = 2 + random() * 6;
    const corners = 3 + Math.floor(random() * 4);
    const turn = random() * Math.PI;
    const ring = Array.from({ length: corners }, (_, c): Point => {
      const angle = turn + (c * 2 * Math.PI) / corners;
      return [cx + radius * Math.cos(angle), cy + radius * Math.sin(angle)];
    });
    return {
      id: `leaf-${k}`,
      element: `leaf-${k}`,
      paint: "fill",
      colour: random() < 0.6 ? NAVY : REED,
      region: regionFromRings([ring], "nonzero"),
      technique: "fill",
      overrides: {},
    };
  });
  return seed % 2 === 0 ? leaves : [box("board", 0, 0, 50, 40, REED), ...leaves];
}

type Geometry = ReturnType<typeof jstsPolygon>;

/** What a way costs at least from piece i to piece i + 1, over the parts of what is sewn from i + 1 on. */
function leastCost(shapes: readonly Geometry[], i: number, gapCost: (a: Geometry, b: Geometry) => number) {
  const later = new ArrayList(null);
  for (const shape of shapes.slice(i + 1)) later.add(shape);
  const union = UnaryUnionOp.union(later);
  const parts = Array.from({ length: union.getNumGeometries() }, (_, n) => union.getGeometryN(n));
  const nodes = [shapes[i], ...parts, shapes[i + 1]];
  const cost = nodes.map((a) => nodes.map((b) => gapCost(a, b)));
  for (let k = 0; k < nodes.length; k++) {
    for (let a = 0; a < nodes.length; a++) {
      for (let b = 0; b < nodes.length; b++) cost[a][b] = Math.min(cost[a][b], cost[a][k] + cost[k][b]);
    }
  }
  return cost[0][nodes.length - 1];
}

const gapMm = (a: Geometry, b: Geometry): number => DistanceOp.distance(a, b);

/** What a gap costs thread of a colour: what is seen of each piece is its shape without all later ones. */
function costOver(pieces: readonly Piece[], shapes: readonly Geometry[], colour: string) {
  const others = shapes.flatMap((shape, k) => {
    if (pieces[k].colour === colour) return [];
    const later = shapes.slice(k + 1);
    return [later.reduce((rest, cover) => OverlayOp.difference(rest, cover), shape)];
  });
  return (a: Geometry, b: Geometry): number => {
    const line = new GeometryFactory().createLineString(DistanceOp.nearestPoints(a, b));
    const seen = others.map((shape) => OverlayOp.intersection(line, shape).getLength() as number);
    return gapMm(a, b) + seen.reduce((sum, mm) => sum + mm, 0);
  };
}

test("as many strands as connectivity asks for, and the bound says the same, on 200 random designs", () => {
  let compared = 0;
  let broken = 0;
  let joined = 0;
  let seen = 0;
  for (let seed = 1; compared < 200; seed++) {
    const pieces = randomDesign(seed);
    const shapes = pieces.map((piece) => jstsPolygon(piece.region[0]));
    const sequence = inOrder(...pieces);
    const pairs = pieces.slice(1).flatMap((piece, i) => (piece.colour === pieces[i].colour ? [i] : []));
    const exposed = pairs.map((i) => leastCost(shapes, i, gapMm));
    const cost = pairs.map((i) => leastCost(shapes, i, costOver(pieces, shapes, pieces[i].colour)));
    if (cost.some((mm) => Math.abs(mm - THRESHOLD_MM) < UNDECIDED_MM)) continue;
    const stitchers = pieces.map(() => plainStitcher);
    const { routes, strandsLowerBound } = routeSequence(sequence, stitchers, [], SETTINGS);
    const breaks = pairs.filter((_, n) => cost[n] >= THRESHOLD_MM);
    seen += pairs.filter((_, n) => cost[n] >= THRESHOLD_MM && exposed[n] < THRESHOLD_MM).length;
    expect(pairs.filter((i) => routes.breaks[i] !== null)).toEqual(breaks);
    expect(strandsLowerBound).toBe(sequence.blocks.length + breaks.length);
    for (const [n, i] of pairs.entries()) {
      const join = routes.joins[i];
      if (join) expect(join.exposedMm).toBeLessThan(exposed[n] + 0.1);
      if (join && exposed[n] > 0.06) expect(join.exposedMm).toBeGreaterThan(exposed[n] - 0.1);
    }
    compared++;
    broken += breaks.length;
    joined += pairs.length - breaks.length;
  }
  expect(Math.min(broken, joined)).toBeGreaterThanOrEqual(90);
  expect(seen).toBeGreaterThanOrEqual(9);
}, 60_000);
