/**
 * What is too much is refused before it is stitched, in one line that says what to do; what is large but possible
 * is planned. Sizes and spacings that are refused: the project's own limits (`core/artwork/limits.ts`).
 */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { requireStitches } from "../../core/artwork/limits.ts";
import { ArtworkError } from "../../core/errors.ts";
import { makePlan, readDrawing, sequenceOf } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { expectedStitches } from "../../core/techniques/expected-stitches.ts";
import { svg } from "../support/read.ts";
import { sampleFiles } from "../support/sample.ts";

const WATER = '<path id="water" d="M0 0h100v100h-100z" fill="#2f6f8f"/>';

function refusal(content: string, settings: Partial<Settings>): string {
  try {
    makePlan(svg(content), "drawing.svg", { ...DEFAULT_SETTINGS, ...settings });
  } catch (error) {
    if (error instanceof ArtworkError) return error.message;
    throw error;
  }
  return "it was planned";
}

describe("too many stitches are refused before any is made", () => {
  test.each<[string, string, Partial<Settings>]>([
    ["two metres of water in rows 0.2 mm apart", WATER, { widthMm: 2000, fillSpacingMm: 0.2 }],
    [
      "the same set on the element",
      WATER.replace("<path", '<path data-tuck-spacing="0.2"'),
      { widthMm: 1500 },
    ],
    ["a sheet of four banners", WATER, { widthMm: 800, sheetOf: "2x2", fillSpacingMm: 0.3 }],
  ])("%s", (_, content, settings) => {
    const line = refusal(content, settings);
    expect(line).toMatch(
      /^The design would take some \d+\.\d million stitches, and 2 million is the most: sew it smaller, or raise/,
    );
    expect(line).not.toContain("\n");
  });

  test("a sheet that no hoop holds", () => {
    expect(refusal(WATER, { sheetOf: "50x1" })).toMatch(/would be 5\.5 by 0\.1 m, and 4 m is the most/);
  });

  test("the limit itself is allowed", () => {
    expect(() => requireStitches(2_000_000)).not.toThrow();
    expect(() => requireStitches(2_000_001)).toThrow(/some 2\.0 million stitches/);
  });
});

describe("what is expected is what is sewn", () => {
  const drawings = [
    ...["heron-crest", "forty-scales", "every-feature"].map((name) => ({
      name,
      text: readFileSync(`fixtures/${name}.svg`, "utf8"),
    })),
    ...sampleFiles().filter((_, k) => k % 8 === 0),
  ];
  const counts = [80, 200].flatMap((widthMm) =>
    drawings.map(({ name, text }) => {
      const settings = { ...DEFAULT_SETTINGS, widthMm };
      const { artwork, marks } = readDrawing(text, name, settings);
      const { sequence } = sequenceOf(artwork, settings, marks);
      const sewn = makePlan(text, name, settings).metrics.stitches;
      return { name, sewn, expected: expectedStitches(sequence.pieces, settings) };
    }),
  );

  test("over a set of drawings to a tenth", () => {
    const sum = (key: "sewn" | "expected") => counts.reduce((all, count) => all + count[key], 0);
    expect(sum("expected") / sum("sewn")).toBeGreaterThan(0.9);
    expect(sum("expected") / sum("sewn")).toBeLessThan(1.1);
  });

  test("of every drawing of more than 5,000 stitches to a third", () => {
    const large = counts.filter(({ sewn }) => sewn > 5000);
    expect(large.length).toBeGreaterThan(10);
    expect(large.filter(({ sewn, expected }) => expected < sewn / 1.5 || expected > sewn * 1.5)).toEqual([]);
  });
});

test("a metre of water is sewn: more needle points in one part than a call takes arguments", () => {
  const settings = { ...DEFAULT_SETTINGS, widthMm: 1000, fillSpacingMm: 8, fillLengthMm: 12 };
  expect(makePlan(svg(WATER), "drawing.svg", settings).metrics.stitches).toBeGreaterThan(150_000);
});

test("where nothing may hop, pieces that meet still follow each other without a trim", () => {
  const blades = '<path d="M5 5h9v9h-9z"/><path d="M10 10h9v9h-9z"/><path d="M19.5 10h9v9h-9z"/>';
  const { metrics } = makePlan(svg(blades), "drawing.svg", { ...DEFAULT_SETTINGS, jumpThresholdMm: 0 });
  expect(metrics).toMatchObject({ strands: 2, strandsLowerBound: 2, hops: 0 });
});
