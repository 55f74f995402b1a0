/** What a plan costs and what it gained. Exported measures: tests, benchmarks and corpus use the same ones. */

import type { Artwork, Piece } from "../artwork/types.ts";
import { distance, norm } from "../geometry/point.ts";
import { ringCentroid } from "../geometry/polyline.ts";
import type { Point } from "../geometry/types.ts";
import { hopLimitMm } from "../routing/hops.ts";
import type { Connector } from "../routing/types.ts";
import { blocksOf } from "../sequence/blocks.ts";
import type { Sequence } from "../sequence/types.ts";
import type { Settings } from "../settings.ts";
import { isSewn } from "./steps.ts";
import type { Metrics, PlainMetrics, SewingStep, SewnStep } from "./types.ts";

/** Length of the thread path through flat needle points, in millimetres. */
export function threadPathMm(points: Float64Array): number {
  let length = 0;
  for (let i = 2; i < points.length; i += 2) {
    length += norm(points[i] - points[i - 2], points[i + 1] - points[i - 1]);
  }
  return length;
}

/** Needle penetrations: every sewn movement makes one, and each strand one more where it starts. */
export function countStitches(sewing: readonly SewingStep[]): number {
  let stitches = 0;
  for (const step of sewing) {
    if (!isSewn(step)) continue;
    stitches += step.points.length / 2 - 1 + (step.role === "tie-in" ? 1 : 0);
  }
  return stitches;
}

/** Measures a plan and, beside it, the same artwork sewn plainly in paint order. */
export function measurePlan(
  artwork: Artwork,
  sequence: Sequence,
  connectors: readonly (Connector | null)[],
  sewing: readonly SewingStep[],
  strandsLowerBound: number,
  settings: Settings,
): Metrics {
  const sewn = sewing.filter(isSewn);
  const joined = connectors.filter((connector) => connector !== null && connector.kind !== "jump");
  const sum = (pick: (connector: Connector) => number) =>
    joined.reduce((total, connector) => total + pick(connector!), 0);
  const strands = new Set(sewn.map((step) => step.strand)).size;
  const tuckedMm = sum((connector) => connector.tuckedMm);
  const exposedMm = sum((connector) => connector.exposedMm);
  const blendedMm = sum((connector) => connector.blendedMm ?? 0);
  const own = timed(
    {
      pieces: sequence.pieces.length,
      blocks: sequence.blocks.length,
      strands,
      trims: Math.max(0, strands - 1),
      hops: joined.filter((connector) => connector!.kind === "hop").length,
      stitches: countStitches(sewing),
      connectorMm: tuckedMm + blendedMm + exposedMm,
      tuckedMm,
      ...(blendedMm > 0 ? { blendedMm } : {}),
      exposedMm,
      threadMm: sewn.reduce((length, step) => length + threadPathMm(step.points), 0),
    },
    settings,
  );
  return {
    ...own,
    blocksLowerBound: sequence.bounds?.blocks ?? sequence.blocks.length,
    strandsLowerBound: sequence.bounds?.strands ?? strandsLowerBound,
    untucked: measurePlainly(artwork, sewing, settings),
  };
}

/**
 * Paint order sewn plainly: each piece begins and ends at its centre, nothing is hidden. Between the centres of
 * two pieces of one colour the machine hops below the jump threshold and trims from it on. The pieces' own
 * stitches are those of the plan.
 */
function measurePlainly(artwork: Artwork, sewing: readonly SewingStep[], settings: Settings): PlainMetrics {
  const pieces = artwork.pieces.filter((piece) => piece.technique !== "skip");
  const blocks = blocksOf(pieces);
  let strands = blocks.length;
  let hops = 0;
  let hopMm = 0;
  for (const { start, end } of blocks) {
    for (let k = start; k + 1 < end; k++) {
      const gapMm = distance(centreOf(pieces[k]), centreOf(pieces[k + 1]));
      if (gapMm >= hopLimitMm(settings)) strands++;
      else if (gapMm > 0) [hops, hopMm] = [hops + 1, hopMm + gapMm];
    }
  }
  const own = sewing.filter(isSewn).filter((step) => isPieceStep(step));
  const tieStitches = strands * (2 * settings.tieCount + 1);
  return timed(
    {
      pieces: pieces.length,
      blocks: blocks.length,
      strands,
      trims: Math.max(0, strands - 1),
      hops,
      stitches: own.reduce((count, step) => count + step.points.length / 2 - 1, 0) + tieStitches + hops,
      connectorMm: hopMm,
      tuckedMm: 0,
      exposedMm: hopMm,
      threadMm:
        own.reduce((length, step) => length + threadPathMm(step.points), 0) +
        strands * 2 * settings.tieCount * settings.tieLengthMm +
        hopMm,
    },
    settings,
  );
}

const isPieceStep = ({ role }: SewnStep): boolean =>
  role === "cover" || role === "underlay" || role === "travel";

const centreOf = (piece: Piece): Point => ringCentroid(piece.region[0].outer);

/** Adds the time: stitches at the set speed, and what hops, trims and colour changes add. */
function timed(figures: Omit<PlainMetrics, "seconds">, settings: Settings): PlainMetrics {
  const seconds =
    (figures.stitches / settings.stitchesPerMinute) * 60 +
    figures.hops * settings.hopSeconds +
    figures.trims * settings.trimSeconds +
    Math.max(0, figures.blocks - 1) * settings.colourChangeSeconds;
  return { ...figures, seconds };
}
