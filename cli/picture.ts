/** The picture of the sew-out as a file: SVG as core draws it, or PNG by a rasteriser. */
import { pictureSvg } from "../core/output/picture.ts";
import type { Plan } from "../core/plan/types.ts";
import { CliError } from "./io.ts";

/** A stitch of 0.4 mm is four pixels wide: its lit side can be told from its shaded one. */
const PNG_PX_PER_MM = 10;

/** A large banner's picture is made coarser rather than a gigabyte of pixels. */
const PNG_MAX_PX = 4000;

const isPng = (name: string): boolean => /\.png$/i.test(name);

/** @throws CliError where a picture's name does not say its kind */
export function refuseOtherPictures(name: string): void {
  if (!isPng(name) && !/\.svg$/i.test(name))
    throw new CliError(`${name}: a picture is .png or .svg; give its name one of these endings`);
}

/** The picture's bytes in the kind that its name says. */
export async function pictureBytes(plan: Plan, name: string): Promise<Uint8Array> {
  const svg = pictureSvg(plan);
  if (!isPng(name)) return Buffer.from(svg, "utf8");
  const { Resvg } = await import("@resvg/resvg-js");
  const longest = Math.max(plan.size.widthMm, plan.size.heightMm);
  const pxPerMm = Math.min(PNG_PX_PER_MM, PNG_MAX_PX / longest);
  const width = Math.max(1, Math.round(plan.size.widthMm * pxPerMm));
  const options = { fitTo: { mode: "width", value: width }, font: { loadSystemFonts: false } } as const;
  return new Resvg(svg, options).render().asPng();
}
