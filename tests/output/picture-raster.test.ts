/**
 * The picture against the sew-out raster: two ways from the same stitches to pixels. The picture is drawn as SVG
 * paths and rasterised by @resvg/resvg-js; the raster paints capsules by its own arithmetic.
 */
import { readFileSync } from "node:fs";
import { type Color, converter, differenceEuclidean } from "culori";
import { describe, expect, it } from "vitest";
import { pictureSvg } from "../../core/output/picture.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { paintSewOut } from "../../core/plan/sew-out.ts";
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan } from "../../core/plan/types.ts";
import { sewingUntil } from "../../core/plan/until.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { readDrawing } from "../support/drawing-sets.ts";
import { svgToPixels } from "../support/png.ts";

const PX_PER_MM = 10;
const FABRIC = "#ffffff";

const fixture = (name: string) => readFileSync(new URL(`../../fixtures/${name}`, import.meta.url), "utf8");
const planned = (name: string, text: string, widthMm: number | null): Plan =>
  makePlan(text, name, { ...DEFAULT_SETTINGS, widthMm });
const plans = [
  planned("two-colours.svg", fixture("cases/two-colours.svg"), null),
  planned("eye-in-wing.svg", fixture("cases/eye-in-wing.svg"), null),
  planned("1f6a3.svg", readDrawing("emoji", "1f6a3.svg").text, 60), // a person rowing a boat
];

/** What each pixel of the raster should look like: the colour of the thread on top, or the fabric's. */
function expectedColours({ sewing, pieces, size }: Plan): {
  width: number;
  height: number;
  colours: string[];
} {
  const { width, height, top } = paintSewOut(sewing, size, { pxPerMm: PX_PER_MM });
  const ofPiece = new Map(pieces.map(({ id, colour }) => [id, colour]));
  const ofBlock = new Map<number, string>();
  for (const step of sewing)
    if (isSewn(step) && step.piece !== undefined) ofBlock.set(step.block, ofPiece.get(step.piece) as string);
  const colourOf = (index: number): string => {
    const step = sewing[index];
    return step !== undefined && isSewn(step) ? (ofBlock.get(step.block) as string) : FABRIC;
  };
  return { width, height, colours: Array.from(top, colourOf) };
}

const oklab = converter("oklab");
/** Black for what is no colour, which would show as a disagreement. */
const labOf = (colour: string | Color): Color => oklab(colour) ?? { mode: "oklab", l: 0, a: 0, b: 0 };
const apart = differenceEuclidean("oklab");

/** The share of pixels whose colour in the picture is nearer to that of the thread on top than to any other. */
function agreement(plan: Plan, picture: string): number {
  const { width, height, colours } = expectedColours(plan);
  const pixels = svgToPixels(picture, width);
  expect([pixels.width, pixels.height]).toEqual([width, height]);
  const palette = [...new Set([...colours, FABRIC])].map((hex) => ({ hex, lab: labOf(hex) }));
  const nearest = new Map<number, string>();
  let agree = 0;
  for (const [k, colour] of colours.entries()) {
    const [r, g, b] = pixels.rgba.subarray(4 * k, 4 * k + 3);
    const key = (r << 16) | (g << 8) | b;
    let found = nearest.get(key);
    if (found === undefined) {
      const seen = labOf({ mode: "rgb", r: r / 255, g: g / 255, b: b / 255 });
      found = palette.reduce((a, c) => (apart(c.lab, seen) < apart(a.lab, seen) ? c : a)).hex;
      nearest.set(key, found);
    }
    if (found === colour) agree++;
  }
  return agree / colours.length;
}

describe("the picture and the sew-out raster", () => {
  it.each(plans.map((plan) => [plan.source.name, plan] as const))(
    "show the same thread: %s",
    (_name, plan) => {
      expect(agreement(plan, pictureSvg(plan, { fabricColour: FABRIC }))).toBeGreaterThan(0.95);
    },
  );

  it("agree after any number of stitches, and only on those", () => {
    const [plan] = plans;
    const half = Math.round(plan.metrics.stitches / 2);
    const picture = pictureSvg(plan, { fabricColour: FABRIC, until: half });
    const sewn = { ...plan, sewing: sewingUntil(plan.sewing, half) };
    expect(agreement(sewn, picture)).toBeGreaterThan(0.95);
    expect(agreement(plan, picture)).toBeLessThan(0.9);
  });
});
