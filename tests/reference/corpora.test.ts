/**
 * Whole plans of drawings that nobody here drew, from six open sets of very different styles (`support/drawing-sets.ts`
 * names their packages and licences): 40 of each, 50 mm wide. The needle path is whole, what is tucked is covered by
 * the judgement of jsts (a port of the JTS Topology Suite), and what is read lies where @resvg/resvg-js draws.
 *
 * Flags with coats of arms take long and are left to `npm run corpus -- --set flags`.
 */
import { describe, expect, test } from "vitest";
import { readArtwork } from "../../core/artwork/read.ts";
import { NO_MARKS } from "../../core/artwork/types.ts";
import { regionArea, union } from "../../core/geometry/region.ts";
import { createMemory } from "../../core/memory.ts";
import { planArtwork, sequenceOf } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { drawingNames, readDrawing } from "../support/drawing-sets.ts";
import { strayTuckedMm } from "../support/jsts-cover.ts";
import { needlePathFaults } from "../support/plan-checks.ts";
import { svgToPixels } from "../support/png.ts";

const FROM_EACH = 40;
const LONGEST_TEXT = 12_000;
const settings = { ...DEFAULT_SETTINGS, widthMm: 50 };

/** Drawings spread evenly over those of a set that are not too long. */
function sample(set: string) {
  const drawings = drawingNames(set)
    .filter((_, k, { length }) => length < 1000 || k % 4 === 0)
    .map((name) => readDrawing(set, name))
    .filter(({ text }) => text.length <= LONGEST_TEXT);
  return Array.from(
    { length: FROM_EACH },
    (_, k) => drawings[Math.floor(((k + 0.5) * drawings.length) / FROM_EACH)],
  );
}

describe.each(["flags", "rounds", "lines", "gradients", "shaded", "weather"])(
  "40 drawings of the set %s",
  (set) => {
    const plans = sample(set).map(({ name, text }) => {
      const memory = createMemory();
      const artwork = readArtwork(text, name, settings);
      const plan = planArtwork(artwork, NO_MARKS, settings, [], memory);
      const { sequence } = sequenceOf(artwork, settings, NO_MARKS, memory);
      return { name, text, artwork, plan, sequence };
    });
    const named = (faulty: (one: (typeof plans)[number]) => boolean) =>
      plans.filter(faulty).map(({ name }) => name);

    test("all are planned, and each needle path is whole", () => {
      expect(named(({ plan }) => plan.metrics.stitches === 0)).toEqual([]);
      expect(
        plans.flatMap(({ name, plan }) => needlePathFaults(plan).map((fault) => `${name}: ${fault}`)),
      ).toEqual([]);
    });

    test("every tucked connector lies under later pieces, by a second polygon library", () => {
      expect(named(({ plan, sequence }) => strayTuckedMm(plan, sequence.pieces) > 0)).toEqual([]);
    });

    test("none needs more strands than its lower bound", () => {
      expect(named(({ plan: { metrics } }) => metrics.strands !== metrics.strandsLowerBound)).toEqual([]);
    });

    test("what is read covers what a rasteriser draws, to 2 % and the width of an edge", () => {
      expect(
        named(({ text, artwork }) => {
          const readMm2 = regionArea(union(artwork.pieces.map(({ region }) => region)));
          const drawn = drawnMm2(text, settings.widthMm);
          return Math.abs(readMm2 - drawn) > Math.max(3, drawn * 0.02);
        }),
      ).toEqual([]);
    });
  },
);

/** How much of the page is drawn: at half strength or more, or evenly at a quarter at least. */
function drawnMm2(text: string, widthMm: number): number {
  const { rgba, width } = svgToPixels(text, 1000);
  const alphaAt = (pixel: number) => rgba[4 * pixel + 3] ?? 0;
  let pixels = 0;
  for (let pixel = 0; pixel < rgba.length / 4; pixel++) {
    const alpha = alphaAt(pixel);
    const isEven = alpha >= 64 && [1, -1, width, -width].every((step) => alphaAt(pixel + step) === alpha);
    if (alpha >= 128 || isEven) pixels++;
  }
  return pixels * (widthMm / width) ** 2;
}
