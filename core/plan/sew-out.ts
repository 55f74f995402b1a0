/**
 * The sew-out raster: the design as it will look from above. Thread is painted stitch by stitch, in needle
 * order, on a grid of square pixels; each pixel remembers which stitch lies on top.
 *
 * A stitch is a capsule: all points within half the thread's width of the line between its two needle points.
 * A pixel is covered where its centre is. A capsule is convex, so it meets a row of pixel centres in one
 * interval: from the leftmost to the rightmost of its two round ends and the straight part between them.
 */

import type { Artwork } from "../artwork/types.ts";
import { norm } from "../geometry/point.ts";
import { isSewn } from "./steps.ts";
import type { SewingStep, SewnRole, SewnStep } from "./types.ts";

export interface SewOutOptions {
  /** Pixels a millimetre. At the default of 10, thread is some four pixels wide. */
  readonly pxPerMm?: number;
  /** Width of thread as it lies, default 0.42 mm. */
  readonly threadWidthMm?: number;
}

/** The finished embroidery as pixels: which thread lies on top. */
export interface SewOut {
  /** In pixels. Pixel (x, y) is at index y · width + x; its centre lies at ((x + ½), (y + ½)) / pxPerMm. */
  readonly width: number;
  readonly height: number;
  readonly pxPerMm: number;
  /** Index into `sewing` of the step that lies on top; -1 where the fabric is bare. */
  readonly top: Int32Array;
  /** Which stitch of that step lies on top, from 0; -1 where the fabric is bare. */
  readonly topStitch: Int32Array;
}

/** Width of 40 weight thread as it lies, a little flattened. Common practice, no source. */
export const LYING_THREAD_WIDTH_MM = 0.42;

/** Samples along a connector's or travel's centre line lie this far apart: a quarter of the thread's width. */
const SAMPLE_MM = 0.1;

/** Paints the thread of a plan. What lies outside the artwork's size is cut off. */
export function paintSewOut(
  sewing: readonly SewingStep[],
  size: Artwork["size"],
  { pxPerMm = 10, threadWidthMm = LYING_THREAD_WIDTH_MM }: SewOutOptions = {},
): SewOut {
  const width = pixelsIn(size.widthMm * pxPerMm);
  const height = pixelsIn(size.heightMm * pxPerMm);
  const top = new Int32Array(width * height).fill(-1);
  const topStitch = new Int32Array(width * height).fill(-1);
  const raster = { width, height, pxPerMm };
  sewing.forEach((step, index) => {
    if (!isSewn(step)) return;
    paintStitches(step.points, raster, threadWidthMm, (from, to, stitch) => {
      top.fill(index, from, to + 1);
      topStitch.fill(stitch, from, to + 1);
    });
  });
  return { ...raster, top, topStitch };
}

/** A grid of square pixels over the artwork. */
export type Raster = Pick<SewOut, "width" | "height" | "pxPerMm">;

/**
 * Visits the pixels of one step's thread, `points` its needle points: for each stitch, counted from 0, and each
 * row of pixels that it crosses, the first and the last pixel (both covered).
 */
export function paintStitches(
  points: Float64Array,
  raster: Raster,
  threadWidthMm: number,
  visit: (from: number, to: number, stitch: number) => void,
): void {
  const { pxPerMm } = raster;
  const radius = (threadWidthMm * pxPerMm) / 2;
  for (let k = 0; 2 * k + 3 < points.length; k++) {
    const x0 = points[2 * k] * pxPerMm;
    const y0 = points[2 * k + 1] * pxPerMm;
    const x1 = points[2 * k + 2] * pxPerMm;
    const y1 = points[2 * k + 3] * pxPerMm;
    paintStitch(raster, x0, y0, x1, y1, radius, k, visit);
  }
}

/** A begun pixel counts, unless rounding alone began it. */
const pixelsIn = (length: number): number => Math.ceil(length - 1e-6);

/** Visits one capsule, row by row. All measures in pixels. */
function paintStitch(
  { width, height }: Raster,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  radius: number,
  stitch: number,
  visit: (from: number, to: number, stitch: number) => void,
): void {
  const firstRow = Math.max(0, Math.ceil(Math.min(y0, y1) - radius - 0.5));
  const lastRow = Math.min(height - 1, Math.floor(Math.max(y0, y1) + radius - 0.5));
  const dx = x1 - x0;
  const dy = y1 - y0;
  const length = norm(dx, dy);

  for (let row = firstRow; row <= lastRow; row++) {
    const y = row + 0.5;
    let left = Number.POSITIVE_INFINITY;
    let right = Number.NEGATIVE_INFINITY;

    const half0 = radius * radius - (y - y0) * (y - y0);
    if (half0 >= 0) {
      const half = Math.sqrt(half0);
      left = x0 - half;
      right = x0 + half;
    }
    const half1 = radius * radius - (y - y1) * (y - y1);
    if (half1 >= 0) {
      const half = Math.sqrt(half1);
      left = Math.min(left, x1 - half);
      right = Math.max(right, x1 + half);
    }
    if (length > 0) {
      // The straight part: 0 ≤ (p − p0) · d ≤ |d|², and |(p − p0) × d| ≤ radius · |d|. On a row both
      // conditions bound x; a coefficient of 0 leaves x free where the condition holds at all.
      const h = y - y0;
      let from = Number.NEGATIVE_INFINITY;
      let to = Number.POSITIVE_INFINITY;
      if (dx !== 0) {
        const a = (-h * dy) / dx;
        const b = (length * length - h * dy) / dx;
        from = Math.min(a, b);
        to = Math.max(a, b);
      } else if (h * dy < 0 || h * dy > length * length) {
        to = Number.NEGATIVE_INFINITY;
      }
      if (dy !== 0) {
        const a = (h * dx - radius * length) / dy;
        const b = (h * dx + radius * length) / dy;
        from = Math.max(from, Math.min(a, b));
        to = Math.min(to, Math.max(a, b));
      } else if (Math.abs(h) > radius) {
        to = Number.NEGATIVE_INFINITY;
      }
      if (from <= to) {
        left = Math.min(left, x0 + from);
        right = Math.max(right, x0 + to);
      }
    }

    const from = Math.max(0, Math.ceil(left - 0.5));
    const to = Math.min(width - 1, Math.floor(right - 0.5));
    if (from <= to) visit(row * width + from, row * width + to, stitch);
  }
}

export interface Visible {
  /** Length of the thread that was looked at, as far as it lies on the raster. */
  readonly lengthMm: number;
  /** How much of it lies on top of everything else. */
  readonly visibleMm: number;
}

/**
 * How much of the thread of one step shows, sampled along its centre line every 0.1 mm. A sample shows
 * where the stitch that it belongs to, or a neighbour that meets it at a needle point, lies on top; under a
 * further stitch of its own step it is hidden like under any other. Samples off the raster are not counted.
 */
export function visibleThread(sewOut: SewOut, step: SewnStep, index: number): Visible {
  const { width, height, pxPerMm, top, topStitch } = sewOut;
  const { points } = step;
  let lengthMm = 0;
  let visibleMm = 0;
  for (let k = 0; 2 * k + 3 < points.length; k++) {
    const x0 = points[2 * k];
    const y0 = points[2 * k + 1];
    const dx = points[2 * k + 2] - x0;
    const dy = points[2 * k + 3] - y0;
    const length = norm(dx, dy);
    const samples = Math.max(1, Math.round(length / SAMPLE_MM));
    for (let s = 0; s < samples; s++) {
      const t = (s + 0.5) / samples;
      const x = Math.floor((x0 + t * dx) * pxPerMm);
      const y = Math.floor((y0 + t * dy) * pxPerMm);
      if (x < 0 || y < 0 || x >= width || y >= height) continue;
      const pixel = y * width + x;
      lengthMm += length / samples;
      if (top[pixel] === index && Math.abs(topStitch[pixel] - k) <= 1) visibleMm += length / samples;
    }
  }
  return { lengthMm, visibleMm };
}

/**
 * The share, 0 to 1, of the length of all thread in these roles that shows on the finished piece; 0 where
 * there is none. With `connector` and `travel` it says how well a plan is tucked.
 */
export function visibleShare(
  sewOut: SewOut,
  sewing: readonly SewingStep[],
  roles: readonly SewnRole[] = ["connector", "travel"],
): number {
  let lengthMm = 0;
  let visibleMm = 0;
  sewing.forEach((step, index) => {
    if (!isSewn(step) || !roles.includes(step.role)) return;
    const seen = visibleThread(sewOut, step, index);
    lengthMm += seen.lengthMm;
    visibleMm += seen.visibleMm;
  });
  return lengthMm === 0 ? 0 : visibleMm / lengthMm;
}
