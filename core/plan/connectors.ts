import { distance } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import type { Join } from "../routing/joins.ts";
import type { Connector, Routes } from "../routing/types.ts";
import type { Sequence } from "../sequence/types.ts";

/**
 * The connectors of a routed sequence, parallel to its pieces: entry k leads from piece k to piece k + 1.
 * `null` where a block ends, and where exit and entry coincide, so that nothing lies between.
 */
export function connectorsOf(sequence: Sequence, routes: Routes): (Connector | null)[] {
  let count = 0;
  return sequence.pieces.map((piece, k) => {
    const next = sequence.pieces[k + 1];
    const join = routes.joins[k];
    const stop = routes.breaks[k];
    if (!next || (!join && !stop) || join?.kind === "meet") return null;
    const ends = { id: `connector-${++count}`, from: piece.id, to: next.id };
    if (join) return { ...ends, ...joined(join) };
    return {
      ...ends,
      kind: "jump",
      points: [routes.exits[k], routes.entries[k + 1]],
      tuckedMm: 0,
      exposedMm: 0,
      marginMm: 0,
      reason: stop!.reason,
      remedy: stop!.remedy,
      gaps: stop!.gaps,
    };
  });
}

const joined = (join: Join): Omit<Connector, "id" | "from" | "to"> => ({
  kind: join.kind === "meet" ? "tucked" : join.kind,
  points: withoutRepeats(join.legs.flatMap((leg) => leg.points)),
  tuckedMm: join.tuckedMm,
  exposedMm: join.exposedMm,
  ...(join.blendedMm === undefined ? {} : { blendedMm: join.blendedMm }),
  marginMm: join.marginMm,
  ...(join.bend === undefined ? {} : { bend: join.bend }),
});

const withoutRepeats = (points: readonly Point[]): Point[] =>
  points.filter((p, i) => i === 0 || distance(p, points[i - 1]) > 0);
