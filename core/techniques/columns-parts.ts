/** From the parts of a piece to its stitcher: a column, a fill or a run each, sewn in one go (`columns-sew.ts`). */
import type { Piece, PiecePart } from "../artwork/types.ts";
import { SAME_POINT_MM } from "../constants.ts";
import { distance, norm } from "../geometry/point.ts";
import { nearestOnPolyline, slicePolyline } from "../geometry/polyline.ts";
import { nearestOnEdge, offset, regionArea, regionContains } from "../geometry/region.ts";
import { buildPathFinder } from "../geometry/shortest-path.ts";
import type { Point, Polyline, Region } from "../geometry/types.ts";
import type { Settings } from "../settings.ts";
import { layColumn } from "./columns.ts";
import { type LaidPart, layParts } from "./columns-sew.ts";
import { type FillOptions, layFill } from "./fill.ts";
import { layRun } from "./run.ts";
import { type SatinOptions, satinOn } from "./satin.ts";
import type { Ladder } from "./satin-rungs.ts";
import type { Stitcher } from "./types.ts";

export interface PartOptions {
  readonly fill: FillOptions;
  readonly satin: SatinOptions;
}

/** One stitcher for all parts of a piece; for the only part, that part's own. */
export function partsStitcher(piece: Piece, options: PartOptions, settings: Settings): Stitcher {
  const parts = (piece.parts ?? []).map((part) => layPart(part, options, settings));
  if (parts.length === 1) return parts[0].stitcher;
  return layParts(parts, piece.joints ?? [], piece.region, options.satin);
}

function layPart(
  { technique, region, line, halfWidthsMm }: PiecePart,
  options: PartOptions,
  settings: Settings,
): LaidPart {
  if (technique === "run" && line !== undefined) {
    const { runLengthMm: lengthMm, minStitchMm } = options.satin;
    const stitcher = layRun(line, { lengthMm, minStitchMm });
    return { stitcher, region, way: alongLine(line), lengthMm: 0 };
  }
  const asFill = () => {
    const stitcher = layFill(region, options.fill);
    return { stitcher, region, way: inArea(region), lengthMm: Math.sqrt(regionArea(region)) };
  };
  if (technique !== "satin" || line === undefined || halfWidthsMm === undefined) return asFill();
  const closed = line.length > 3 && distance(line[0], line[line.length - 1]) <= SAME_POINT_MM;
  const ladder = layColumn({ line, halfWidthsMm, closed }, region[0], options.satin);
  if (ladder === null) return asFill();
  const stitcher = satinOn(ladder, region, {
    ...options.satin,
    maxStitchMm: longestStitch(ladder, settings),
  });
  return {
    stitcher,
    region,
    way: alongLine(ladder.line),
    lengthMm: ladder.lengths[ladder.lengths.length - 1],
  };
}

/** Wider than satin is sewn, it becomes split satin. */
function longestStitch({ rungs }: Ladder, settings: Settings): number {
  const widest = rungs.reduce(
    (most, { left, right }) => Math.max(most, norm(right[0] - left[0], right[1] - left[1])),
    0,
  );
  return widest > settings.satinMaxWidthMm + 2 * settings.pullMm
    ? Math.min(settings.satinMaxWidthMm, settings.maxMoveMm)
    : settings.maxMoveMm;
}

function alongLine(line: Polyline): LaidPart["way"] {
  return (from, to) => {
    const lengths = new Float64Array(line.length);
    for (let i = 1; i < line.length; i++)
      lengths[i] = lengths[i - 1] + norm(line[i][0] - line[i - 1][0], line[i][1] - line[i - 1][1]);
    const [a, b] = [nearestOnPolyline(from, line).along, nearestOnPolyline(to, line).along];
    return [from, ...slicePolyline(line, lengths, a, b), to];
  };
}

/** Travel through a fill keeps this far from its edge where there is room. */
const INSET_MM = 0.6;

function inArea(region: Region): LaidPart["way"] {
  const inset = offset(region, -INSET_MM);
  const roomy = inset.length === 1 ? inset : region;
  let finder: ReturnType<typeof buildPathFinder> | null = null;
  const inside = (p: Point): Point => (regionContains(roomy, p) ? p : nearestOnEdge(roomy, p).point);
  return (from, to) => {
    finder ??= buildPathFinder(roomy);
    const path = finder.shortestPath(inside(from), inside(to));
    return [from, ...(path?.points ?? []), to];
  };
}
