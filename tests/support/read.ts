/** Shorthands for tests that read a drawing. */
import { readArtwork } from "../../core/artwork/read.ts";
import type { Artwork } from "../../core/artwork/types.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";

/** A drawing of 100 by 100 user units that is sewn 100 mm wide, so that one user unit is one millimetre. */
export const svg = (content: string, attributes = ""): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100" width="100mm" height="100mm" ${attributes}>${content}</svg>`;

export const read = (text: string, settings: Partial<Settings> = {}): Artwork =>
  readArtwork(text, "drawing.svg", { ...DEFAULT_SETTINGS, ...settings });

/** The artwork of `svg(content)`. */
export const readContent = (content: string, settings: Partial<Settings> = {}): Artwork =>
  read(svg(content), settings);

export const codes = ({ findings }: Artwork): string[] => findings.map(({ code }) => code);
