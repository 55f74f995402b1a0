/** Pictures as PNG: drawn by a rasteriser, and with the size at which they are to be printed. */
import { crc32 } from "node:zlib";

const MM_PER_INCH = 25.4;

/** Bytes of the signature and of the header chunk, which is always the first (PNG specification, 5.2 and 11.2.2). */
const AFTER_HEADER = 8 + 4 + 4 + 13 + 4;

/** An SVG document of a size in millimetres as a PNG of so many dots to the inch, true to size when printed. */
export async function pngOf(svg: string, widthMm: number, dpi: number): Promise<Uint8Array> {
  const { Resvg } = await import("@resvg/resvg-js");
  const width = Math.max(1, Math.round((widthMm * dpi) / MM_PER_INCH));
  const options = { fitTo: { mode: "width", value: width }, font: { loadSystemFonts: false } } as const;
  return withDensity(new Resvg(svg, options).render().asPng(), dpi);
}

/** Adds the chunk that says how large a pixel is: pHYs, in pixels to the metre (PNG specification, 11.3.5.3). */
function withDensity(png: Buffer, dpi: number): Buffer {
  const perMetre = Math.round((dpi * 1000) / MM_PER_INCH);
  const typeAndData = Buffer.alloc(4 + 9);
  typeAndData.write("pHYs", 0, "latin1");
  typeAndData.writeUInt32BE(perMetre, 4);
  typeAndData.writeUInt32BE(perMetre, 8);
  typeAndData.writeUInt8(1, 12);
  const chunk = Buffer.alloc(4 + 13 + 4);
  chunk.writeUInt32BE(9, 0);
  typeAndData.copy(chunk, 4);
  chunk.writeUInt32BE(crc32(typeAndData), 17);
  return Buffer.concat([png.subarray(0, AFTER_HEADER), chunk, png.subarray(AFTER_HEADER)]);
}
