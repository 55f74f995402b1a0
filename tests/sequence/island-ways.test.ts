/**
 * The ways between islands, under pieces that meet taken as one, are those that Dijkstra's algorithm finds from piece
 * to piece: checked against the general-purpose graph library `graphology`.
 */
import graphology from "graphology";
import shortestPath from "graphology-shortest-path";
import { expect, test } from "vitest";
import { distance } from "../../core/geometry/point.ts";
import { bodyOf } from "../../core/routing/body.ts";
import { measureNearness } from "../../core/routing/nearness.ts";
import { islandWays, leastCostsFrom } from "../../core/sequence/island-ways.ts";
import { box, NAVY } from "../support/pieces.ts";
import { seeded } from "../support/sewing.ts";

const LIMIT_MM = 3;
const [ISLANDS, LATER] = [7, 18];

test("pebbles on a shore, with leaves that fall over some of them", () => {
  let reached = 0;
  let underIslands = 0;
  for (let seed = 1; seed <= 40; seed++) {
    const random = seeded(seed);
    const pieces = Array.from({ length: ISLANDS + LATER }, (_, k) =>
      box(`pebble-${k}`, 30 * random(), 30 * random(), 1 + 3 * random(), 1 + 3 * random()),
    );
    const nearness = measureNearness(pieces.map(bodyOf), distance, LIMIT_MM);
    const ends = Array.from({ length: ISLANDS }, (_, k) => k);
    const ways = islandWays(nearness, NAVY, ends, (k) => k >= ISLANDS, LIMIT_MM);
    for (const isOpen of [() => false, (k: number) => k % 2 === 0]) {
      for (const from of ends) {
        const found = leastCostsFrom(ways, from, isOpen, LIMIT_MM);
        for (const to of ends.filter((k) => k !== from)) {
          const expected = leastOverPieces(from, to, (k) => k >= ISLANDS || isOpen(k));
          expect(found.get(to) ?? Number.POSITIVE_INFINITY).toBeCloseTo(expected, 9);
          if (expected < LIMIT_MM) reached++;
          if (expected < leastOverPieces(from, to, (k) => k >= ISLANDS)) underIslands++;
        }
      }
    }

    function leastOverPieces(from: number, to: number, covers: (k: number) => boolean): number {
      const graph = new graphology.UndirectedGraph();
      const open = pieces.flatMap((_, k) => (k === from || k === to || covers(k) ? [k] : []));
      for (const k of open) graph.addNode(k);
      for (const k of open)
        for (const l of open) {
          const cost = k < l ? nearness.hopCost(k, l, NAVY) : null;
          if (cost !== null) graph.addEdge(k, l, { weight: cost });
        }
      const path = shortestPath.dijkstra.bidirectional(graph, from, to, "weight");
      const steps = path
        ?.slice(1)
        .map((l, n) => nearness.hopCost(Number(path[n]), Number(l), NAVY) as number);
      const least = steps?.reduce((sum, cost) => sum + cost, 0) ?? Number.POSITIVE_INFINITY;
      return least < LIMIT_MM ? least : Number.POSITIVE_INFINITY;
    }
  }
  expect(reached).toBeGreaterThan(500);
  expect(underIslands).toBeGreaterThan(20);
});
