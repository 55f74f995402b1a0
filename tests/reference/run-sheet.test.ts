/**
 * The run sheet by the judgement of others: `html-validate` for its markup, Debian's Chromium for how it prints,
 * poppler for what is on the print. Drawings: the heron crest, and emoji of `@twemoji/svg` (art under CC BY 4.0).
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { HtmlValidate } from "html-validate";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { count, duration, metres } from "../../core/output/figure-text.ts";
import { sheetFigures } from "../../core/output/run-sheet/figures.ts";
import { runSheet } from "../../core/output/run-sheet/page.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import {
  type GreyPage,
  greyPage,
  missingForPrinting,
  pdfFacts,
  pdfText,
  printToPdf,
} from "../support/chromium.ts";
import { readDrawing, spreadNames } from "../support/drawing-sets.ts";
import { tinyPlan } from "../support/tiny-plan.ts";

const crest = readFileSync(new URL("../../fixtures/heron-crest.svg", import.meta.url), "utf8");
const plans = [
  { name: "heron-crest.svg", plan: makePlan(crest, "heron-crest.svg", { ...DEFAULT_SETTINGS, widthMm: 80 }) },
  ...spreadNames("emoji", 3).map((name) => ({
    name,
    plan: makePlan(readDrawing("emoji", name).text, name, { ...DEFAULT_SETTINGS, widthMm: 80 }),
  })),
  { name: "tiny plan", plan: tinyPlan() },
];

describe("html-validate, its recommended rules", () => {
  const validator = new HtmlValidate({ extends: ["html-validate:recommended"] });
  test.each(plans)("finds nothing in the sheet of $name", async ({ plan }) => {
    const { results } = await validator.validateString(runSheet(plan));
    expect(
      results.flatMap(({ messages }) =>
        messages.map(({ ruleId, message, line }) => `${line} ${ruleId}: ${message}`),
      ),
    ).toEqual([]);
  });
});

const missing = missingForPrinting();
if (missing !== undefined) process.stderr.write(`run sheets are not printed: ${missing} is not installed\n`);

describe.skipIf(missing !== undefined)("printed by Chromium", () => {
  const [{ plan }] = plans;
  let folder = "";
  let pdf = "";

  const print = (name: string, html: string): string => {
    const page = join(folder, `${name}.html`);
    writeFileSync(page, html);
    printToPdf(page, join(folder, `${name}.pdf`), folder);
    return join(folder, `${name}.pdf`);
  };

  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "tuckline-sheet-"));
    pdf = print("crest", runSheet(plan));
  }, 120_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test("it is one page of A4 (ISO 216: 210 × 297 mm)", () => {
    const { pages, widthMm, heightMm } = pdfFacts(pdf);
    expect(pages).toBe(1);
    expect(widthMm).toBeCloseTo(210, 0);
    expect(heightMm).toBeCloseTo(297, 0);
  });

  test("what is on it can be read: every block's figures, and the sums", () => {
    const lines = pdfText(pdf).split("\n");
    const figures = sheetFigures(plan);
    for (const { number, colour, stitches, needleMm, seconds } of figures.blocks) {
      const line = lines.find((row) => new RegExp(`^ *${number} +\\d+ .*${colour}`).test(row));
      expect(line, `block ${number}`).toContain(`${count(stitches)} `);
      expect(line).toContain(metres(needleMm));
      expect(line).toContain(duration(seconds));
    }
    expect(lines.some((row) => /in all/.test(row) && row.includes(count(figures.stitches)))).toBe(true);
    expect(lines.join("\n")).toContain("Wear eye protection");
  });

  test("a design larger than the page prints on one page, to scale", () => {
    const banner = { ...tinyPlan(), sewing: tinyPlan().sewing.map(tenfold) };
    expect(pdfFacts(print("banner", runSheet(banner))).pages).toBe(1);
  }, 120_000);

  test("twenty-four blocks and ten findings leave it on one page, true to scale", () => {
    const { sewing, findings, pieces } = tinyPlan();
    const [first] = sewing.filter((step) => step.role === "cover");
    const many = print(
      "many",
      runSheet({
        ...tinyPlan(),
        pieces: Array.from({ length: 24 }, (_, k) => ({ ...pieces[0], id: `feather-${k}` })),
        sewing: Array.from({ length: 24 }, (_, k) => ({
          ...first,
          block: k,
          strand: k,
          piece: `feather-${k}`,
        })),
        findings: Array.from({ length: 10 }, (_, k) => ({ ...findings[0], code: `bare-gap-${k}` })),
      }),
    );
    expect(pdfFacts(many).pages).toBe(1);
    const lengths = darkRunsMm(greyPage(many, 1, 20, join(folder, "many")));
    // The bar is 10 mm long. The feather is 8 mm wide: with 1.5 mm of fabric at each side its frame measures 11 mm,
    // and 0.15 mm more from outer edge to outer edge.
    expect(lengths.some((length) => Math.abs(length - 10) < 0.06)).toBe(true);
    expect(lengths.some((length) => Math.abs(length - 11.15) < 0.06)).toBe(true);
  }, 120_000);
});

const tenfold = <Step extends { readonly role: string; readonly points?: Float64Array }>(step: Step): Step =>
  step.points === undefined ? step : { ...step, points: step.points.map((value) => value * 10) };

/** Lengths of all unbroken dark stretches of at least 5 mm along the rows of a page, in millimetres. */
function darkRunsMm({ width, height, pxPerMm, grey }: GreyPage): number[] {
  const runs: number[] = [];
  for (let y = 0; y < height; y++)
    for (let x = 0, start = 0; x <= width; x++) {
      if (x < width && grey[y * width + x] < 128) continue;
      if (x - start >= 5 * pxPerMm) runs.push((x - start) / pxPerMm);
      start = x + 1;
    }
  return runs;
}
