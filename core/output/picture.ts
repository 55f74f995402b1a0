/**
 * The picture: the finished embroidery as lit thread, drawn in SVG at true size. A stitch is a strip of dark
 * thread with a narrower strip of light upon it, which stops short of the needle holes.
 *
 * How light falls on it stands in `lit-thread.ts`. Shades are few, so that the stitches of one step and one
 * shade form one path.
 */

import { formatHex } from "culori";
import { norm } from "../geometry/point.ts";
import { LYING_THREAD_WIDTH_MM } from "../plan/sew-out.ts";
import { isSewn } from "../plan/steps.ts";
import type { Plan, PlannedPiece, SewnStep } from "../plan/types.ts";
import { sewingUntil } from "../plan/until.ts";
import {
  DIVE_MM,
  edgeColour,
  LIT_WIDTH_MM,
  lighten,
  litColour,
  litShiftMm,
  SHADES,
  shadeOf,
} from "./lit-thread.ts";

/** What a picture is drawn from: a plan, or as much of one as a machine file tells. */
export interface Drawable extends Pick<Plan, "size" | "sewing"> {
  readonly pieces: readonly Pick<PlannedPiece, "id" | "colour">[];
}

/** What a picture of the sew-out shows, and on what. */
export interface PictureOptions {
  /** Any CSS colour; default, and in place of what is none, a natural linen. */
  readonly fabricColour?: string;
  /** `false` leaves out connectors, travel and underlay: smaller, and what it should look like at its best. Default `true`. */
  readonly showTravel?: boolean;
  /** Stops after so many stitches, as if the machine had been stopped there. */
  readonly until?: number;
}

/** The fabric's colour as `#rrggbb`; undefined for what is no CSS colour. */
export const fabricHex = (colour: string): string | undefined => formatHex(colour);

const LINEN = "#e9e3d6";
/** Coordinates are written in hundredths of a millimetre: a fortieth of the thread's width. */
export const PER_MM = 100;

/** The design as it will look when sewn, as a whole SVG document. */
export function pictureSvg(design: Drawable, options: PictureOptions = {}): string {
  const widthMm = Math.round(design.size.widthMm * PER_MM) / PER_MM;
  const heightMm = Math.round(design.size.heightMm * PER_MM) / PER_MM;
  const box = [0, 0, Math.round(widthMm * PER_MM), Math.round(heightMm * PER_MM)] as const;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${widthMm}mm" height="${heightMm}mm" viewBox="${box.join(" ")}">`,
    ...pictureContent(design, box, options),
    "</svg>",
    "",
  ].join("\n");
}

/**
 * What is in the picture, a line each, to be put into an SVG element whose user unit is 0.01 mm.
 *
 * @param box of the fabric that is shown: x, y, width, height in 0.01 mm
 */
export function pictureContent(
  design: Drawable,
  box: readonly [x: number, y: number, width: number, height: number],
  { fabricColour, showTravel = true, until = Number.POSITIVE_INFINITY }: PictureOptions = {},
): string[] {
  const fabric = fabricHex(fabricColour ?? LINEN) ?? LINEN;
  const [x, y, width, height] = box;
  const colours = blockColours(design);
  const sewing = sewingUntil(design.sewing, until);
  const steps = sewing.filter(isSewn).filter((step) => showTravel || isOnShow(step));
  return [
    weave(fabric),
    `<rect x="${x}" y="${y}" width="${width}" height="${height}" fill="url(#weave)"/>`,
    `<g fill="none" stroke-linecap="round" stroke-linejoin="round" stroke-width="${LIT_WIDTH_MM * PER_MM}">`,
    ...steps.map((step) => drawStep(step, colours.get(step.block) ?? "#000000")),
    "</g>",
  ];
}

/** The design with bare fabric around it, so that no thread is cut off where stitches reach the edge. */
export function framed(design: Drawable, marginMm: number): Drawable {
  const { size, pieces } = design;
  return {
    size: { widthMm: size.widthMm + 2 * marginMm, heightMm: size.heightMm + 2 * marginMm },
    pieces,
    sewing: design.sewing.map((step) =>
      "points" in step ? { ...step, points: step.points.map((value) => value + marginMm) } : step,
    ),
  };
}

const isOnShow = ({ role }: SewnStep): boolean => role === "cover" || role === "tie-in" || role === "tie-off";

function blockColours(design: Drawable): Map<number, string> {
  const ofPiece = new Map(design.pieces.map(({ id, colour }) => [id, colour]));
  const ofBlock = new Map<number, string>();
  for (const step of design.sewing) {
    if (!isSewn(step) || step.piece === undefined) continue;
    const colour = ofPiece.get(step.piece);
    if (colour !== undefined) ofBlock.set(step.block, colour);
  }
  return ofBlock;
}

/** The dark strip of every stitch of a step, then the light upon them, a path for each shade. */
function drawStep({ points }: SewnStep, colour: string): string {
  const lit: string[] = new Array(SHADES).fill("");
  for (let k = 0; k + 3 < points.length; k += 2) {
    const [x0, y0, x1, y1] = points.subarray(k, k + 4);
    const length = norm(x1 - x0, y1 - y0);
    if (length <= 2 * DIVE_MM) continue;
    const ux = (x1 - x0) / length;
    const uy = (y1 - y0) / length;
    const shift = litShiftMm(ux, uy);
    const [sideX, sideY] = [uy * shift, -ux * shift];
    lit[shadeOf(ux, uy)] += polylinePath([
      x0 + ux * DIVE_MM + sideX,
      y0 + uy * DIVE_MM + sideY,
      x1 - ux * DIVE_MM + sideX,
      y1 - uy * DIVE_MM + sideY,
    ]);
  }
  const paths = lit
    .map((d, shade) => ({ d, shade }))
    .filter(({ d }) => d !== "")
    .map(({ d, shade }) => `<path stroke="${litColour(colour, shade)}" d="${d}"/>`);
  return `<path stroke="${edgeColour(colour)}" stroke-width="${LYING_THREAD_WIDTH_MM * PER_MM}" d="${polylinePath(points)}"/>${paths.join("")}`;
}

/** Path data through flat millimetre coordinates, each point relative to the one before: shorter to write. */
function polylinePath(points: ArrayLike<number>): string {
  let x = 0;
  let y = 0;
  let d = "";
  for (let k = 0; k + 1 < points.length; k += 2) {
    const nextX = Math.round(points[k] * PER_MM);
    const nextY = Math.round(points[k + 1] * PER_MM);
    const command = k === 0 ? "M" : k === 2 ? "l" : " ";
    d += `${command}${nextX - x} ${nextY - y}`;
    x = nextX;
    y = nextY;
  }
  return d;
}

/** A plain weave: one thread over, one thread under, barely to be seen. */
function weave(colour: string): string {
  const [light, dark] = [lighten(colour, 0.012), lighten(colour, -0.018)];
  return [
    '<defs><pattern id="weave" width="60" height="60" patternUnits="userSpaceOnUse">',
    `<rect width="60" height="60" fill="${colour}"/>`,
    `<path fill="${light}" d="M0 4h30v22h-30zM30 34h30v22h-30z"/>`,
    `<path fill="${dark}" d="M34 0h22v30h-22zM4 30h22v30h-22z"/>`,
    "</pattern></defs>",
  ].join("");
}
