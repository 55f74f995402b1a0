/**
 * From a tour to stitches: passage after passage, travel first where one is reached under rows still to come
 * (`fill-travel.ts`), then its rows or its line (`fill-row-stitches.ts`).
 */
import type { Point } from "../geometry/types.ts";
import type { FillGraph } from "./fill-graph.ts";
import { Needle } from "./fill-needle.ts";
import { doorOf, endOf, lineOf, onPoint, type SewOptions, STRAIGHT_MM, type Stop } from "./fill-passages.ts";
import { corners } from "./fill-path.ts";
import { rowsOf, sewLine, sewRows } from "./fill-row-stitches.ts";
import type { Passage } from "./fill-tour.ts";
import { TRAVEL_STITCH_MM, travel } from "./fill-travel.ts";
import type { SewnRow } from "./fill-turns.ts";

/** Travel reaches the start of a row along that row, for this long. */
const RUN_UP_MM = 1;

/** The needle after all passages of a tour, in the rows' frame; it still has to be finished at the exit. */
export function sewTour(
  graph: FillGraph,
  tour: readonly Passage[],
  entry: Stop,
  exit: Stop,
  options: SewOptions,
): Needle {
  const longest = Math.min(options.maxStitchMm, Math.max(options.lengthMm, TRAVEL_STITCH_MM));
  const needle = new Needle(entry.at, options.minStitchMm, longest);
  let pending: Passage[] = [];
  const stops = [entry, exit];
  let home = entry.anchor.home;
  for (let i = 0; i < tour.length; i++) {
    const passage = tour[i];
    const edge = graph.edges[passage.edge];
    if (passage.role === "travel") {
      pending.push(passage);
      continue;
    }
    if (edge.kind === "stack") {
      const startX =
        pending.length === 0 ? needle.at[0] : turnsBack(pending, passage) ? null : doorOf(edge, passage.from);
      const end = i + 1 === tour.length ? onPoint(exit.at) : endOf(edge, passage);
      const rows = rowsOf(edge, passage, startX, end, pending.length > 0, options);
      if (pending.length > 0) travel(needle, graph, pending, startOf(rows[0], startX), home, stops, options);
      sewRows(needle, rows, end, options);
    } else {
      const pieces = [lineOf(edge, passage, stops)];
      const spans = [edge.span];
      for (; i + 1 < tour.length; i++) {
        const next = tour[i + 1];
        const nextEdge = graph.edges[next.edge];
        if (next.role !== "cover" || nextEdge.kind !== "line") break;
        pieces.push(lineOf(nextEdge, next, stops));
        spans.push(nextEdge.span);
      }
      const line = corners(pieces.flat(), STRAIGHT_MM);
      if (pending.length > 0) travel(needle, graph, pending, [line[0]], home, stops, options);
      sewLine(needle, line, spans, options);
    }
    pending = [];
    home = null;
  }
  return needle;
}

/** Whether a passage leads back over the edge by which the needle has just come. */
const turnsBack = (pending: readonly Passage[], passage: Passage): boolean =>
  pending.length > 0 && pending[pending.length - 1].edge === passage.edge;

/** The last points of travel to the start of a row: along the row, from the door, so that all of it is covered. */
function startOf({ span, startX, endX }: SewnRow, doorX: number | null): Point[] {
  const start: Point = [startX, span.y];
  if (Math.abs(endX - startX) < 2 * RUN_UP_MM) return [start];
  const runUp = startX + Math.sign(endX - startX) * RUN_UP_MM;
  const from = doorX !== null && Math.abs(doorX - startX) > RUN_UP_MM ? doorX : runUp;
  return [[from, span.y], start];
}
