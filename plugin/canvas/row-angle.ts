/** The angle of a fill's rows, seen from its stitches. */
import type { NeedleTrack } from "./needle-track.ts";

/**
 * The direction that most of a piece's cover runs in, in whole degrees from 0 to 179, counter-clockwise from the
 * x axis as seen; `null` where it has no cover. Directions that are opposite are one: each is doubled, weighed by
 * its length squared, summed as vectors, and halved again, as is usual for axial data (Mardia and Jupp, "Directional
 * Statistics", 1999; from memory). Long stitches count for more since rows are made of them.
 */
export function rowAngle({ spans, ends }: NeedleTrack, piece: string): number | null {
  let x = 0;
  let y = 0;
  for (const span of spans) {
    if (span.piece !== piece || span.role !== "cover") continue;
    for (let k = 4 * span.first; k < 4 * span.end; k += 4) {
      const dx = ends[k + 2] - ends[k];
      const dy = ends[k + 3] - ends[k + 1];
      // (dx + i·dy)², whose angle is twice that of the stitch and whose length is its length squared.
      x += dx * dx - dy * dy;
      y += 2 * dx * dy;
    }
  }
  if (x === 0 && y === 0) return null;
  const clockwiseDeg = ((Math.atan2(y, x) / 2) * 180) / Math.PI;
  return ((Math.round(-clockwiseDeg) % 180) + 180) % 180;
}
