/** Hands on the canvas, in a real browser on a page of its own: markers, connectors and the dial, by pointer and by keys. */
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { launchChromium, missingForBrowser } from "../support/browser.ts";
import { svg } from "../support/read.ts";
import { type ServedPage, serveCanvasPage } from "./canvas-page/serve.ts";

/** Two feathers of one thread, apart, and a wing sewn later over a part of both: the connector runs under the wing. */
const FEATHERS = svg(`
  <rect id="feather-1" x="10" y="20" width="10" height="8" fill="#7391a8" data-tuck-angle="30"/>
  <rect id="feather-2" x="50" y="20" width="10" height="8" fill="#7391a8"/>
  <rect id="wing" x="13" y="23" width="44" height="22" fill="#1c3347"/>`);

/** Ten pixels a millimetre, and the origin moved away from the corner. */
const VIEW = [10, 0, 0, 10, 40, 30] as const;
const px = (x: number, y: number): [number, number] => [VIEW[0] * x + VIEW[4], VIEW[3] * y + VIEW[5]];

const missing = missingForBrowser();
if (missing !== undefined) process.stderr.write(`the canvas is not tried by hand: ${missing} is missing\n`);

describe.skipIf(missing !== undefined)("hands on the canvas", () => {
  let served: ServedPage;
  let browser: Browser;
  let page: Page;
  const errors: string[] = [];

  beforeAll(async () => {
    [served, browser] = await Promise.all([serveCanvasPage(), launchChromium()]);
    page = await browser.newPage({ viewport: { width: 900, height: 600 } });
    page.setDefaultTimeout(15_000);
    page.on("pageerror", (error) => errors.push(String(error)));
    page.on("console", (message) => void (message.type() === "error" && errors.push(message.text())));
    await page.goto(served.url);
    await page.waitForFunction("globalThis.page !== undefined");
  });
  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });
  beforeEach(async () => {
    await page.mouse.move(880, 580);
    await page.evaluate(
      ([text, view]) => {
        const { page } = globalThis as unknown as { page: PageHandle };
        page.see(view);
        page.update({ selected: [], pointed: null });
        page.open(text);
        page.asked.length = 0;
        page.holds.length = 0;
      },
      [FEATHERS, VIEW] as const,
    );
  });

  const asked = (): Promise<unknown[][]> =>
    page.evaluate(() => (globalThis as unknown as { page: PageHandle }).page.asked);
  const state = (): Promise<{ pointed: unknown }> =>
    page.evaluate(() => {
      const { pointed } = (globalThis as unknown as { page: PageHandle }).page.state();
      return { pointed };
    });
  const marker = (point: string, piece: string) =>
    page.locator(`.marker[data-point="${point}"][data-piece="${piece}"]`);
  const update = (change: object): Promise<void> =>
    page.evaluate((change) => (globalThis as unknown as { page: PageHandle }).page.update(change), change);

  async function placeOf(point: string, piece: string): Promise<[number, number]> {
    const transform = await marker(point, piece).getAttribute("transform");
    const [x, y] = /translate\(([-\d.]+) ([-\d.]+)\)/
      .exec(transform ?? "")!
      .slice(1)
      .map(Number);
    return [x, y];
  }

  /** The middle of the connector, on the screen. */
  const connectorMiddle = (): Promise<[number, number]> =>
    page.evaluate(() => {
      const line = document.querySelector<SVGPathElement>(".connector .hit-line")!;
      const { x, y } = line.getPointAtLength(line.getTotalLength() / 2).matrixTransform(line.getScreenCTM()!);
      return [x, y];
    });

  async function drag(from: [number, number], to: [number, number], drop = true): Promise<void> {
    await page.mouse.move(...from);
    await page.mouse.down();
    await page.mouse.move((from[0] + to[0]) / 2, (from[1] + to[1]) / 2);
    await page.mouse.move(...to);
    if (drop) await page.mouse.up();
  }

  it("drops a marker at the nearest legal place, and the editor keeps still meanwhile", async () => {
    const from = await placeOf("exit", "feather-1");
    await drag(from, px(12.3, 24.6));
    expect(await asked()).toEqual([["pin", "feather-1", "exit", [12, 25]]]);
    expect(await page.evaluate(() => (globalThis as unknown as { page: PageHandle }).page.holds)).toEqual([
      true,
      false,
    ]);
  });

  it("shows on the way whether the place will be tucked, in words and by a closed or a broken ring", async () => {
    const from = await placeOf("exit", "feather-1");
    await drag(from, px(12, 24), false);
    const label = page.locator(".ghost text");
    expect(await label.textContent()).toBe("stays in sight");
    expect(await page.locator(".ghost .spot").getAttribute("stroke-dasharray")).not.toBeNull();
    await page.mouse.move(...px(30, 24));
    expect(await label.textContent()).toBe("will be tucked");
    expect(await page.locator(".ghost .spot").getAttribute("stroke-dasharray")).toBeNull();
    await page.keyboard.press("Escape");
    await page.mouse.up();
    expect(await asked()).toEqual([]);
    expect(await placeOf("exit", "feather-1")).toEqual(from);
  });

  it("takes a press that does not move for a click", async () => {
    await page.mouse.click(...(await placeOf("entry", "feather-1")));
    expect(await asked()).toEqual([["choose", { kind: "marker", piece: "feather-1", point: "entry" }]]);
  });

  it("moves a marker by keys: a millimetre an arrow, Enter drops, Escape gives up", async () => {
    await marker("entry", "feather-2").focus();
    const [x, y] = await placeOf("entry", "feather-2");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Escape");
    expect(await asked()).toEqual([]);
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Enter");
    const [[action, piece, point, [toX]]] = (await asked()) as [[string, string, string, [number, number]]];
    expect([action, piece, point]).toEqual(["pin", "feather-2", "entry"]);
    expect(toX * 10 + 40 - x).toBeGreaterThan(10);
    expect(Math.abs(y - px(0, 20)[1])).toBeLessThan(90);
  });

  it("goes from marker to marker by Page Down in sewing order, with one stop of the Tab key for all", async () => {
    expect(await page.locator('.marker[tabindex="0"]').count()).toBe(1);
    await marker("entry", "feather-1").focus();
    await page.keyboard.press("PageDown");
    expect((await state()).pointed).toEqual({ kind: "marker", piece: "feather-1", point: "exit" });
    await page.keyboard.press("PageDown");
    expect((await state()).pointed).toEqual({ kind: "marker", piece: "feather-2", point: "entry" });
    expect(await page.locator('.marker[tabindex="0"]').count()).toBe(1);
  });

  it("bends a connector where it is taken hold of", async () => {
    const middle = await connectorMiddle();
    await drag(middle, px(35, 40), false);
    expect(await page.locator(".connectors .preview").isVisible()).toBe(true);
    await page.mouse.up();
    const [[action, , through]] = (await asked()) as [[string, string, [number, number][]]];
    expect(action).toBe("bend");
    expect(through).toHaveLength(1);
    expect(through[0][0]).toBeCloseTo(35);
    expect(through[0][1]).toBeCloseTo(40);
  });

  it("bends a connector by keys, and lets it go with Delete", async () => {
    await page.locator(".connector").focus();
    await page.keyboard.press("Enter");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    const [[action, , through]] = (await asked()) as [[string, string, [number, number][]]];
    expect(action).toBe("bend");
    expect(through).toHaveLength(1);
  });

  it("moves and takes away the points that a connector is led through", async () => {
    await page.evaluate(() => {
      const { page } = globalThis as unknown as { page: PageHandle };
      const { plan } = page.state();
      const connectors = plan.connectors.map((connector) => ({
        ...connector,
        bend: { from: [connector.from], to: connector.to, through: [[35, 30]] },
      }));
      page.update({ plan: { ...plan, connectors } });
    });
    await drag(px(35, 30), px(37, 33));
    expect((await asked()).map(([action, , through]) => [action, through])).toEqual([["bend", [[37, 33]]]]);
    await page.locator(".handle").dblclick();
    expect((await asked()).at(-1)).toMatchObject({ 0: "bend", 2: [] });
  });

  it("releases a pin with Delete, and leaves alone what is not pinned", async () => {
    await marker("entry", "feather-1").focus();
    await page.keyboard.press("Delete");
    expect(await asked()).toEqual([]);
    await page.evaluate(() => {
      const { page } = globalThis as unknown as { page: PageHandle };
      const { plan } = page.state();
      const pieces = plan.pieces.map((piece) => ({ ...piece, entryPinned: true }));
      page.update({ plan: { ...plan, pieces } });
    });
    await marker("entry", "feather-1").focus();
    await page.keyboard.press("Delete");
    expect(await asked()).toEqual([["release", "feather-1", "entry"]]);
  });

  it("turns the rows of the fill that is selected, by pointer and by keys", async () => {
    await update({ selected: ["feather-1"] });
    const dial = page.locator(".dial");
    expect(await dial.getAttribute("aria-valuenow")).toBe("30");
    const transform = await dial.getAttribute("transform");
    const [cx, cy] = /translate\(([-\d.]+) ([-\d.]+)\)/
      .exec(transform ?? "")!
      .slice(1)
      .map(Number);
    const knob = 46;
    await drag([cx + knob * Math.cos(Math.PI / 6), cy - knob * Math.sin(Math.PI / 6)], [cx, cy - 60]);
    expect((await asked()).at(-1)).toEqual(["setAngle", ["feather-1"], 90]);
    await dial.focus();
    await page.keyboard.press("ArrowLeft");
    await page.keyboard.press("ArrowLeft");
    await page.keyboard.press("Enter");
    expect((await asked()).at(-1)).toEqual(["setAngle", ["feather-1"], 88]);
    await page.keyboard.press("Delete");
    expect((await asked()).at(-1)).toEqual(["setAngle", ["feather-1"], null]);
  });

  it("tells an angle that somebody set from one that the plan chose", async () => {
    const dial = page.locator(".dial");
    const line = dial.locator("line.ink");
    const dashes = (): Promise<string> => line.evaluate((each) => getComputedStyle(each).strokeDasharray);
    await update({ selected: ["feather-1"] });
    expect(await dial.locator("text").textContent()).toBe("30°");
    expect(await dashes()).toBe("none");

    await update({ selected: ["wing"] });
    const chosen = Number(await dial.getAttribute("aria-valuenow"));
    expect(await dial.getAttribute("aria-valuetext")).toBe(`${chosen}° by the plan`);
    expect(await dial.locator("text").textContent()).toBe(`${chosen}° by the plan`);
    expect(await dashes()).not.toBe("none");
    // Turned by hand it is the artist's.
    await dial.focus();
    await page.keyboard.press("ArrowRight");
    expect(await dial.getAttribute("aria-valuetext")).toBe(`${(chosen + 1) % 180}°`);
    expect(await dashes()).toBe("none");
    await page.keyboard.press("Escape");
  });

  it("points at the piece whose thread is on top under the pointer", async () => {
    await page.mouse.move(...px(40, 40));
    await page.waitForFunction("page.state().pointed !== null");
    expect((await state()).pointed).toEqual({ kind: "piece", id: "wing" });
    await page.mouse.move(...px(80, 50));
    await page.waitForFunction("page.state().pointed === null");
  });

  it("follows the view: marks keep their size, and stand where their places are", async () => {
    const before = await placeOf("entry", "feather-1");
    const size = await marker("entry", "feather-1").locator(".ink").boundingBox();
    await page.evaluate(() => {
      (globalThis as unknown as { page: PageHandle }).page.see([20, 0, 0, 20, -100, -60]);
    });
    const [x, y] = await placeOf("entry", "feather-1");
    expect(x).toBeCloseTo(((before[0] - 40) / 10) * 20 - 100, 0);
    expect(y).toBeCloseTo(((before[1] - 30) / 10) * 20 - 60, 0);
    const after = await marker("entry", "feather-1").locator(".ink").boundingBox();
    expect(after?.width).toBeCloseTo(size?.width ?? 0, 1);
  });

  it("plays the sewing: thread comes stitch by stitch, and it stops at the end", async () => {
    await update({ player: { isPlaying: true, at: null, stitchesPerSecond: 100_000 } });
    await page.waitForFunction("page.state().player.isPlaying === false");
    const { at, count } = await page.evaluate(() => {
      const { player, plan } = (globalThis as unknown as { page: PageHandle }).page.state();
      return { at: player.at, count: plan.metrics.stitches };
    });
    expect(at).toBe(count);
    await page.waitForFunction(
      "(() => { const c = document.querySelector('canvas.tuck-sew-out'); return !c.hidden && c.width > 0 && c.getContext('2d').getImageData(440, 330, 1, 1).data[3] === 255; })()",
    );
  });

  it("reports no error", () => {
    expect(errors).toEqual([]);
  });
});

/** As much of the page's own record as is used here. */
interface PageHandle {
  readonly asked: unknown[][];
  readonly holds: boolean[];
  state(): {
    readonly pointed: unknown;
    readonly player: { readonly at: number | null };
    readonly plan: {
      readonly pieces: readonly object[];
      readonly connectors: readonly { readonly from: string; readonly to: string }[];
      readonly metrics: { readonly stitches: number };
    };
  };
  open(svgText: string): void;
  update(change: object): void;
  see(view: readonly number[]): void;
}
