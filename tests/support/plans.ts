/** A plan around sewing steps made by hand, for tests of what is written from a plan. */
import type { PlainMetrics, Plan, PlannedPiece, SewingStep } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";

const NO_METRICS: PlainMetrics = {
  pieces: 0,
  blocks: 0,
  strands: 0,
  trims: 0,
  hops: 0,
  stitches: 0,
  connectorMm: 0,
  tuckedMm: 0,
  exposedMm: 0,
  threadMm: 0,
  seconds: 0,
};

/** Metrics are left at zero; one piece a colour, named for its place: `piece-1`, `piece-2` … */
export function planOf(
  sewing: readonly SewingStep[],
  colours: readonly string[],
  size = { widthMm: 30, heightMm: 20 },
): Plan {
  return {
    source: { name: "by-hand.svg", sha256: "0".repeat(64) },
    settings: DEFAULT_SETTINGS,
    size,
    userToMm: [1, 0, 0, 1, 0, 0],
    pieces: colours.map(
      (colour, k): PlannedPiece => ({
        id: `piece-${k + 1}`,
        element: `piece-${k + 1}`,
        paint: "fill",
        technique: "fill",
        colour,
        order: k + 1,
        entry: [0, 0],
        exit: [0, 0],
        entryPinned: false,
        exitPinned: false,
      }),
    ),
    connectors: [],
    sewing,
    metrics: { ...NO_METRICS, blocksLowerBound: 0, strandsLowerBound: 0, untucked: NO_METRICS },
    findings: [],
  };
}
