/**
 * Thread painted on a raster in needle order: what lies on top at the end is what is seen.
 */

import { regionBox, ringsOf } from "../../core/geometry/region.ts";
import type { Point, Region } from "../../core/geometry/types.ts";
import type { StitchPart } from "../../core/techniques/types.ts";

export interface Raster {
  readonly minX: number;
  readonly minY: number;
  readonly width: number;
  readonly height: number;
  readonly pixelMm: number;
  readonly pixels: Uint8Array;
}

export const EMPTY = 0;
export const TRAVEL = 1;
export const COVER = 2;

export function emptyRaster(region: Region, pixelMm: number, marginMm = 1): Raster {
  const box = regionBox(region);
  const width = Math.ceil((box.maxX - box.minX + 2 * marginMm) / pixelMm);
  const height = Math.ceil((box.maxY - box.minY + 2 * marginMm) / pixelMm);
  return {
    minX: box.minX - marginMm,
    minY: box.minY - marginMm,
    width,
    height,
    pixelMm,
    pixels: new Uint8Array(width * height),
  };
}

/** Every pixel whose middle lies within half the thread's width of segment ab. */
function paintStitch(raster: Raster, a: Point, b: Point, threadMm: number, value: number): void {
  const { minX, minY, width, height, pixelMm, pixels } = raster;
  const r = threadMm / 2;
  const column = (x: number): number => Math.floor((x - minX) / pixelMm);
  const line = (y: number): number => Math.floor((y - minY) / pixelMm);
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const length2 = dx * dx + dy * dy;
  const fromLine = Math.max(0, line(Math.min(a[1], b[1]) - r));
  const toLine = Math.min(height - 1, line(Math.max(a[1], b[1]) + r));
  for (let j = fromLine; j <= toLine; j++) {
    const y = minY + (j + 0.5) * pixelMm;
    // The part of the stitch that can reach this line of pixels.
    let t0 = 0;
    let t1 = 1;
    if (Math.abs(dy) > 1e-9) {
      const u0 = (y - r - a[1]) / dy;
      const u1 = (y + r - a[1]) / dy;
      t0 = Math.max(0, Math.min(u0, u1));
      t1 = Math.min(1, Math.max(u0, u1));
      if (t0 > t1) continue;
    }
    const xs = [a[0] + t0 * dx, a[0] + t1 * dx];
    const fromColumn = Math.max(0, column(Math.min(xs[0], xs[1]) - r));
    const toColumn = Math.min(width - 1, column(Math.max(xs[0], xs[1]) + r));
    for (let i = fromColumn; i <= toColumn; i++) {
      const x = minX + (i + 0.5) * pixelMm;
      let t = length2 === 0 ? 0 : ((x - a[0]) * dx + (y - a[1]) * dy) / length2;
      t = Math.max(0, Math.min(t, 1));
      const ex = a[0] + t * dx - x;
      const ey = a[1] + t * dy - y;
      if (ex * ex + ey * ey <= r * r) pixels[j * width + i] = value;
    }
  }
}

/** Paints the parts in needle order; `roles` leaves out what is not to be painted. */
export function paintParts(
  raster: Raster,
  parts: readonly StitchPart[],
  threadMm: number,
  roles: readonly StitchPart["role"][] = ["underlay", "travel", "cover"],
): void {
  for (const { role, points } of parts) {
    if (!roles.includes(role)) continue;
    const value = role === "cover" ? COVER : TRAVEL;
    for (let i = 1; i < points.length; i++) paintStitch(raster, points[i - 1], points[i], threadMm, value);
  }
}

export interface TravelSeen {
  readonly travelMm: number;
  /** Area of travel thread left on top, as millimetres of thread of full width. */
  readonly visibleMm: number;
}

export function travelSeen(
  region: Region,
  parts: readonly StitchPart[],
  threadMm: number,
  pixelMm: number,
): TravelSeen {
  const raster = emptyRaster(region, pixelMm);
  paintParts(raster, parts, threadMm);
  let seen = 0;
  for (const pixel of raster.pixels) if (pixel === TRAVEL) seen++;
  let travelMm = 0;
  for (const { role, points } of parts)
    for (let i = 1; role === "travel" && i < points.length; i++)
      travelMm += Math.hypot(points[i][0] - points[i - 1][0], points[i][1] - points[i - 1][1]);
  return { travelMm, visibleMm: (seen * pixelMm * pixelMm) / threadMm };
}

export interface Coverage {
  /** Share of the region's area that has thread on it. */
  readonly share: number;
  /** Side of the largest square within the region that has no thread in it. */
  readonly bareMm: number;
}

/** How much of the region the `cover` parts hide. */
export function coverage(
  region: Region,
  parts: readonly StitchPart[],
  threadMm: number,
  pixelMm: number,
): Coverage {
  const thread = emptyRaster(region, pixelMm);
  paintParts(thread, parts, threadMm, ["cover"]);
  const inside = insideOf(region, thread);
  const { width, height, pixels } = thread;
  let area = 0;
  let covered = 0;
  let largest = 0;
  const square = new Int32Array(width * height);
  for (let j = 0; j < height; j++)
    for (let i = 0; i < width; i++) {
      const k = j * width + i;
      if (!inside[k]) continue;
      area++;
      if (pixels[k] !== EMPTY) covered++;
      else {
        const before = i > 0 && j > 0 ? Math.min(square[k - 1], square[k - width], square[k - width - 1]) : 0;
        square[k] = before + 1;
        largest = Math.max(largest, square[k]);
      }
    }
  return { share: area === 0 ? 1 : covered / area, bareMm: largest * pixelMm };
}

/** Which pixels' middles lie in the region: crossings counted line by line. */
function insideOf(region: Region, raster: Raster): Uint8Array {
  const { minX, minY, width, height, pixelMm } = raster;
  const inside = new Uint8Array(width * height);
  const rings = ringsOf(region);
  for (let j = 0; j < height; j++) {
    const y = minY + (j + 0.5) * pixelMm;
    const xs: number[] = [];
    for (const ring of rings)
      for (let i = 0, p = ring[ring.length - 1]; i < ring.length; p = ring[i++]) {
        const q = ring[i];
        if (p[1] > y !== q[1] > y) xs.push(p[0] + ((y - p[1]) / (q[1] - p[1])) * (q[0] - p[0]));
      }
    xs.sort((a, b) => a - b);
    for (let s = 0; s + 1 < xs.length; s += 2) {
      const from = Math.max(0, Math.ceil((xs[s] - minX) / pixelMm - 0.5));
      const to = Math.min(width - 1, Math.floor((xs[s + 1] - minX) / pixelMm - 0.5));
      for (let i = from; i <= to; i++) inside[j * width + i] = 1;
    }
  }
  return inside;
}
