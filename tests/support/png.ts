/** Drawings to pictures, by @resvg/resvg-js: a rasteriser that shares nothing with the core. */
import { Resvg } from "@resvg/resvg-js";

const draw = (svg: string, pxWidth: number) =>
  new Resvg(svg, {
    fitTo: { mode: "width", value: pxWidth },
    font: { loadSystemFonts: false },
  }).render();

/** The drawing as a PNG file `pxWidth` pixels wide. */
export const svgToPng = (svg: string, pxWidth: number): Uint8Array => draw(svg, pxWidth).asPng();

export interface Pixels {
  readonly width: number;
  readonly height: number;
  /** Four bytes a pixel: red, green, blue, alpha (premultiplied). */
  readonly rgba: Uint8Array;
}

/** The drawing's pixels, `pxWidth` of them in a row. */
export function svgToPixels(svg: string, pxWidth: number): Pixels {
  const { width, height, pixels } = draw(svg, pxWidth);
  return { width, height, rgba: pixels };
}
