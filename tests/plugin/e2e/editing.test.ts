/**
 * The whole of it, as an artist has it: the built command serves the editor, the panel plans beside it, and what is
 * dragged, reordered, written and saved is so in the plan, on the canvas and in the file.
 */
import { readFile, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { strip } from "../../../core/layers/strip.ts";
import { type EditorPage, launchChromium, missingForBrowser, openEditor } from "../../support/browser.ts";
import { fanOfFeathers } from "../../support/fans.ts";
import { svgToPixels } from "../../support/png.ts";
import { svg } from "../../support/read.ts";
import {
  drag,
  marker,
  placeOfMarker,
  planned,
  pxPerMm,
  replanned,
  type Seen,
  seen,
  view,
} from "./panel-page.ts";

/**
 * Three feathers of one thread in a row, and a wing sewn later that hides the ways between them. A small drawing,
 * so that planning takes no time.
 */
const FEATHERS = svg(`
  <rect id="feather-1" x="10" y="20" width="10" height="12" fill="#7391a8"/>
  <rect id="feather-2" x="40" y="20" width="10" height="12" fill="#7391a8"/>
  <rect id="feather-3" x="70" y="20" width="10" height="12" fill="#7391a8"/>
  <rect id="wing" x="14" y="26" width="62" height="30" fill="#1c3347"/>`);

/** A browser starts slowly where many things run at once. */
const PATIENCE_MS = 120_000;

const missing = missingForBrowser();
if (missing !== undefined) process.stderr.write(`the editor is not tried out: ${missing} is missing\n`);

describe.skipIf(missing !== undefined)("tuckline edit", () => {
  let browser: Browser;
  let opened: EditorPage | null = null;

  beforeAll(async () => {
    browser = await launchChromium();
  }, PATIENCE_MS);
  afterAll(() => browser?.close());
  afterEach(async () => {
    const { errors, foreign } = opened ?? { errors: [], foreign: [] };
    await opened?.close();
    opened = null;
    expect(errors).toEqual([]);
    expect(foreign).toEqual([]);
  });

  async function open(options: Parameters<typeof openEditor>[1]): Promise<EditorPage> {
    opened = await openEditor(browser, options);
    opened.page.setDefaultTimeout(30_000);
    return opened;
  }

  it("opens the crest and plans it: figures in the panel, marks on the canvas", async () => {
    const { page } = await open({ drawings: ["fixtures/heron-crest.svg"] });
    const { trims, pieces } = await planned(page);
    expect(pieces.length).toBeGreaterThan(40);
    await expect.poll(() => page.locator("tuck-panel header").textContent()).toContain(`${trims} trims`);
    expect(await page.locator(".marker").count()).toBe(2 * pieces.length);
    // A marker stands where its piece is, seen from the editor's own drawing of it.
    const box = await page.locator("#sun-disc").boundingBox();
    const [x, y] = await placeOfMarker(page, "exit", "sun-disc");
    expect(x).toBeGreaterThan(box!.x - 4);
    expect(x).toBeLessThan(box!.x + box!.width + 4);
    expect(y).toBeGreaterThan(box!.y - 4);
    expect(y).toBeLessThan(box!.y + box!.height + 4);
  });

  describe("with a small drawing, each change one step of undo", () => {
    let small: EditorPage;
    let page: Page;
    let first: Seen;

    beforeAll(async () => {
      small = await openEditor(browser, { texts: { "feathers.svg": FEATHERS } });
      page = small.page;
      page.setDefaultTimeout(30_000);
      first = await planned(page);
    }, PATIENCE_MS);
    afterAll(() => small?.close());

    /** Takes so many steps back, after which all is as it was. */
    async function undo(steps: number): Promise<void> {
      for (let step = 0; step < steps; step++) await page.keyboard.press("Control+z");
      await expect.poll(async () => (await planned(page)).pieces, { timeout: 20_000 }).toEqual(first.pieces);
    }

    it("pins a marker that is dragged; the plan obeys, the trims tell, and one undo takes it back", async () => {
      expect(first.trims).toBe(1);
      const from = await placeOfMarker(page, "exit", "feather-1");
      const scale = await pxPerMm(page);
      const { exit } = first.pieces.find(({ id }) => id === "feather-1")!;
      // To the upper left corner, which nothing covers: from there no hidden way leads on.
      const corner = [from[0] + (10.5 - exit[0]) * scale, from[1] + (20.5 - exit[1]) * scale] as const;
      const after = await replanned(page, () => drag(page, from, corner));
      const pinned = after.pieces.find(({ id }) => id === "feather-1")!;
      expect(pinned.exitPinned).toBe(true);
      expect(Math.hypot(pinned.exit[0] - 10.5, pinned.exit[1] - 20.5)).toBeLessThan(1);
      expect(after.trims).toBe(2);
      await undo(1);
      expect((await seen(page)).trims).toBe(1);
    });

    it("leads a connector where it is dragged, and keeps it there", async () => {
      const { id } = first.connectors[1];
      const scale = await pxPerMm(page);
      const line = page.locator(`.connector[data-connector="${id}"] .hit-line`);
      const [x, y] = await line.evaluate((path) => {
        const drawn = path as unknown as SVGPathElement;
        const middle = drawn.getPointAtLength(drawn.getTotalLength() / 2);
        const { x, y } = middle.matrixTransform(drawn.getScreenCTM()!);
        return [x, y] as const;
      });
      const bent = await replanned(page, () => drag(page, [x, y], [x, y + 8 * scale]));
      expect(bent.connectors.find((one) => one.id === id)?.isBent).toBe(true);
      expect(bent.connectorMm).toBeGreaterThan(first.connectorMm + 4);
      const free = await replanned(page, () => page.locator(".connectors .handle").dblclick());
      expect(free.connectorMm).toBeCloseTo(first.connectorMm, 3);
      await undo(2);
    });

    it("sews a piece elsewhere in the order, and says why it may not lie under what it lies on", async () => {
      expect(first.pieces.map(({ id }) => id)).toEqual(["feather-1", "feather-2", "feather-3", "wing"]);
      await view(page, /Pieces/);
      const row = (name: string) => page.getByRole("treeitem", { name: new RegExp(`, ${name}, `) });
      await row("feather-1").click();
      await row("feather-1").focus();
      const moved = await replanned(page, () => page.keyboard.press("Alt+ArrowDown"));
      expect(moved.pieces.map(({ id }) => id)).toEqual(["feather-2", "feather-1", "feather-3", "wing"]);
      await row("feather-1").focus();
      await replanned(page, () => page.keyboard.press("Alt+ArrowDown"));
      await row("feather-1").focus();
      await page.keyboard.press("Alt+ArrowDown");
      await expect
        .poll(() => page.locator("tuck-panel .notice").textContent())
        .toContain("wing lies on feather-1");
      expect((await seen(page)).pieces.map(({ id }) => id).at(-1)).toBe("wing");
      await undo(2);
    });

    it("makes one strand of several pieces", async () => {
      await view(page, /Pieces/);
      const row = (name: string) => page.getByRole("treeitem", { name: new RegExp(`, ${name}, `) });
      await row("feather-1").click();
      await row("feather-3").click({ modifiers: ["Control"] });
      await expect.poll(async () => (await seen(page)).selected).toEqual(["feather-1", "feather-3"]);
      await replanned(page, () => page.getByRole("button", { name: "Make one strand" }).click());
      await page.getByText("Must be sewn without a break").waitFor();
      const source = await savedText(small);
      expect(source.match(/data-tuck-strand="[^"]+"/g)).toHaveLength(2);
      await undo(1);
    });

    it("points at the same thing on the canvas and in the panel", async () => {
      await view(page, /Pieces/);
      await marker(page, "entry", "feather-2").hover();
      await page.locator('tuck-order-list [data-pointed][data-key="piece feather-2"]').waitFor();
      await page.getByRole("treeitem", { name: /, wing, / }).hover();
      await expect.poll(async () => (await seen(page)).pointed).toEqual({ kind: "piece", id: "wing" });
    });

    it("plays the sewing to its end, and steps by piece", async () => {
      await page.getByLabel("Speed").selectOption({ label: "4,000/s" });
      await page.getByRole("button", { name: "Play", exact: true }).click();
      await expect.poll(() => seen(page).then(({ isPlaying, at }) => !isPlaying && at! > 0)).toBe(true);
      const end = (await seen(page)).at!;
      await page.getByRole("button", { name: "Back by one piece" }).click();
      const { at } = await seen(page);
      expect(at).toBeGreaterThan(0);
      expect(at).toBeLessThan(end);
      await page.locator(".needle:not(.away)").waitFor();
      await page.getByRole("button", { name: "Whole" }).click();
      expect((await seen(page)).at).toBeNull();
    });

    it("has no accessibility fault of ours, light or dark, in any view", async () => {
      // Source: axe-core's rules for WCAG 2.2 A and AA. The editor's own markup is not ours to judge.
      const axe = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
      await page.evaluate(axe);
      // Some of the editor's own elements never return from being asked for their value, which axe asks of all.
      await page.evaluate(() => {
        for (const element of document.querySelectorAll("#editor *")) {
          try {
            void (element as HTMLInputElement).value;
          } catch {
            Object.defineProperty(element, "value", { value: undefined });
          }
        }
      });
      for (const colorScheme of ["light", "dark"] as const) {
        await page.emulateMedia({ colorScheme });
        for (const name of [/Plan/, /Pieces/, /Findings/, /Save/]) {
          await view(page, name);
          const violations = await page.evaluate(async () => {
            const { axe } = globalThis as unknown as {
              axe: { run(...words: unknown[]): Promise<AxeResult> };
            };
            const include = ["#panel", "#divider", ".tuckline-overlay"];
            const found = await axe.run({ include }, { resultTypes: ["violations"] });
            return found.violations.map(
              ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" | ")}`,
            );
          });
          expect(violations).toEqual([]);
        }
      }
    });

    it("saves under another name, asks before a file is replaced, and sees what others did to it", async () => {
      const file = (name: string) => join(small.folder, name);
      const notice = page.locator("tuck-panel .notice");
      const saveAs = async (name: string) => {
        await view(page, /Save/);
        await page.getByLabel("Name of the new file").fill(name);
        await page.getByRole("button", { name: "Save as" }).click();
      };
      await saveAs("second.svg");
      await expect.poll(() => notice.textContent()).toContain("Saved second.svg");
      expect(await readFile(file("second.svg"), "utf8")).toBe(FEATHERS);

      await saveAs("feathers.svg");
      await expect.poll(() => notice.textContent()).toContain("There is a file feathers.svg already.");
      expect((await seen(page)).fileName).toBe("second.svg");

      await writeFile(file("second.svg"), FEATHERS.replace("feather-2", "plume"));
      await page.getByRole("button", { name: "Save", exact: true }).click();
      await expect
        .poll(() => notice.textContent())
        .toContain("second.svg was changed by another program since it was opened.");
      expect(await readFile(file("second.svg"), "utf8")).toContain("plume");
      await notice.getByRole("button", { name: "Replace it" }).click();
      await expect.poll(() => readFile(file("second.svg"), "utf8")).toBe(FEATHERS);
    });

    it("meets no error, and asks nothing of other machines", () => {
      // The browser notes each save that the server refused: one onto another file, one onto a changed one.
      const refused = small.errors.filter((error) => error.includes("409 (Conflict)"));
      expect(refused).toHaveLength(2);
      expect(small.errors.filter((error) => !refused.includes(error))).toEqual([]);
      expect(small.foreign).toEqual([]);
    });
  });

  it("writes layers, saves, opens the file again; stripped, it is the drawing as it was", async () => {
    const { page, folder, url } = await open({ drawings: ["fixtures/heron-crest.svg"] });
    const first = await planned(page);
    await view(page, /Save/);
    const written = await replanned(page, () => page.getByRole("button", { name: "Write layers" }).click());
    expect(written.hasLayers).toBe(true);
    expect(written.trims).toBe(first.trims);
    const text = await savedText(opened!);
    for (const role of ["stitches", "connectors", "points"])
      expect(text).toContain(`data-tuck-role="${role}"`);
    // What the overlays show is not seen a second time in the layers.
    const layer = (role: string) => page.locator(`#svgcontent > [data-tuck-role="${role}"]`);
    await expect.poll(() => layer("connectors").isVisible()).toBe(false);
    expect(await layer("stitches").isVisible()).toBe(true);
    await view(page, /Plan/);
    await page.getByRole("checkbox", { name: "Connectors" }).uncheck();
    await expect.poll(() => layer("connectors").isVisible()).toBe(true);
    const before = await readFile("fixtures/heron-crest.svg", "utf8");
    expect(differingPixels(strip(text), before)).toBe(0);

    await page.goto("about:blank");
    await page.goto(url);
    const again = await planned(page);
    expect(again.hasLayers).toBe(true);
    expect(again.trims).toBe(first.trims);
    expect(again.pieces.map(({ id }) => id)).toEqual(first.pieces.map(({ id }) => id));
    expect(await readFile(join(folder, "heron-crest.svg"), "utf8")).toBe(text);
  });

  it("is at ease with 300 pieces", async () => {
    const { page } = await open({ texts: { "fan.svg": fanOfFeathers(300) } });
    const { pieces } = await planned(page);
    expect(pieces).toHaveLength(300);
    // So many markers would hide the drawing: those shown keep apart.
    const shown = await page.locator(".marker:not(.away)").count();
    expect(shown).toBeGreaterThan(10);
    expect(shown).toBeLessThan(600);
    const { id } = pieces[150];
    await page.evaluate((piece) => {
      const panel = document.querySelector("tuck-panel") as unknown as {
        session: { choose(target: object): void };
      };
      panel.session.choose({ kind: "piece", id: piece });
    }, id);
    await marker(page, "exit", id).and(page.locator(":not(.away)")).waitFor();
  });

  it("says what is wrong with a broken file, and stays of use", async () => {
    const { page } = await open({
      texts: {
        "torn.svg": "<svg xmlns='http://www.w3.org/2000/svg'><path d='M0 0",
        "feathers.svg": FEATHERS,
      },
    });
    await expect.poll(() => page.locator("body").textContent()).toMatch(/torn\.svg/);
    expect(await page.locator(".tuckline-notice.shown, [role=alert]").first().textContent()).toMatch(
      /line 1/i,
    );
  });

  /** Saves with the panel's button; what is in the file then. */
  async function savedText({ page, folder }: EditorPage): Promise<string> {
    await view(page, /Save/);
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await page
      .getByText(/^Saved /)
      .first()
      .waitFor();
    const { fileName } = await seen(page);
    return readFile(join(folder, fileName!), "utf8");
  }
});

interface AxeResult {
  readonly violations: readonly {
    readonly id: string;
    readonly nodes: readonly { readonly html: string }[];
  }[];
}

/** Pixels in which two drawings differ visibly, drawn by resvg 600 pixels wide. */
function differingPixels(a: string, b: string): number {
  const [one, other] = [a, b].map((text) => svgToPixels(text, 600));
  if (one.width !== other.width || one.height !== other.height) return Number.POSITIVE_INFINITY;
  const pixels = Array.from({ length: one.width * one.height }, (_, k) => 4 * k);
  return pixels.filter((i) => [0, 1, 2, 3].some((c) => Math.abs(one.rgba[i + c] - other.rgba[i + c]) > 24))
    .length;
}
