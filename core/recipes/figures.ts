/**
 * The figures of the recipes: one row a setting, one value a kind of fabric. Those of stable woven fabric are
 * the defaults of all settings.
 *
 * That a satin sewn without compensation comes out narrower than drawn is measured: A. Radavičienė and
 * M. Jucienė, Fibres & Textiles in Eastern Europe 20, 3(92), 2012, pp. 92–97, on bars of 2 to 7 mm. How much to
 * add is published nowhere that we know of.
 */
import type { Settings } from "../settings.ts";
import type { ByFabric } from "./fabrics.ts";
import { COMMON_PRACTICE } from "./source.ts";

export interface Figure {
  readonly values: ByFabric<number>;
  /** Why it differs from one fabric to the next. */
  readonly why: string;
  readonly source: string;
}

/** Values in the order of the fabrics. */
const figure = (
  [woven, knit, pile, sheer, felt]: readonly [number, number, number, number, number],
  why: string,
  source = COMMON_PRACTICE,
): Figure => ({ values: { "stable-woven": woven, knit, pile, sheer, felt }, why, source });

export const FIGURES = {
  fillSpacingMm: figure(
    [0.4, 0.42, 0.38, 0.48, 0.4],
    "loops push through open rows; thin and stretchy fabric puckers under dense ones",
  ),
  fillLengthMm: figure(
    [4, 3.6, 4.2, 3.6, 4],
    "short stitches hold fabric that gives, and sink between loops",
  ),
  satinSpacingMm: figure(
    [0.4, 0.4, 0.36, 0.45, 0.38],
    "as for fill; felt shows through at the turn of an edge",
  ),
  runLengthMm: figure([2.5, 2.2, 3, 2, 2.5], "as for fill; long stitches pucker thin fabric"),
  satinMinWidthMm: figure([1, 1.2, 1.6, 1, 1], "a narrow satin is lost among loops, and cuts into knits"),
  splitSatinAboveMm: figure([7, 6, 5, 6, 7], "long stitches catch on loops and draw soft fabric together"),
  pullMm: figure(
    [0.2, 0.35, 0.4, 0.25, 0.15],
    "the more the fabric gives, the more the stitches draw it in",
    "that satin comes out too narrow: Radavičienė and Jucienė 2012; how much: common practice, no source",
  ),
  pushMm: figure([0.1, 0.2, 0.2, 0.1, 0.05], "stitches side by side spread soft fabric towards their ends"),
  underlapMm: figure(
    [1.5, 2, 2, 1, 1.5],
    "soft fabric opens gaps between neighbours; doubled stitches show on thin fabric",
  ),
  maxLayers: figure([3, 3, 3, 2, 3], "thin fabric does not carry three layers"),
  fabricThicknessMm: figure([0.6, 1, 3, 0.4, 1.5], "with its backing; it takes thread at every stitch"),
} as const satisfies { readonly [Name in keyof Settings]?: Figure };

export type FigureName = keyof typeof FIGURES;

export const FIGURE_NAMES = Object.keys(FIGURES) as readonly FigureName[];
