/**
 * A network: lines that touch, sewn as one. Out under, back over, no trims, and every line covered equally often,
 * whatever the way from entry to exit. Lines become a graph (`network-graph.ts`), the passes over its edges are
 * counted (`network-postman.ts`) and put in the order of one walk (`network-trail.ts`).
 *
 * The second pass over an edge sets its needle points half a stitch off, so that the two share only the nodes'
 * and corners' holes and the line looks evenly dense.
 */
import { distance } from "../geometry/point.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import { stitchAlong } from "./even-stitches.ts";
import { type LineGraph, lineGraph, type Place, placeOn, withNodeAt } from "./network-graph.ts";
import { postmanPasses, shortestWays, type WalkedGraph, type Ways } from "./network-postman.ts";
import { lineOf, straightTrail } from "./network-trail.ts";
import { layRun, type RunOptions, withEnds } from "./run.ts";
import type { Stitcher } from "./types.ts";

/**
 * Lays a network of lines that touch. All stitches are cover. `travelMm` is the thread beyond `passes` times the
 * lines' own length that it takes to get from the entry to the exit. Throws a RangeError if the lines do not hang
 * together, or none has a finite point.
 */
export function layNetwork(lines: readonly Polyline[], options: RunOptions): Stitcher {
  const graph = lineGraph(lines);
  if (graph === null || graph.edges.length === 0) return layRun(lines.flat(), options);
  const apart = waysOn(graph);
  const places = new WeakMap<Point, Place>();
  const placeOf = (p: Point): Place => {
    const place = places.get(p) ?? placeOn(graph, p);
    places.set(p, place);
    return place;
  };

  return {
    snap: (p) => placeOf(p).point,
    travelMm: (entry, exit) => apart(placeOf(entry), placeOf(exit)),
    stitch(entry, exit) {
      const needle = sewAll(graph, placeOf(entry), exit, options);
      return [{ role: "cover", points: withEnds(entry, needle, exit, options.minStitchMm) }];
    },
  };
}

/** How far two places lie apart along the lines. Ways from a node are looked for once. */
function waysOn(graph: LineGraph): (from: Place, to: Place) => number {
  const walked = walkedGraph(graph);
  const ways: Ways[] = [];
  const between = (a: number, b: number): number => {
    ways[a] ??= shortestWays(walked, a);
    return ways[a].lengthMm[b];
  };
  const doors = ({ edge, arc }: Place): [node: number, mm: number][] => {
    const { a, b, lengthMm } = graph.edges[edge];
    return [
      [a, arc],
      [b, lengthMm - arc],
    ];
  };
  return (from, to) => {
    let least = from.edge === to.edge ? Math.abs(to.arc - from.arc) : Number.POSITIVE_INFINITY;
    for (const [a, out] of doors(from))
      for (const [b, back] of doors(to)) least = Math.min(least, out + between(a, b) + back);
    return least;
  };
}

const walkedGraph = ({ nodes, edges }: LineGraph): WalkedGraph => ({ nodeCount: nodes.length, edges });

function sewAll(whole: LineGraph, entry: Place, exit: Point, options: RunOptions): Point[] {
  const entered = withNodeAt(whole, entry);
  const { graph, node: end } = withNodeAt(entered.graph, placeOn(entered.graph, exit));
  const counts = postmanPasses(walkedGraph(graph), options.passes ?? 1, entered.node, end);
  const passed = new Int32Array(graph.edges.length);
  const needle: Point[] = [];
  for (const pass of straightTrail(graph, counts, entered.node)) {
    const isBack = passed[pass.edge]++ % 2 === 1;
    const line = lineOf(graph.edges, pass);
    for (const p of stitchAlong(line, options.lengthMm, options.minStitchMm, isBack))
      if (needle.length === 0 || distance(needle[needle.length - 1], p) > 0) needle.push(p);
  }
  return needle;
}
