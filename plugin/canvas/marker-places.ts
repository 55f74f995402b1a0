/** The markers of a plan: where each piece is entered and left, and which way its first and last stitch go. */
import { norm } from "../../core/geometry/point.ts";
import type { Point } from "../../core/geometry/types.ts";
import { isTie } from "../../core/layers/sewn-pieces.ts";
import type { Plan } from "../../core/plan/types.ts";
import { type NeedleTrack, trackOf } from "./needle-track.ts";

export interface MarkerPlace {
  readonly piece: string;
  readonly point: "entry" | "exit";
  readonly at: Point;
  /** Of the stitch there: clockwise from the x axis, as SVG turns. */
  readonly turnDeg: number;
  readonly order: number;
  readonly isPinned: boolean;
}

/** Stitches shorter than this have no direction to speak of. */
const MIN_DIRECTION_MM = 1e-3;

/** An entry and an exit for each piece that is sewn, in sewing order. */
export function markerPlaces(plan: Plan): readonly MarkerPlace[] {
  const turns = turnsOf(trackOf(plan));
  return [...plan.pieces]
    .sort((a, b) => a.order - b.order)
    .flatMap(({ id, order, entry, exit, entryPinned, exitPinned }): MarkerPlace[] => {
      const turn = turns.get(id) ?? { entry: 0, exit: 0 };
      return [
        { piece: id, point: "entry", at: entry, turnDeg: turn.entry, order, isPinned: entryPinned },
        { piece: id, point: "exit", at: exit, turnDeg: turn.exit, order, isPinned: exitPinned },
      ];
    });
}

/** Which way the first and the last stitch of each piece go, ties left aside. */
function turnsOf({ spans, ends }: NeedleTrack): Map<string, { entry: number; exit: number }> {
  const turns = new Map<string, { entry: number; exit: number }>();
  for (const { piece, role, first, end } of spans) {
    if (piece === undefined || isTie(role)) continue;
    const known = turns.get(piece);
    if (known === undefined) {
      const entry = turnOf(ends, first, end, 1);
      const exit = turnOf(ends, end - 1, first - 1, -1);
      if (entry !== null && exit !== null) turns.set(piece, { entry, exit });
    } else {
      known.exit = turnOf(ends, end - 1, first - 1, -1) ?? known.exit;
    }
  }
  return turns;
}

/** The direction of the first stitch that has one, from one number to another. */
function turnOf(ends: Float32Array, from: number, to: number, step: 1 | -1): number | null {
  for (let k = from; k !== to; k += step) {
    const dx = ends[4 * k + 2] - ends[4 * k];
    const dy = ends[4 * k + 3] - ends[4 * k + 1];
    if (norm(dx, dy) > MIN_DIRECTION_MM) return (Math.atan2(dy, dx) * 180) / Math.PI;
  }
  return null;
}
