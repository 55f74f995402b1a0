/**
 * A plan on its way to the page. Its needle points, and the outlines that markers snap to, lie in one buffer
 * each, which is handed over rather than copied; on the page every step sees its own part of it. So a plan of
 * tens of thousands of stitches arrives in a few milliseconds.
 */
import type { Piece } from "../../core/artwork/types.ts";
import type { Polyline, Region } from "../../core/geometry/types.ts";
import type { Plan, SewingStep } from "../../core/plan/types.ts";

type Unpointed<Step> = Step extends { points: Float64Array } ? Omit<Step, "points"> & PointRange : Step;

interface PointRange {
  /** Into the buffer of coordinates: first, and one past the last. */
  readonly start: number;
  readonly end: number;
}

export type PackedStep = Unpointed<SewingStep>;

export interface PackedPlan extends Omit<Plan, "sewing"> {
  readonly steps: readonly PackedStep[];
  readonly coordinates: Float64Array<ArrayBuffer>;
}

export function packPlan({ sewing, ...rest }: Plan): PackedPlan {
  const length = sewing.reduce((sum, step) => sum + ("points" in step ? step.points.length : 0), 0);
  const coordinates = new Float64Array(length);
  let start = 0;
  const steps = sewing.map((step): PackedStep => {
    if (!("points" in step)) return step;
    const { points, ...own } = step;
    coordinates.set(points, start);
    const range = { start, end: start + points.length };
    start = range.end;
    return { ...own, ...range };
  });
  return { ...rest, steps, coordinates };
}

/** The plan as it was packed; its steps' points share one buffer. */
export function unpackPlan({ steps, coordinates, ...rest }: PackedPlan): Plan {
  const sewing = steps.map((step): SewingStep => {
    if (!("start" in step)) return step;
    const { start, end, ...own } = step;
    return { ...own, points: coordinates.subarray(start, end) };
  });
  return { ...rest, sewing };
}

/** Where each piece may be entered and left, and whether it hides what lies under it; in needle order. */
export interface PackedShapes {
  readonly shapes: readonly PackedShape[];
  readonly coordinates: Float32Array<ArrayBuffer>;
}

export interface PackedShape {
  readonly piece: string;
  /** Anywhere within the lines, taken as closed rings, or only on them. */
  readonly kind: "area" | "line";
  /** Whether what is sewn before it and lies within it is hidden. */
  readonly covers: boolean;
  /** Of each line into the buffer of coordinates: first; the last is one past the end of the last line. */
  readonly starts: readonly number[];
}

export function packShapes(pieces: readonly Piece[]): PackedShapes {
  const running = pieces.map(runningLines);
  const lines = pieces.map((piece, k) => running[k] ?? edgesOf(piece.region));
  const length = lines.flat().reduce((sum, line) => sum + 2 * line.length, 0);
  const coordinates = new Float32Array(length);
  let at = 0;
  const shapes = pieces.map((piece, k): PackedShape => {
    const starts = [at];
    for (const line of lines[k]) {
      for (const [x, y] of line) {
        coordinates[at++] = x;
        coordinates[at++] = y;
      }
      starts.push(at);
    }
    return {
      piece: piece.id,
      kind: running[k] === null ? "area" : "line",
      covers: running[k] === null,
      starts,
    };
  });
  return { shapes, coordinates };
}

const edgesOf = (region: Region): readonly Polyline[] =>
  region.flatMap(({ outer, holes }) => [outer, ...holes]);

/** The lines that a piece is sewn along if it is running stitches and nothing else; `null` of all else. */
function runningLines(piece: Piece): readonly Polyline[] | null {
  const { parts = [], technique, lines, line, region } = piece;
  if (parts.length > 1) return null;
  const [part] = parts;
  if (part !== undefined) return part.technique === "run" && part.line !== undefined ? [part.line] : null;
  if (technique !== "run") return null;
  if (lines !== undefined) return lines;
  const { outer } = region[0];
  return [line ?? [...outer, outer[0]]];
}
