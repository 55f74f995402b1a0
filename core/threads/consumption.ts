/**
 * Thread that stitches take: the published geometric model of the lockstitch (stitch type 301 of ISO 4915).
 *
 * Needle and bobbin thread lie on the two faces of the fabric and interlock half way through it. Per stitch each
 * of them takes the stitch length N and, down and up again, once the thickness T: 2 N + 2 T together. Per unit
 * length, with S stitches to it: 2 + 2 T S. The model knows no tension: machine embroidery draws the interlock
 * to the underside, which moves some of the bobbin's share to the needle and leaves the sum as it is.
 */

export interface ThreadLengths {
  readonly needleMm: number;
  readonly bobbinMm: number;
}

export const NO_THREAD: ThreadLengths = { needleMm: 0, bobbinMm: 0 };

/**
 * Needle and bobbin thread for stitches in a row.
 *
 * @param points needle points, flat: x0, y0, x1, y1 …
 * @param thicknessMm of all that is sewn through: fabric and backing
 */
export function lockstitchThread(points: Float64Array, thicknessMm: number): ThreadLengths {
  let lengthMm = 0;
  for (let i = 2; i < points.length; i += 2)
    lengthMm += Math.hypot(points[i] - points[i - 2], points[i + 1] - points[i - 1]) + thicknessMm;
  return { needleMm: lengthMm, bobbinMm: lengthMm };
}

export const addThread = (a: ThreadLengths, b: ThreadLengths): ThreadLengths => ({
  needleMm: a.needleMm + b.needleMm,
  bobbinMm: a.bobbinMm + b.bobbinMm,
});

/**
 * Needle and bobbin thread together per unit length of seam.
 *
 * @param thickness in any unit of length
 * @param stitches to one such unit
 */
export const lockstitchRatio = (thickness: number, stitches: number): number => 2 + 2 * thickness * stitches;
