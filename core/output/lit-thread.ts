/**
 * How light falls on sewn thread. A stitch is a strip of dark thread with a narrower strip of light upon it, which
 * stops short of the needle holes.
 *
 * Thread shines like any bundle of fibres: brightest where it lies across the light, dullest where it runs
 * along it. The diffuse term is that of J. Kajiya and T. Kay, "Rendering Fur with Three Dimensional Textures"
 * (1989; from memory): the sine of the angle between the thread and the light. The light is quiet and comes
 * from the upper left. Shades are few, so that stitches can be drawn together.
 */
import { clampRgb, formatHex, modeOklab, modeRgb, useMode } from "culori/fn";

export const SHADES = 6;

/** Of the light, along x and y (y down): from the upper left, and some 45° above the fabric. */
const LIGHT = -0.5;

/** Lightness added to a thread's own (OKLab, 0 to 1): at its edges, and on top when along and across the light. */
const EDGE = -0.11;
const DULLEST = -0.045;
const BRIGHTEST = 0.06;

export const LIT_WIDTH_MM = 0.27;
/** The lit strip lies this far from the middle, towards the light, where thread lies across it. */
const LIT_SHIFT_MM = 0.05;
/** The lit strip stops this far from a needle hole, where the thread dives. */
export const DIVE_MM = 0.14;
/** Which shade a stitch of this direction (a unit vector) has: 0 along the light, the last across it. */
export function shadeOf(ux: number, uy: number): number {
  const along = LIGHT * (ux + uy);
  const darkest = Math.sqrt(1 - 2 * LIGHT * LIGHT);
  const across = (Math.sqrt(Math.max(0, 1 - along * along)) - darkest) / (1 - darkest);
  return Math.min(SHADES - 1, Math.max(0, Math.round(across * (SHADES - 1))));
}

/**
 * How far the lit strip of a stitch of this direction lies beside its middle, towards the light: along (uy, −ux),
 * which is square to the stitch and whose product with the light says which side is lit, and how much.
 */
export const litShiftMm = (ux: number, uy: number): number => 2 * LIGHT * (uy - ux) * LIT_SHIFT_MM;

/** Of a thread's lit strip in this shade; `colour`, its own, is `#rrggbb`. */
export const litColour = (colour: string, shade: number): string => lighten(colour, litBy(shade));

/** Of a thread where no light falls. */
export const edgeColour = (colour: string): string => lighten(colour, EDGE);

const litBy = (shade: number): number => DULLEST + ((BRIGHTEST - DULLEST) * shade) / (SHADES - 1);

useMode(modeRgb);
const toOklab = useMode(modeOklab);

/** The colour with `by` added to its OKLab lightness, kept within what a screen can show. */
export function lighten(colour: string, by: number): string {
  const lab = toOklab(colour);
  if (lab === undefined) return colour;
  return formatHex(clampRgb({ ...lab, l: Math.min(1, Math.max(0, lab.l + by)) })) ?? colour;
}
