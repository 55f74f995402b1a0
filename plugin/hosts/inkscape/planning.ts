/** The open drawing as all entries see it: its name, what it draws, and its plan, with the settings that it carries. */
import { readArtwork } from "../../../core/artwork/read.ts";
import type { Artwork } from "../../../core/artwork/types.ts";
import { parseXml } from "../../../core/artwork/xml.ts";
import { writeLayers } from "../../../core/layers/write.ts";
import { makePlan } from "../../../core/plan/make-plan.ts";
import type { Plan } from "../../../core/plan/types.ts";
import { settingsIn } from "./settings.ts";

/** What the editor calls the drawing: the name of its file. */
export const nameOf = (svg: string): string => parseXml(svg).attributes["sodipodi:docname"] || "drawing.svg";

export const artworkOf = (svg: string): Artwork => readArtwork(svg, nameOf(svg), settingsIn(svg));

export const planOf = (svg: string): Plan => makePlan(svg, nameOf(svg), settingsIn(svg));

/** The drawing with its layers made anew, where it has any; else as it is. */
export const planAgain = (svg: string): string =>
  svg.includes('data-tuck-role="points"') ? writeLayers(svg, planOf(svg)) : svg;
