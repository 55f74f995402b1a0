import { type DomElement, JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { escapeHtml } from "../../core/output/html.ts";
import { sheetFigures } from "../../core/output/run-sheet/figures.ts";
import { runSheet } from "../../core/output/run-sheet/page.ts";
import { scaleFor } from "../../core/output/run-sheet/picture.ts";
import { hoopText } from "../../core/output/run-sheet/setup.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { threadUse } from "../../core/plan/thread-use.ts";
import type { Plan } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { all, one } from "../support/dom.ts";
import { tinyPlan } from "../support/tiny-plan.ts";

/** A pennant over reeds: two threads, the first of which comes back; a gap that is hopped. */
const REEDS = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
  <path id="reed-1" fill="#6f8f4a" d="M4 4h8v30h-8z"/>
  <path id="reed-2" fill="#6f8f4a" d="M13.4 4h8v30h-8z"/>
  <path id="pennant" fill="#b23a3f" d="M20 8l34 8l-34 8z"/>
  <path id="reed-3" fill="#6f8f4a" d="M44 4h8v30h-8z"/>
</svg>`;
const plan = makePlan(REEDS, "reeds.svg", DEFAULT_SETTINGS);
const withSettings = (settings: Partial<Settings>): Plan => ({
  ...plan,
  settings: { ...plan.settings, ...settings },
});

const documentOf = (of: Plan) => new JSDOM(runSheet(of)).window.document;
const cellsOf = (row: DomElement) => all(row, "th, td").map((cell) => cell.textContent);
const text = (of: Plan) => one(documentOf(of), "body").textContent.replace(/\s+/g, " ");

describe("the figures of a run sheet", () => {
  const figures = sheetFigures(plan);

  it("tell the blocks apart, a thread that comes back by its number", () => {
    expect(figures.blocks.map(({ number, threadNumber, colour }) => [number, threadNumber, colour])).toEqual([
      [1, 1, "#6f8f4a"],
      [2, 2, "#b23a3f"],
      [3, 1, "#6f8f4a"],
    ]);
    expect(figures).toMatchObject({ threads: 2, changes: 2 });
  });

  it("add up to the plan's own: stitches, hops, trims, time", () => {
    const { metrics } = plan;
    expect(metrics.hops).toBeGreaterThan(0);
    expect(figures).toMatchObject({ stitches: metrics.stitches, hops: metrics.hops, trims: metrics.trims });
    expect(figures.time.totalSeconds).toBeCloseTo(metrics.seconds, 9);
    const seconds = figures.blocks.reduce((sum, block) => sum + block.seconds, 0);
    expect(seconds).toBeCloseTo(metrics.seconds, 9);
  });

  it("take the thread that the plan's threads take together", () => {
    const needleMm = threadUse(plan).reduce((sum, use) => sum + use.needleMm, 0);
    expect(figures.thread.needleMm).toBeCloseTo(needleMm, 6);
    expect(figures.thread.bobbinMm).toBeCloseTo(needleMm, 6);
  });
});

describe("the run sheet", () => {
  it("has a row a block and the sums below", () => {
    const document = documentOf(plan);
    const rows = Array.from(document.querySelectorAll("tbody tr"), cellsOf);
    expect(rows.map((cells) => cells.slice(0, 5))).toEqual([
      ["1", "1", "", "#6f8f4a", "2"],
      ["2", "2", "", "#b23a3f", "1"],
      ["3", "1", "", "#6f8f4a", "1"],
    ]);
    const sums = cellsOf(one(document, "tfoot tr"));
    expect(sums.slice(0, 3)).toEqual([
      "in all",
      plan.metrics.stitches.toString().replace(/\B(?=\d{3}$)/, ","),
      "2",
    ]);
    const swatches = Array.from(document.querySelectorAll("tbody rect"), (rect) => rect.getAttribute("fill"));
    expect(swatches).toEqual(["#6f8f4a", "#b23a3f", "#6f8f4a"]);
  });

  it("names the threads of a list, with their codes", () => {
    const label = { name: "Reed green", code: "W-40" };
    const pieces = plan.pieces.map((piece) =>
      piece.colour === "#6f8f4a" ? { ...piece, thread: label } : piece,
    );
    const rows = Array.from(documentOf({ ...plan, pieces }).querySelectorAll("tbody tr"), cellsOf);
    expect(rows.map((cells) => cells.slice(4, 6))).toEqual([
      ["Reed green", "W-40"],
      ["", ""],
      ["Reed green", "W-40"],
    ]);
  });

  it("draws the design at true scale, and a bar of 10 mm", () => {
    const svg = one(documentOf(plan), "figure > svg");
    const [, , width] = (svg.getAttribute("viewBox") ?? "").split(" ").map(Number);
    // The user unit is 0.01 mm.
    expect(Number.parseFloat(svg.getAttribute("width") ?? "")).toBeCloseTo(width / 100, 2);
    expect(Array.from(svg.querySelectorAll("rect"), (rect) => rect.getAttribute("width"))).toContain("1000");
  });

  it("says how long it takes, and what of it is slow", () => {
    const shown = text(plan);
    expect(shown).toContain("stitches at 800 a minute");
    expect(shown).toMatch(/slowing down for 1 hop/);
    expect(shown).toContain("2 changes of thread30 s");
  });

  it.each([
    [{}, /^sewing field of at least \d+(\.\d)? × \d+(\.\d)? mm$/],
    [
      { hoopWidthMm: 100, hoopHeightMm: 100 },
      /^sewing field 100 × 100 mm; 2\d(\.\d)? mm to spare left and right/,
    ],
    [
      { hoopWidthMm: 40, hoopHeightMm: 100 },
      /the design is 9(\.\d)? mm too wide for it\. Turned by a quarter it fits$/,
    ],
    [
      { hoopWidthMm: 40, hoopHeightMm: 20 },
      /mm too wide and 1\d(\.\d)? mm too high for it\. Take a larger hoop$/,
    ],
  ])("looks whether the hoop is large enough: %j", (settings, expected) => {
    expect(hoopText(withSettings(settings))).toMatch(expected);
  });

  it("says where it starts", () => {
    expect(text(plan)).toMatch(
      /needle on the middle of the design; the first stitch lies [\d.]+ mm left and/,
    );
    expect(text(withSettings({ origin: "start" }))).toContain("with the needle on the ringed cross");
  });

  it("advises needle, backing and topping as the recipe does", () => {
    const shown = text(withSettings({ recipe: "pile" }));
    for (const part of ["towelling", "sharp point, 80/12", "water-soluble film"])
      expect(shown).toContain(part);
  });

  it("asks for care", () => {
    const shown = text(plan);
    for (const part of [
      "Sew a sample first",
      "clear of the moving needle",
      "the hoop clears",
      "eye protection",
      "the machine's manual has the last word",
    ])
      expect(shown).toContain(part);
  });

  it("tells the findings, the gravest first, one of each kind", () => {
    const items = Array.from(
      documentOf(tinyPlan()).querySelectorAll("section:last-of-type li"),
      (item) => item.textContent,
    );
    expect(items).toEqual([
      "Warning feather-3: The thread is cut between feather-2 & feather-3. Let them overlap, or let a later piece bridge <6 mm>.",
      "Note: Text is not sewn. Turn it into outlines.",
    ]);
    expect(text({ ...plan, findings: [] })).toContain("Nothing to look at.");
  });

  it("has no scripts and nothing from elsewhere, whatever a drawing's names say", () => {
    const evil = `"><script>alert(1)</script><img src=x onerror=alert(1)>&amp;</title></style>\u0000\u0085\ud800`;
    const nasty = tinyPlan({
      source: { name: `${evil}.svg`, sha256: "0".repeat(64) },
      pieces: tinyPlan().pieces.map((piece) => ({ ...piece, thread: { name: evil, code: evil } })),
      findings: [{ code: "evil", severity: "warning", piece: evil, message: evil, remedy: evil }],
    });
    const document = documentOf(nasty);
    expect(document.querySelectorAll("script, img, link, iframe, object, embed")).toHaveLength(0);
    expect(
      all(document, "*")
        .flatMap(({ attributes }) => Array.from(attributes, ({ name }) => name))
        .filter((name) => /^on|src|href/.test(name)),
    ).toEqual([]);
    expect(document.querySelector("h1")?.textContent).toBe(
      evil.replaceAll(/\p{Cc}|\p{Surrogate}/gu, "\ufffd"),
    );
    expect(runSheet(nasty)).not.toMatch(/@import|url\((?!#)/);
  });

  it("draws a large design to a scale that says so, and true to size on a second page", () => {
    expect(scaleFor({ widthMm: 100, heightMm: 100 }, { widthMm: 110, heightMm: 100 })).toBe(1);
    expect(scaleFor({ widthMm: 100, heightMm: 101 }, { widthMm: 110, heightMm: 100 })).toBe(2);
    expect(scaleFor({ widthMm: 9000, heightMm: 9000 }, { widthMm: 110, heightMm: 100 })).toBe(20);
    const large = makePlan(REEDS, "reeds.svg", { ...DEFAULT_SETTINGS, widthMm: 200 });
    const captions = Array.from(
      documentOf(large).querySelectorAll("figcaption"),
      (caption) => caption.textContent,
    );
    expect(captions).toHaveLength(2);
    expect(captions[0]).toMatch(/^Scale 1:2, not true scale: the bar is 10 mm of the design/);
    expect(captions[1]).toMatch(/^True scale: the bar is 10 mm\./);
  });

  it("is sound where nothing is sewn", () => {
    const shown = text({ ...plan, sewing: [], pieces: [], connectors: [] });
    expect(shown).toContain("nothing is sewn");
    expect(shown).not.toContain("NaN");
  });

  it("is the same bytes every time", () => {
    expect(runSheet(plan)).toBe(runSheet(makePlan(REEDS, "reeds.svg", DEFAULT_SETTINGS)));
  });
});

describe("escaped text", () => {
  it.each([
    ["<b>&\"'", "&lt;b&gt;&amp;&quot;&#39;"],
    ["tab\there\nand there", "tab\there\nand there"],
    ["\u0007\u009f\ufffe\udc00", "\ufffd\ufffd\ufffd\ufffd"],
    ["Möwe 🪶", "Möwe 🪶"],
  ])("%j", (given, expected) => {
    expect(escapeHtml(given)).toBe(expected);
  });
});
