import { converter } from "culori";

const toLab = converter("lab65");

/**
 * A thread this much darker than what lies on it (CIE L*, 0 to 100) shows through one layer of stitches, more
 * on pale colours than on middling ones. Common practice, no source: the figure is ours.
 */
const SHADOW_LIGHTNESS = 35;

/** CIE L* of a colour, 0 (black) to 100 (white). */
export const lightness = (colour: string): number => toLab(colour)?.l ?? 0;

export const showsThrough = (thread: string, cover: string): boolean =>
  lightness(cover) - lightness(thread) > SHADOW_LIGHTNESS;
