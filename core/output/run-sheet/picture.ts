/**
 * The run sheet's picture: the sew-out as it lies in the hoop, with ticks at the middle of each side to lay the
 * sheet on the fabric by, a ringed cross at the first stitch, and a bar 10 mm long to measure the print by.
 */

import { isSewn } from "../../plan/steps.ts";
import type { Plan } from "../../plan/types.ts";
import { mm } from "../figure-text.ts";
import { type Html, raw, tag } from "../html.ts";
import { type NeedleBox, needleBox } from "../machine-moves.ts";
import { PER_MM, pictureContent } from "../picture.ts";
import type { WriteOptions } from "../writer.ts";

/** Fabric shown around the stitches, and paper around that for the ticks. */
const FABRIC_MM = 1.5;
const TICKS_MM = 3;
/** Below the picture, for the bar. */
const BAR_MM = 4;
const BAR_LENGTH_MM = 10;

/** Scales to fall back on, as draughtsmen use them (ISO 5455 has 1:1, 1:2, 1:5, 1:10; from memory). */
const SCALES = [1, 2, 5, 10, 20] as const;

export interface Room {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** What the picture takes on paper at true scale, ticks and bar included. */
export function pictureRoom(plan: Plan): Room {
  const box = shownBox(plan);
  return {
    widthMm: box.maxX - box.minX + 2 * TICKS_MM,
    heightMm: box.maxY - box.minY + 2 * TICKS_MM + BAR_MM,
  };
}

/** The largest scale, as 1 to so many, at which the picture has room; the smallest where it has none. */
export function scaleFor(picture: Room, room: Room): number {
  const fits = (scale: number) =>
    picture.widthMm <= room.widthMm * scale && picture.heightMm <= room.heightMm * scale;
  return SCALES.find(fits) ?? SCALES[SCALES.length - 1];
}

/** @param scale 1 is true scale, 2 is half of it */
export function sheetPicture(plan: Plan, scale: number, options: WriteOptions = {}): Html {
  const box = shownBox(plan);
  const room = pictureRoom(plan);
  const [left, top] = [box.minX - TICKS_MM, box.minY - TICKS_MM].map(units);
  const [width, height] = [room.widthMm, room.heightMm].map(units);
  const fabric = [box.minX, box.minY, box.maxX - box.minX, box.maxY - box.minY].map(units);
  const [x, y, w, h] = fabric;
  const inside = tag(
    "svg",
    { x, y, width: w, height: h, viewBox: fabric.join(" ") },
    raw(pictureContent(plan, [x, y, w, h], { ...options, showTravel: false }).join("\n")),
  );
  return tag(
    "svg",
    {
      width: `${mm2(room.widthMm / scale)}mm`,
      height: `${mm2(room.heightMm / scale)}mm`,
      viewBox: [left, top, width, height].join(" "),
      role: "img",
      "aria-label": `The design as it will look when sewn, at a scale of 1:${scale}`,
    },
    inside,
    tag("rect", { x, y, width: w, height: h, fill: "none", stroke: "#111", "stroke-width": 15 * scale }),
    raw(ticks(x, y, w, h, scale)),
    raw(startMark(plan, scale)),
    raw(bar(x, y + h + units(TICKS_MM + BAR_MM / 2), scale)),
  );
}

/** `shown at true scale`, and what the signs in it mean. */
export const pictureCaption = (scale: number): string =>
  `${scale === 1 ? "True scale" : `Scale 1:${scale}, not true scale`}: the bar is ${BAR_LENGTH_MM} mm${
    scale === 1 ? "" : " of the design"
  }. Ringed cross: first stitch. Ticks: middle of the design.`;

/** The stitches, and a little fabric around them. */
function shownBox({ sewing, size }: Plan): NeedleBox {
  const box = needleBox(sewing) ?? { minX: 0, minY: 0, maxX: size.widthMm, maxY: size.heightMm };
  return {
    minX: box.minX - FABRIC_MM,
    minY: box.minY - FABRIC_MM,
    maxX: box.maxX + FABRIC_MM,
    maxY: box.maxY + FABRIC_MM,
  };
}

const units = (valueMm: number): number => Math.round(valueMm * PER_MM);

const mm2 = (value: number): number => Math.round(value * 100) / 100;

function ticks(x: number, y: number, width: number, height: number, scale: number): string {
  const length = units(TICKS_MM - 0.5);
  const [middleX, middleY] = [x + Math.round(width / 2), y + Math.round(height / 2)];
  const d = [
    `M${middleX} ${y}v${-length}`,
    `M${middleX} ${y + height}v${length}`,
    `M${x} ${middleY}h${-length}`,
    `M${x + width} ${middleY}h${length}`,
  ].join("");
  return `<path d="${d}" fill="none" stroke="#111" stroke-width="${25 * scale}"/>`;
}

function startMark({ sewing }: Plan, scale: number): string {
  const first = sewing.find(isSewn);
  if (first === undefined) return "";
  const [x, y] = [units(first.points[0]), units(first.points[1])];
  const [radius, reach] = [130 * scale, 210 * scale];
  const d = `M${x - radius} ${y}a${radius} ${radius} 0 1 0 ${2 * radius} 0a${radius} ${radius} 0 1 0 ${-2 * radius} 0M${x - reach} ${y}h${2 * reach}M${x} ${y - reach}v${2 * reach}`;
  const line = (colour: string, width: number) =>
    `<path d="${d}" fill="none" stroke="${colour}" stroke-width="${width * scale}"/>`;
  return line("#fff", 70) + line("#111", 28);
}

/** A solid bar with a tick at each end: exact from outer edge to outer edge. */
function bar(x: number, y: number, scale: number): string {
  const [length, end] = [units(BAR_LENGTH_MM), 25 * scale];
  const thick = 50 * scale;
  const height = 180 * scale;
  const rect = (left: number, top: number, width: number, tall: number) =>
    `<rect x="${left}" y="${top}" width="${width}" height="${tall}" fill="#000"/>`;
  return [
    rect(x, y - thick / 2, length, thick),
    rect(x, y - height / 2, end, height),
    rect(x + length - end, y - height / 2, end, height),
  ].join("");
}

/** `80 × 88.9 mm`: what the needle points lie in. */
export function sewnSize(plan: Plan): string {
  const box = needleBox(plan.sewing);
  return box === undefined ? "nothing is sewn" : `${mm(box.maxX - box.minX)} × ${mm(box.maxY - box.minY)} mm`;
}
