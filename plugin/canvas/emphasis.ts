/** Which stitches belong to what is pointed at: they are outlined as one shape. */
import type { Target } from "../session-types.ts";
import type { NeedleTrack, TrackSpan } from "./needle-track.ts";

/** Stitches as pairs of the first and the first one after; none for what is no group of stitches. */
export function stitchesOfTarget(
  { spans }: NeedleTrack,
  target: Target | null,
): readonly (readonly [first: number, end: number])[] {
  if (target === null) return [];
  const isIn = membership(target);
  return isIn === null ? [] : spans.filter(isIn).map(({ first, end }) => [first, end] as const);
}

function membership(target: Target): ((span: TrackSpan) => boolean) | null {
  switch (target.kind) {
    case "piece":
      return ({ piece, role }) => piece === target.id && role === "cover";
    case "strand":
      return ({ strand }) => strand === target.index;
    case "block":
      return ({ block }) => block === target.index;
    default:
      return null;
  }
}
