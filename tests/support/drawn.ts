/** A drawing as pixels, on the very grid of a sew-out raster: what `measureLikeness` holds the thread against. */
import type { SewOut } from "../../core/plan/sew-out.ts";
import type { Drawing } from "../../core/plan/sew-out-measures.ts";
import { svgToPixels } from "./png.ts";

/**
 * Drawn by @resvg/resvg-js, which shares nothing with the core, at the raster's width. Its height may come out a
 * pixel off where the page is no whole number of pixels high: a row is then cut off, or added clear.
 */
export function drawnLike(svgText: string, { width, height }: SewOut): Drawing {
  const { rgba } = svgToPixels(svgText, width);
  const page = new Uint8Array(4 * width * height);
  page.set(rgba.subarray(0, page.length));
  return { width, height, rgba: page };
}

/** Of the set `shaded`: @resvg/resvg-js 2.6.2 ends the whole process over them, so that nothing is held against them. */
export const UNDRAWN: ReadonlySet<string> = new Set(["package.svg", "rainbow-flag.svg"]);
