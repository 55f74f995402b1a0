/**
 * Shortest paths against two sources outside the project:
 * - a visibility graph of every pair of corners, tried by exact predicates (the definition, written out here),
 *   solved by the general graph library `graphology` (its Dijkstra), on 500 random regions with holes;
 * - 160 published lengths among obstacles (see `arena-lengths.json` for their source).
 */
import graphology from "graphology";
import dijkstra from "graphology-shortest-path/dijkstra.js";
import { orient2d } from "robust-predicates";
import { describe, expect, it } from "vitest";
import { distance, rotate } from "../../core/geometry/point.ts";
import { signedArea } from "../../core/geometry/polyline.ts";
import { offset, ringsOf } from "../../core/geometry/region.ts";
import { buildPathFinder } from "../../core/geometry/shortest-path.ts";
import type { Point, Region, Ring } from "../../core/geometry/types.ts";
import {
  latticeRegion,
  type Random,
  randomPointIn,
  randomRegion,
  seededRandom,
} from "../support/random-region.ts";
import arena from "./arena-lengths.json" with { type: "json" };

const side = (a: Point, b: Point, c: Point): number =>
  Math.sign(orient2d(a[0], a[1], b[0], b[1], c[0], c[1]));
const same = (a: Point, b: Point): boolean => a[0] === b[0] && a[1] === b[1];
const isBetween = (p: Point, a: Point, b: Point): boolean =>
  Math.min(a[0], b[0]) <= p[0] &&
  p[0] <= Math.max(a[0], b[0]) &&
  Math.min(a[1], b[1]) <= p[1] &&
  p[1] <= Math.max(a[1], b[1]);

/** A ring's vertex with its neighbours, the region's inside on the right as seen. */
interface Corner {
  readonly before: Point;
  readonly at: Point;
  readonly after: Point;
}

function cornersOf(region: Region): Corner[] {
  const turned = (ring: Ring, positive: boolean): Ring =>
    signedArea(ring) > 0 === positive ? ring : ring.toReversed();
  return region.flatMap(({ outer, holes }) =>
    [turned(outer, true), ...holes.map((hole) => turned(hole, false))].flatMap((ring) =>
      ring.map((at, i) => ({ before: ring.at(i - 1) as Point, at, after: ring[(i + 1) % ring.length] })),
    ),
  );
}

/** Whether rings touch: a vertex twice, or a vertex on another edge. What a touch means is told by examples, not here. */
const ringsTouch = (corners: readonly Corner[]): boolean =>
  corners.some(({ at }) =>
    corners.some(
      (c) =>
        !same(c.at, at) &&
        !same(c.after, at) &&
        side(c.at, c.after, at) === 0 &&
        isBetween(at, c.at, c.after),
    ),
  ) || new Set(corners.map(({ at }) => at.join())).size < corners.length;

/** Whether the way from a corner towards p begins inside the closed region. */
function opensTowards({ before, at, after }: Corner, p: Point): boolean {
  const inFromBefore = side(before, at, p) <= 0;
  const inFromAfter = side(at, after, p) <= 0;
  return side(before, at, after) <= 0 ? inFromBefore && inFromAfter : inFromBefore || inFromAfter;
}

/** Whether segment pq, whose ends lie in the closed region, stays in it. */
const isSightLine = (p: Point, q: Point, corners: readonly Corner[]): boolean =>
  corners.every((corner) => {
    const { at, after } = corner;
    const sideAt = side(p, q, at);
    const sideAfter = side(p, q, after);
    const sideP = side(at, after, p);
    const sideQ = side(at, after, q);
    if (sideAt * sideAfter < 0 && sideP * sideQ < 0) return false;
    // An end on the edge: the segment must leave to the inside.
    if (sideAt * sideAfter < 0 && sideP === 0 && sideQ > 0) return false;
    if (sideAt * sideAfter < 0 && sideQ === 0 && sideP > 0) return false;
    if (sideAt !== 0 || !isBetween(at, p, q)) return true;
    return (same(at, q) || opensTowards(corner, q)) && (same(at, p) || opensTowards(corner, p));
  });

/** Lengths between pairs of points by all sight lines between corners; null for no path. */
function lengthsByDefinition(
  corners: readonly Corner[],
  pairs: readonly (readonly [Point, Point])[],
): (number | null)[] {
  const graph = new graphology.UndirectedGraph();
  const points: Point[] = [];
  const add = (p: Point): string => {
    const name = String(points.length);
    graph.addNode(name);
    points.forEach((q, i) => {
      if (isSightLine(p, q, corners)) graph.addEdge(name, String(i), { weight: distance(p, q) });
    });
    points.push(p);
    return name;
  };
  for (const { at } of corners) add(at);
  return pairs.map(([from, to]) => {
    const names = dijkstra.bidirectional(graph, add(from), add(to));
    if (names === null) return null;
    const path = names.map((name) => points[Number(name)]);
    return path.slice(1).reduce((sum, p, i) => sum + distance(path[i], p), 0);
  });
}

const rotateRegion = (region: Region, angleRad: number): Region => {
  const turn = (ring: Ring): Ring => ring.map((p) => rotate(p, angleRad));
  return region.map(({ outer, holes }) => ({ outer: turn(outer), holes: holes.map(turn) }));
};

/** Kinds of region, each met a hundred times. */
const KINDS: Record<string, (random: Random) => Region> = {
  "blobs with holes": (random) => randomRegion(random),
  "many small notches": (random) => randomRegion(random, { blobs: 2, cuts: 9, points: 20 }),
  "rounded, with runs of points almost in line": (random) =>
    offset(randomRegion(random, { blobs: 2, cuts: 3, points: 7 }), random() < 0.5 ? 0.3 : -0.3, "round"),
  "square holes in rows": (random) =>
    latticeRegion(1 + Math.floor(4 * random()), 1 + Math.floor(3 * random()), 1 + Math.floor(2 * random())),
  "square holes in rows, turned": (random) =>
    rotateRegion(
      latticeRegion(1 + Math.floor(4 * random()), 1 + Math.floor(3 * random())),
      2 * Math.PI * random(),
    ),
};

/** Places of all kinds whose position is exact: inside, on a vertex, on the middle of a horizontal or vertical edge. */
function exactPointIn(region: Region, corners: readonly Corner[], random: Random): Point {
  const kind = random();
  const { at, after } = corners[Math.floor(random() * corners.length)];
  if (kind < 0.25) return at;
  if (kind < 0.5 && (at[0] === after[0] || at[1] === after[1]))
    return [(at[0] + after[0]) / 2, (at[1] + after[1]) / 2];
  return randomPointIn(region, random, 0);
}

describe("against a visibility graph solved by a general graph library", () => {
  it.each(Object.entries(KINDS))(
    "finds the same lengths in %s",
    (name, make) => {
      let regions = 0;
      for (let seed = 1; regions < 100; seed++) {
        const random = seededRandom(seed + 1000 * Object.keys(KINDS).indexOf(name));
        const region = make(random);
        const corners = cornersOf(region);
        if (corners.length === 0 || ringsTouch(corners)) continue;
        regions++;
        const pairs = Array.from(
          { length: 4 },
          () => [exactPointIn(region, corners, random), exactPointIn(region, corners, random)] as const,
        );
        const finder = buildPathFinder(region);
        const found = pairs.map(([from, to]) => finder.shortestPath(from, to)?.length ?? null);
        lengthsByDefinition(corners, pairs).forEach((length, i) => {
          const where = `seed ${seed}, ${ringsOf(region).length} rings, pair ${pairs[i].join(" to ")}`;
          if (length === null) expect(found[i], where).toBeNull();
          else expect(Math.abs((found[i] ?? Number.NaN) - length), where).toBeLessThan(1e-6);
        });
      }
    },
    60_000,
  );
});

/** Chains directed edges end to start into rings. */
function ringsFromEdges(edges: readonly number[][]): Ring[] {
  const next = new Map(edges.map(([x1, y1, x2, y2]) => [`${x1},${y1}`, [x2, y2] as const]));
  const rings: Ring[] = [];
  for (const [x, y] of edges) {
    const ring: Point[] = [];
    let at: Point = [x, y];
    for (let to = next.get(at.join()); to !== undefined; to = next.get(at.join())) {
      next.delete(at.join());
      ring.push(at);
      at = to;
    }
    if (ring.length > 0) rings.push(ring);
  }
  return rings;
}

describe("against published lengths in the arena map", () => {
  const rings = ringsFromEdges(arena.boundary);
  const largest = Math.max(...rings.map((ring) => Math.abs(signedArea(ring))));
  const isOuter = (ring: Ring): boolean => Math.abs(signedArea(ring)) === largest;
  const region: Region = [
    { outer: rings.find(isOuter) as Ring, holes: rings.filter((ring) => !isOuter(ring)) },
  ];
  const finder = buildPathFinder(region);

  it.each(arena.queries)("from (%d, %d) to (%d, %d) is %d long", (x1, y1, x2, y2, length) => {
    // Published with five decimals and computed in single precision: hence the tolerance.
    expect(Math.abs((finder.shortestPath([x1, y1], [x2, y2])?.length ?? Number.NaN) - length)).toBeLessThan(
      5e-5,
    );
  });

  it("has 160 of them", () => expect(arena.queries).toHaveLength(160));
});
