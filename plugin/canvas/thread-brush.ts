/**
 * Brushes that paint stitches on a sheet of pixels: thread as light falls on it, and needle lines. Both cover a
 * pixel by as much as its centre lies inside the edge, from half a pixel within to half a pixel beyond, which
 * leaves edges smooth at any zoom.
 */
import {
  DIVE_MM,
  edgeColour,
  LIT_WIDTH_MM,
  litColour,
  litShiftMm,
  SHADES,
  shadeOf,
} from "../../core/output/lit-thread.ts";
import { LYING_THREAD_WIDTH_MM } from "../../core/plan/sew-out.ts";
import type { PixelSheet } from "./pixel-sheet.ts";
import { Swath } from "./swath.ts";

/** Paints one stitch from (x0, y0) to (x1, y1), in pixels of the sheet. */
export type Brush = (sheet: PixelSheet, x0: number, y0: number, x1: number, y1: number) => void;

type Rgb = readonly [red: number, green: number, blue: number];

/** Channels of `#rrggbb`, 0 to 255. */
export const channels = (colour: string): Rgb => {
  const value = Number.parseInt(colour.slice(1), 16);
  return [value >> 16, (value >> 8) & 255, value & 255];
};

/** Of what is narrower than a pixel, less is seen than of what is wider. */
const thinness = (radiusPx: number): number => Math.min(1, 2 * radiusPx);

const clamp01 = (value: number): number => (value < 0 ? 0 : Math.min(value, 1));

/** Thread of a colour (`#rrggbb`) as it lies in the light, seen at so many pixels a millimetre. */
export function threadBrush(colour: string, pxPerMm: number): Brush {
  const swath = new Swath();
  const edge = channels(edgeColour(colour));
  const shades = Array.from({ length: SHADES }, (_, shade) => channels(litColour(colour, shade)));
  const radius = (LYING_THREAD_WIDTH_MM / 2) * pxPerMm;
  const litRadius = (LIT_WIDTH_MM / 2) * pxPerMm;
  const dive = DIVE_MM * pxPerMm;
  const most = thinness(radius);

  return (sheet, x0, y0, x1, y1) => {
    if (!swath.lay(x0, y0, x1, y1, radius + 0.5, sheet.width, sheet.height)) return;
    const { ux, uy, length } = swath;
    const [red, green, blue] = edge;
    const lit = shades[shadeOf(ux, uy)];
    const litAt = -litShiftMm(ux, uy) * pxPerMm;
    for (let y = swath.firstRow; y <= swath.lastRow; y++) {
      if (!swath.row(y)) continue;
      let { along, across } = swath;
      let index = 4 * (y * sheet.width + swath.from);
      for (let x = swath.from; x <= swath.to; x++) {
        const covered = radius + 0.5 - swath.distance(along, across);
        if (covered > 0) {
          const beside = litRadius + 0.5 - Math.abs(across - litAt);
          const within = Math.min(along, length - along) - dive + 0.5;
          const share = clamp01(Math.min(beside, within));
          sheet.blend(
            index,
            red + (lit[0] - red) * share,
            green + (lit[1] - green) * share,
            blue + (lit[2] - blue) * share,
            covered >= 1 ? most : covered * most,
          );
        }
        along += ux;
        across -= uy;
        index += 4;
      }
    }
    swath.touch(sheet);
  };
}

/** A plain line of a colour and width, with round ends; a dot where both points are one. */
export function lineBrush(colour: string, widthPx: number, opacity = 1): Brush {
  const swath = new Swath();
  const [red, green, blue] = channels(colour);
  const radius = widthPx / 2;
  const most = thinness(radius) * opacity;
  return (sheet, x0, y0, x1, y1) => {
    if (!swath.lay(x0, y0, x1, y1, radius + 0.5, sheet.width, sheet.height)) return;
    for (let y = swath.firstRow; y <= swath.lastRow; y++) {
      if (!swath.row(y)) continue;
      let { along, across } = swath;
      let index = 4 * (y * sheet.width + swath.from);
      for (let x = swath.from; x <= swath.to; x++) {
        const covered = radius + 0.5 - swath.distance(along, across);
        if (covered > 0) sheet.blend(index, red, green, blue, covered >= 1 ? most : covered * most);
        along += swath.ux;
        across -= swath.uy;
        index += 4;
      }
    }
    swath.touch(sheet);
  };
}
