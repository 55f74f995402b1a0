/**
 * The first look: the plan as it will be sewn, while the editor is still on its way. To look at it at leisure, the
 * editor's code is held up here.
 */
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { type EditorPage, launchChromium, missingForBrowser, openEditor } from "../../support/browser.ts";
import { svg } from "../../support/read.ts";
import { planned } from "./panel-page.ts";

const FEATHER = svg(`<rect id="feather" x="10" y="20" width="30" height="12" fill="#7391a8"/>`);

/** A browser starts slowly where many things run at once. */
const PATIENCE_MS = 120_000;

const missing = missingForBrowser();
if (missing !== undefined) process.stderr.write(`the first look is not tried out: ${missing} is missing\n`);

describe.skipIf(missing !== undefined)("the first look", { timeout: PATIENCE_MS }, () => {
  let browser: Browser;
  let opened: EditorPage;
  /** Lets the editor's code through. */
  let release: () => void;

  beforeAll(async () => {
    browser = await launchChromium();
  }, PATIENCE_MS);
  afterAll(() => browser?.close());
  afterEach(async () => {
    release();
    const { errors, foreign } = opened;
    await opened.close();
    expect(errors).toEqual([]);
    expect(foreign).toEqual([]);
  });

  async function openHeld(texts: Readonly<Record<string, string>>, until: string): Promise<Page> {
    const held = new Promise<void>((resolve) => {
      release = resolve;
    });
    const before = (page: Page) =>
      page.route("**/Editor.js", async (route) => {
        await held;
        await route.continue();
      });
    opened = await openEditor(browser, { texts, before, until });
    return opened.page;
  }

  const boxOf = (page: Page, selector: string): Promise<readonly number[]> =>
    page.locator(selector).evaluate((element) => {
      const { left, top, width, height } = element.getBoundingClientRect();
      return [left, top, width, height];
    });

  it("shows the sewn picture where the drawing will be, and gives way to it at once", async () => {
    const page = await openHeld({ "feather.svg": FEATHER }, "#first-look.shown");
    const picture = page.getByRole("img", { name: "feather.svg, as it will be sewn" });
    expect(await picture.isVisible()).toBe(true);
    expect(await page.getByRole("status").first().textContent()).toContain("The editor is on its way");
    // Thread of the feather's colour in its middle: more blue than red.
    const [red, , blue, alpha] = await picture.evaluate((canvas: HTMLCanvasElement) => {
      const { data } = canvas.getContext("2d")!.getImageData(canvas.width / 4, canvas.height / 4, 1, 1);
      return [...data];
    });
    expect(alpha).toBe(255);
    expect(blue).toBeGreaterThan(red);
    const before = await boxOf(page, "#first-look canvas");

    // Of every frame from here on: whether the look, or the plan on the editor's own canvas, is seen in it.
    await page.evaluate(() => {
      const frames: string[] = [];
      Object.assign(globalThis, { frames });
      const look = (): void => {
        const seen = ["#first-look.shown", ".marker"].filter((one) => document.querySelector(one) !== null);
        if (frames.at(-1) !== seen.join(" ")) frames.push(seen.join(" "));
        requestAnimationFrame(look);
      };
      look();
    });
    release();
    await planned(page);
    await expect.poll(() => page.locator("#first-look").count()).toBe(0);
    const frames = await page.evaluate(() => (globalThis as unknown as { frames: string[] }).frames);
    expect(frames[0]).toBe("#first-look.shown");
    expect(frames).not.toContain("");
    const after = await boxOf(page, "#canvasBackground");
    for (const [k, edge] of before.entries()) expect(Math.abs(edge - after[k])).toBeLessThan(4);
  });

  it("is not there for a drawing that cannot be read, nor for one with nothing to sew", async () => {
    for (const text of ["<svg><path", svg("")]) {
      const page = await openHeld({ "club.svg": text }, "body");
      release();
      await page.waitForSelector("tuck-panel, .tuckline-notice.shown");
      await expect.poll(() => page.locator("#first-look").count()).toBe(0);
      // The editor's page is in view, as large as it goes.
      const [, , , height] = await boxOf(page, "#canvasBackground");
      expect(height).toBeGreaterThan(600);
      if (text !== "<svg><path") continue;
      await opened.close();
    }
  });

  it("says so where the editor does not come", async () => {
    const before = (page: Page) =>
      page.route("**/Editor.js", (route) => route.fulfill({ status: 404, body: "" }));
    release = () => {};
    opened = await openEditor(browser, { texts: { "feather.svg": FEATHER }, before });
    const { page } = opened;
    expect(await page.locator(".tuckline-notice.shown").textContent()).toContain("could not be started");
    expect(await page.locator("#first-look").count()).toBe(0);
    // Just that is what the console tells as well.
    expect(opened.errors.splice(0).join("\n")).toMatch(/Editor\.js/);
  });
});
