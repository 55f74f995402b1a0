/** The picture of the sew-out as files: SVG as core draws it, or PNG by a rasteriser; one, or a sequence of them. */
import type { Argv } from "yargs";
import { type Drawable, fabricHex, pictureSvg } from "../core/output/picture.ts";
import { countStitches } from "../core/plan/metrics.ts";
import { optionIn, type Values } from "./command.ts";
import { CliError } from "./io.ts";
import { pngOf } from "./png.ts";

/** A stitch of 0.4 mm is four pixels wide: its lit side can be told from its shaded one. */
const PRESET_DPI = 254;

/** A large banner's picture is made coarser rather than a gigabyte of pixels, unless a fineness is asked for. */
const PRESET_MAX_PX = 4000;

/** Of one picture: some 200 MB while it is drawn. */
const MAX_PIXELS = 50_000_000;

const MAX_FRAMES = 1000;
const MM_PER_INCH = 25.4;

export interface PictureRequest {
  /** One name a picture: of all frames in their order where a sequence is asked for. */
  readonly names: readonly string[];
  readonly dpi: number | undefined;
  readonly fabricColour: string | undefined;
  readonly until: number | undefined;
}

export const pictureOptions = (yargs: Argv): Argv =>
  yargs
    .option("picture", {
      type: "string",
      requiresArg: true,
      describe: "draw how it will look when sewn, as .png or .svg",
    })
    .option("dpi", {
      type: "string",
      requiresArg: true,
      describe: `dots to the inch of a .png picture; without it ${PRESET_DPI}`,
    })
    .option("until", {
      type: "string",
      requiresArg: true,
      describe: "draw the picture after so many stitches",
    })
    .option("frames", {
      type: "string",
      requiresArg: true,
      describe: "draw so many pictures, from the first stitches to all of them",
    })
    .option("fabric", {
      type: "string",
      requiresArg: true,
      describe: "the fabric's colour in pictures, as in CSS: #14202b, navy",
    });

/**
 * The pictures that are asked for; none where there is no `--picture`.
 *
 * @throws CliError where an option makes no sense, by itself or beside the others
 */
export function pictureRequest(values: Values): PictureRequest {
  const name = optionIn(values, "picture");
  const dpi = numberIn(values, "dpi", 10, 4800);
  const until = numberIn(values, "until", 1, 100_000_000, "whole");
  const frames = numberIn(values, "frames", 1, MAX_FRAMES, "whole");
  const fabricColour = fabricIn(values);
  if (name === undefined) {
    const idle = Object.entries({ dpi, until, frames }).find(([, value]) => value !== undefined);
    if (idle)
      throw new CliError(
        `tuckline: --${idle[0]} is about the picture; name one with --picture, or leave it out`,
      );
    return { names: [], dpi, fabricColour, until };
  }
  if (!isPng(name) && !/\.svg$/i.test(name))
    throw new CliError(`${name}: a picture is .png or .svg; give its name one of these endings`);
  if (dpi !== undefined && !isPng(name))
    throw new CliError(`tuckline: --dpi is for .png; ${name} has its true size by itself`);
  return { names: frames === undefined ? [name] : frameNames(name, frames), dpi, fabricColour, until };
}

/** @throws CliError where the fabric's colour is none */
export function fabricIn(values: Values): string | undefined {
  const given = optionIn(values, "fabric");
  if (given === undefined) return undefined;
  const hex = fabricHex(given);
  if (hex === undefined)
    throw new CliError(`tuckline: --fabric is "${given}"; give a colour of CSS, as in #14202b or navy`);
  return hex;
}

/** `crest.png` → `crest-01.png` to `crest-12.png`: they sort as they follow one another. */
function frameNames(name: string, frames: number): string[] {
  const dot = name.lastIndexOf(".");
  const digits = String(frames).length;
  return Array.from(
    { length: frames },
    (_, k) => `${name.slice(0, dot)}-${String(k + 1).padStart(digits, "0")}${name.slice(dot)}`,
  );
}

function numberIn(
  values: Values,
  name: string,
  min: number,
  max: number,
  kind: "whole" | "any" = "any",
): number | undefined {
  const typed = optionIn(values, name);
  if (typed === undefined) return undefined;
  const value = /^\d+(\.\d+)?$/.test(typed) ? Number(typed) : Number.NaN;
  if (value >= min && value <= max && (kind === "any" || Number.isInteger(value))) return value;
  const what = kind === "whole" ? "a whole number" : "a number";
  throw new CliError(`tuckline: --${name} is "${typed}"; give ${what} from ${min} to ${max}`);
}

const isPng = (name: string): boolean => /\.png$/i.test(name);

/**
 * The bytes of each picture, in the kind that its name says. Frames are even in stitches; the last one is the
 * whole, or what `--until` left of it.
 *
 * @throws CliError where a picture would have too many pixels
 */
export async function pictureBytes(design: Drawable, request: PictureRequest): Promise<Uint8Array[]> {
  const { names, fabricColour } = request;
  const stitches = Math.min(request.until ?? Number.POSITIVE_INFINITY, countStitches(design.sewing));
  const pictures: Uint8Array[] = [];
  for (const [k, name] of names.entries()) {
    const until = Math.round((stitches * (k + 1)) / names.length);
    const svg = pictureSvg(design, { until, ...(fabricColour === undefined ? {} : { fabricColour }) });
    pictures.push(
      isPng(name)
        ? await pngOf(svg, design.size.widthMm, finenessOf(design, request))
        : Buffer.from(svg, "utf8"),
    );
  }
  return pictures;
}

function finenessOf({ size }: Drawable, { dpi }: PictureRequest): number {
  const longestInches = Math.max(size.widthMm, size.heightMm) / MM_PER_INCH;
  if (dpi === undefined) return Math.min(PRESET_DPI, PRESET_MAX_PX / longestInches);
  const squareInches = (size.widthMm / MM_PER_INCH) * (size.heightMm / MM_PER_INCH);
  if (dpi * dpi * squareInches <= MAX_PIXELS) return dpi;
  const most = Math.floor(Math.sqrt(MAX_PIXELS / squareInches));
  throw new CliError(`tuckline: --dpi ${dpi} makes more pixels than can be drawn; give at most ${most}`);
}
