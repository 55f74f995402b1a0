/**
 * The browser editor as the panel's host, in a real Chromium on the built command. What a drawing renders as is
 * judged by resvg, which knows nothing of this project.
 */
import { readdirSync, readFileSync } from "node:fs";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { Resvg } from "@resvg/resvg-js";
import type { Browser } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { EditorHost } from "../../plugin/editor-host.ts";
import {
  type EditorPage,
  launchChromium,
  missingForBrowser,
  openEditor,
  startEdit,
} from "../support/browser.ts";
import { readDrawing, spreadNames } from "../support/emoji.ts";

declare const svgEditor: {
  readonly svgCanvas: {
    readonly extensions: { readonly tuckline: { readonly host: EditorHost & { isSaved(): boolean } } };
    readonly contentW: number;
    readonly contentH: number;
    getSvgContent(): SVGSVGElement;
    getSelectedElements(): (Element | null)[];
    selectOnly(elements: readonly Element[]): void;
    setMode(mode: string): void;
    setCurrentZoom(zoom: number): void;
    setResolution(width: number, height: number): void;
    createLayer(name: string): void;
    undoMgr: { readonly undoStackPointer: number };
  };
  updateCanvas(isCentred?: boolean): void;
};

const missing = missingForBrowser();
if (missing !== undefined)
  throw new Error(`${missing} is missing: see .ci/run, and run npm test, which builds.`);

const fixture = (name: string): string =>
  readFileSync(new URL(`../../fixtures/${name}`, import.meta.url), "utf8");

const CREST = fixture("heron-crest.svg");

/** A pond whose page does not begin at 0 0, with a loose leaf and a layer that is turned. */
const POND = `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="-40 -30 80 60">
  <rect id="leaf" x="-30" y="-20" width="20" height="20" fill="#3c6e47"/>
  <g id="water" class="layer" transform="rotate(10)"><title>Water</title>
    <circle id="ring" cx="10" cy="5" r="12" fill="#2f6f8f"/></g>
  <!-- reeds to come -->
  <path id="reed" d="M0 0L10 10L0 10z" style="fill:#c8923c"/>
</svg>
`;

let browser: Browser;
let editor: EditorPage;

/** A browser starts slowly where many things run at once. */
const PATIENCE_MS = 60_000;

beforeAll(async () => {
  browser = await launchChromium();
  editor = await openEditor(browser, { drawings: ["fixtures/heron-crest.svg", "fixtures/forty-scales.svg"] });
}, PATIENCE_MS);
afterAll(async () => {
  await editor?.close();
  await browser?.close();
}, PATIENCE_MS);

function pixels(svgText: string): { width: number; height: number; rgba: Buffer } {
  const image = new Resvg(svgText, {
    fitTo: { mode: "width", value: 160 },
    font: { loadSystemFonts: false },
  }).render();
  return { width: image.width, height: image.height, rgba: image.pixels };
}

/** The share of pixels that differ by more than a shade. */
function difference(one: string, other: string): number {
  const [a, b] = [pixels(one), pixels(other)];
  if (a.width !== b.width || a.height !== b.height) return 1;
  let count = 0;
  for (let k = 0; k < a.rgba.length; k += 4)
    if ([0, 1, 2, 3].some((part) => Math.abs(a.rgba[k + part] - b.rgba[k + part]) > 16)) count++;
  return count / (a.rgba.length / 4);
}

/** Opens a text in the running page, as the host's `open` does. */
const open = (text: string) =>
  editor.page.evaluate((text) => svgEditor.svgCanvas.extensions.tuckline.host.open(text, null), text);

const read = () => editor.page.evaluate(() => svgEditor.svgCanvas.extensions.tuckline.host.read());

/** Where the middle of an element is on the screen. */
const middleOf = (id: string) =>
  editor.page.evaluate((id) => {
    const box = document.querySelector(`#svgcontent [id="${id}"]`)?.getBoundingClientRect() as DOMRect;
    return [box.x + box.width / 2, box.y + box.height / 2] as const;
  }, id);

async function drag(from: readonly [number, number], by: readonly [number, number]): Promise<void> {
  const { mouse } = editor.page;
  await mouse.move(...from);
  await mouse.down();
  await mouse.move(from[0] + by[0] / 2, from[1] + by[1] / 2);
  await mouse.move(from[0] + by[0], from[1] + by[1]);
  await mouse.up();
}

/** The lines of `after` that `before` has not. */
const newLines = (before: string, after: string): string[] => {
  const known = new Set(before.split("\n"));
  return after.split("\n").filter((line) => !known.has(line));
};

describe("the browser editor as host", { timeout: PATIENCE_MS }, () => {
  let errorsBefore = 0;
  beforeEach(() => {
    errorsBefore = editor.errors.length;
  });
  afterEach(() => {
    expect(editor.errors.slice(errorsBefore)).toEqual([]);
    expect(editor.foreign).toEqual([]);
  });

  describe("opening and reading", () => {
    const drawings: [string, string][] = [
      ["heron-crest.svg", CREST],
      ["every-feature.svg", fixture("every-feature.svg")],
      ["forty-scales.svg", fixture("forty-scales.svg")],
      ["a page that begins elsewhere", POND],
      ...readdirSync(new URL("../../fixtures/cases", import.meta.url))
        .filter((name) => name.endsWith(".svg"))
        .map((name): [string, string] => [name, fixture(`cases/${name}`)]),
    ];

    it.each(drawings)("shows %s as resvg draws the file", async (_name, text) => {
      await open(text);
      const shown = await editor.page.evaluate(() => {
        const { svgCanvas } = svgEditor;
        const copy = svgCanvas.getSvgContent().cloneNode(true) as SVGSVGElement;
        const size = { width: svgCanvas.contentW, height: svgCanvas.contentH };
        for (const name of ["x", "y", "overflow"]) copy.removeAttribute(name);
        copy.setAttribute("width", String(size.width));
        copy.setAttribute("height", String(size.height));
        copy.setAttribute("viewBox", `0 0 ${size.width} ${size.height}`);
        return new XMLSerializer().serializeToString(copy);
      });
      // The editor rewrites paths, so edges may move by a fraction of a pixel.
      expect(difference(text, shown)).toBeLessThan(0.002);
    });

    it("gives every byte back that was not touched, of the fixtures and of 36 emoji", async () => {
      const emoji = spreadNames("emoji", 36).map((name) => readDrawing("emoji", name).text);
      const texts = [...drawings.map(([, text]) => text), ...emoji];
      const readings = await editor.page.evaluate(async (texts) => {
        const { host } = svgEditor.svgCanvas.extensions.tuckline;
        const results: { before: string; changed: string; undone: string }[] = [];
        for (const text of texts) {
          await host.open(text, null);
          const before = host.read();
          host.change("Settings", [{ element: null, name: "data-tuck-settings", value: "order=regroup" }]);
          const changed = host.read();
          host.undo();
          results.push({ before, changed, undone: host.read() });
        }
        return results;
      }, texts);
      for (const [k, { before, changed, undone }] of readings.entries()) {
        expect(before).toBe(texts[k]);
        expect(undone).toBe(texts[k]);
        const withoutIds = (text: string): string => text.replace(/\sid="[^"]*"/g, "");
        const bare = changed.replace(
          /\s*<metadata data-tuck-settings="order=regroup"\/>| data-tuck-settings="order=regroup"/,
          "",
        );
        expect(bare).not.toBe(changed);
        expect(withoutIds(bare)).toBe(withoutIds(texts[k]));
      }
    });

    it("gives every drawn element an id, the one that the planner calls it by", async () => {
      await open(`<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
  <g><path d="M0 0h9v9z"/><path id="path-2" d="M9 9h9v9z"/></g><path d="M1 1h2v2z"/></svg>`);
      await editor.page.evaluate(() =>
        svgEditor.svgCanvas.extensions.tuckline.host.change("Angle", [
          { element: "path-1", name: "data-tuck-angle", value: "30" },
        ]),
      );
      expect(await read()).toContain('<g id="g-1"><path id="path-1" d="M0 0h9v9z" data-tuck-angle="30"/>');
      expect(await read()).toContain('<path id="path-3" d="M1 1h2v2z"/></svg>');
    });

    it("keeps what the editor cannot show, and says that it is there", async () => {
      const text = `<?xml version="1.0"?>
<!-- the boat house, spring -->
<svg xmlns="http://www.w3.org/2000/svg" xmlns:club="urn:club" width="20mm" height="20mm" viewBox="0 0 20 20">
  <club:season name="spring"/>
  <path id="oar" club:length="3.7m" d="M2 2h16v3z"><animate attributeName="opacity" to="0"/></path>
</svg>
`;
      await writeFile(join(editor.folder, "season.svg"), text);
      await openFromMenu("season.svg");
      await editor.page.locator(".tuckline-notice.shown", { hasText: "1 animate" }).waitFor();
      await editor.page.evaluate(() =>
        svgEditor.svgCanvas.extensions.tuckline.host.change("Angle", [
          { element: "oar", name: "data-tuck-angle", value: "8" },
        ]),
      );
      expect(await read()).toBe(
        text.replace(' d="M2', ' d="M2').replace('16v3z">', '16v3z" data-tuck-angle="8">'),
      );
    });
  });

  describe("what the artist changes", () => {
    it("moves one element by hand, and writes that one alone", async () => {
      await open(CREST);
      await editor.page.keyboard.press("Escape");
      const before = await middleOf("sun-disc");
      // Beside the heron, where the sun is seen; the crest has layers above and below it.
      await drag([before[0] + 80, before[1] + 20], [40, -20]);
      const after = await read();
      const changed = newLines(CREST, after);
      expect(changed).toHaveLength(1);
      expect(changed[0]).toContain('id="sun-disc"');
      expect(difference(CREST, after)).toBeGreaterThan(0.001);
      await editor.page.keyboard.press("Control+z");
      expect(await read()).toBe(CREST);
    });

    it("draws new shapes into the layer that is chosen, where the artist sees them, on a shifted page too", async () => {
      await open(POND);
      await editor.page.evaluate(() => document.getElementById("tool_rect")?.click());
      const [x, y] = await middleOf("ring");
      await drag([x, y], [60, 40]);
      const after = await read();
      const made = /<rect(?=[^>]*id="svg_)[^>]*>/.exec(after)?.[0] ?? "";
      expect(newLines(POND, after).join("")).toContain(made);
      const drawn = await editor.page.evaluate(() => {
        const rect = document.querySelector('#svgcontent rect[id^="svg_"]') as SVGGraphicsElement;
        const box = rect.getBoundingClientRect();
        return [box.left, box.top];
      });
      expect(Math.hypot(drawn[0] - x, drawn[1] - y)).toBeLessThan(8);
      // The rest renders as before: only what the new rectangle covers may differ.
      expect(difference(POND, after.replace(made, ""))).toBe(0);
    });

    it("changes a colour that a style attribute or a class sets", async () => {
      const text = `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
<style>.reed { fill: #3c6e47; stroke: none }</style>
<rect id="a" class="reed" width="8" height="8"/>
<rect id="b" style="fill:#c8923c;opacity:1" x="10" width="8" height="8"/></svg>`;
      await open(text);
      await editor.page.evaluate(() => {
        const { svgCanvas } = svgEditor;
        for (const id of ["a", "b"]) {
          svgCanvas.selectOnly([document.querySelector(`#svgcontent #${id}`) as Element]);
          (svgCanvas as unknown as { setColor(what: string, value: string): void }).setColor(
            "fill",
            "#a3293d",
          );
        }
      });
      const after = await read();
      expect(after).toContain('<rect id="a" class="reed" width="8" height="8" style="fill:#a3293d"/>');
      expect(after).toContain('<rect id="b" style="opacity:1;fill:#a3293d" x="10" width="8" height="8"/>');
      const red = text.replaceAll("#3c6e47", "#a3293d").replaceAll("#c8923c", "#a3293d");
      expect(difference(after, red)).toBe(0);
    });

    it("deletes, reorders and groups, and leaves comments where they were", async () => {
      const text = `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
  <!-- first -->
  <rect id="a" width="8" height="8"/>
  <!-- second -->
  <rect id="b" x="5" width="8" height="8" fill="red"/>
  <rect id="c" x="10" width="8" height="8" fill="blue"/>
</svg>`;
      const run = (id: string, method: string) =>
        editor.page.evaluate(
          ([id, method]) => {
            const canvas = svgEditor.svgCanvas as unknown as Record<string, () => void>;
            svgEditor.svgCanvas.selectOnly([document.querySelector(`#svgcontent #${id}`) as Element]);
            canvas[method]();
          },
          [id, method],
        );
      await open(text);
      await run("a", "moveToTopSelectedElement");
      const reordered = await read();
      expect([...reordered.matchAll(/id="(\w)"/g)].map(([, id]) => id).join("")).toBe("bca");
      expect(reordered).toMatch(/<!-- second -->\s*<rect id="b"/);
      expect(reordered).toMatch(/<!-- first -->\s*<rect id="a"/);
      await run("b", "deleteSelectedElements");
      expect(await read()).not.toContain('id="b"');
      expect(await read()).toContain("<!-- second -->");
      await editor.page.keyboard.press("Control+z");
      await editor.page.keyboard.press("Control+z");
      expect(await read()).toBe(text);
      await run("c", "groupSelectedElements");
      expect(await read()).toMatch(
        /<g id="svg_\d+">\s*<rect id="c" x="10" width="8" height="8" fill="blue"\/>\s*<\/g>/,
      );
    });

    it("keeps a user unit as long as it was when the page is resized", async () => {
      await open(CREST);
      await editor.page.evaluate(() => svgEditor.svgCanvas.setResolution(180, 100));
      expect(await read()).toContain('width="180mm" height="100mm" viewBox="0 0 180 100"');
      await editor.page.keyboard.press("Control+z");
      expect(await read()).toBe(CREST);
    });

    it("adds layers to a shifted page where they are seen", async () => {
      await open(POND);
      await editor.page.evaluate(() => svgEditor.svgCanvas.createLayer("Reeds"));
      expect(await read()).toMatch(
        /<g class="layer" transform="translate\(-40 -30\)"><title>Reeds<\/title><\/g>\s*<\/svg>/,
      );
    });

    it("takes the drawing's own source, physical size and all, in the editor's source view", async () => {
      await open(CREST);
      await editor.page.evaluate(() => document.getElementById("tool_source")?.click());
      const shown = await editor.page.evaluate(() =>
        document.getElementById("se-svg-editor-dialog")?.getAttribute("value"),
      );
      expect(shown).toBe(CREST);
      const edited = CREST.replace('fill="#1c3347"', 'fill="#2f6f8f"');
      await editor.page.evaluate((value) => {
        document
          .getElementById("se-svg-editor-dialog")
          ?.dispatchEvent(new CustomEvent("change", { detail: { value, dialog: "close" } }));
      }, edited);
      await expect.poll(read).toBe(edited);
    });
  });

  describe("what the panel changes", () => {
    it("sets attributes as one step of undo, and leaves a turned element where it is", async () => {
      const text = `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
<g class="layer"><title>Oars</title>
<rect id="oar" transform="rotate(30 5 5) scale(2 1)" width="8" height="2"/><rect id="blade" y="9" width="3" height="3"/></g></svg>`;
      await open(text);
      const steps = await editor.page.evaluate(() => {
        const { svgCanvas } = svgEditor;
        const { host } = svgCanvas.extensions.tuckline;
        let told = 0;
        const stop = host.onChange(() => {
          told++;
        });
        host.change("Sew the oar", [
          { element: "oar", name: "data-tuck-angle", value: "45" },
          { element: "blade", name: "data-tuck-technique", value: "satin" },
          { element: null, name: "data-tuck-settings", value: "recipe=knit" },
        ]);
        stop();
        return { told, steps: svgCanvas.undoMgr.undoStackPointer };
      });
      expect(steps).toEqual({ told: 1, steps: 1 });
      const after = await read();
      expect(after).toContain(
        '<rect id="oar" transform="rotate(30 5 5) scale(2 1)" width="8" height="2" data-tuck-angle="45"/>',
      );
      expect(after).toContain('<metadata data-tuck-settings="recipe=knit"/>');
      await editor.page.keyboard.press("Control+z");
      expect(await read()).toBe(text);
      await editor.page.keyboard.press("Control+y");
      expect(await read()).toBe(after);
    });

    it("puts another version in place as one step of undo, and goes on from either", async () => {
      await open(CREST);
      const [sun] = /<circle id="sun-disc"[^>]*>/.exec(CREST) ?? [""];
      const other = CREST.replace(sun, "");
      expect(other).not.toBe(CREST);
      await editor.page.evaluate(
        (other) => svgEditor.svgCanvas.extensions.tuckline.host.replace("Without the sun", other),
        other,
      );
      expect(await read()).toBe(other);
      const isShown = () =>
        editor.page.evaluate(() => document.querySelector("#svgcontent #sun-disc") !== null);
      expect(await isShown()).toBe(false);
      await editor.page.keyboard.press("Control+z");
      expect([await isShown(), await read()]).toEqual([true, CREST]);
      await editor.page.keyboard.press("Control+y");
      expect([await isShown(), await read()]).toEqual([false, other]);
      await editor.page.evaluate(() =>
        svgEditor.svgCanvas.extensions.tuckline.host.change("Angle", [
          { element: "ground", name: "data-tuck-angle", value: "12" },
        ]),
      );
      expect(await read()).toBe(
        other
          .replace('id="ground"', 'id="ground"')
          .replace(/(id="ground"[^>]*)data-tuck-angle="90"/, '$1data-tuck-angle="12"'),
      );
    });
  });

  describe("selection", () => {
    it("tells what the artist clicks, and of a group what is drawn in it", async () => {
      await open(CREST);
      await editor.page.evaluate(() => {
        const seen: string[][] = [];
        (window as unknown as { seen: string[][] }).seen = seen;
        svgEditor.svgCanvas.extensions.tuckline.host.onSelection((ids) => seen.push([...ids]));
      });
      const [x, y] = await middleOf("ground");
      await editor.page.mouse.click(x - 110, y - 120);
      const seen = await editor.page.evaluate(() => (window as unknown as { seen: string[][] }).seen);
      expect(seen.at(-1)).toEqual(["ground"]);
    });

    it("selects in the editor what the panel asks for, and nothing", async () => {
      const selected = await editor.page.evaluate(() => {
        const { host } = svgEditor.svgCanvas.extensions.tuckline;
        const ids = () =>
          svgEditor.svgCanvas
            .getSelectedElements()
            .flatMap((element) => (element ? [element.id] : []))
            .sort();
        host.select(["blade-1", "blade-2"]);
        const two = [ids(), [...host.selection()].sort()];
        host.select([]);
        return [two, ids()];
      });
      expect(selected).toEqual([
        [
          ["blade-1", "blade-2"],
          ["blade-1", "blade-2"],
        ],
        [],
      ]);
    });
  });

  describe("the overlay", () => {
    const corners = () =>
      editor.page.evaluate(() => {
        const { overlay } = svgEditor.svgCanvas.extensions.tuckline.host;
        const [a, b, c, d, e, f] = overlay.view();
        const { left, top } = overlay.element.getBoundingClientRect();
        const at = (x: number, y: number) => [left + a * x + c * y + e, top + b * x + d * y + f];
        const box = document.querySelector("#svgcontent #leaf")?.getBoundingClientRect() as DOMRect;
        return { told: [...at(-30, -20), ...at(-10, 0)], seen: [box.left, box.top, box.right, box.bottom] };
      });

    it.each([
      ["as opened", () => undefined],
      ["zoomed in", () => svgEditor.svgCanvas.setCurrentZoom(14)],
      ["zoomed out", () => svgEditor.svgCanvas.setCurrentZoom(2)],
    ])(
      "lies on the drawing, %s, scrolled and resized, on a page that begins elsewhere",
      async (_how, zoom) => {
        await open(POND);
        await editor.page.evaluate(zoom as () => void);
        await editor.page.evaluate(() => svgEditor.updateCanvas(true));
        const near = async () => {
          const { told, seen } = await corners();
          for (const [k, place] of told.entries()) expect(Math.abs(place - seen[k])).toBeLessThan(0.6);
        };
        await near();
        await editor.page.evaluate(() => document.getElementById("workarea")?.scrollBy(57, 31));
        await near();
        await editor.page.setViewportSize({ width: 1100, height: 700 });
        await near();
        await editor.page.setViewportSize({ width: 1400, height: 900 });
      },
    );

    it("tells of every move of the view", async () => {
      await open(POND);
      const told = await editor.page.evaluate(async () => {
        const { overlay } = svgEditor.svgCanvas.extensions.tuckline.host;
        const moves: string[] = [];
        const frame = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
        let what = "";
        await frame();
        const stop = overlay.onView(() => moves.push(what));
        what = "zoom";
        svgEditor.svgCanvas.setCurrentZoom(9);
        svgEditor.updateCanvas();
        await frame();
        what = "scroll";
        document.getElementById("workarea")?.scrollBy(20, 20);
        await frame();
        await frame();
        what = "resize";
        (document.getElementById("panel") as HTMLElement).style.width = "500px";
        await frame();
        await frame();
        stop();
        return [...new Set(moves)];
      });
      expect(told).toEqual(["zoom", "scroll", "resize"]);
    });

    it("brings a place into view, and zooms out where it is too large", async () => {
      await open(CREST);
      const visible = await editor.page.evaluate(() => {
        const { overlay } = svgEditor.svgCanvas.extensions.tuckline.host;
        svgEditor.svgCanvas.setCurrentZoom(40);
        svgEditor.updateCanvas(true);
        const shows = (box: { x: number; y: number; width: number; height: number }) => {
          overlay.reveal(box);
          const [a, , , d, e, f] = overlay.view();
          const { clientWidth, clientHeight } = overlay.element;
          const left = a * box.x + e;
          const top = d * box.y + f;
          return (
            left >= 0 &&
            top >= 0 &&
            left + a * box.width <= clientWidth &&
            top + d * box.height <= clientHeight
          );
        };
        return [shows({ x: 80, y: 90, width: 2, height: 2 }), shows({ x: 0, y: 0, width: 90, height: 100 })];
      });
      expect(visible).toEqual([true, true]);
    });

    it("lets clicks through to the drawing, takes its own, and holds the editor still", async () => {
      await open(CREST);
      const [x, y] = await middleOf("ground");
      const spot = [x - 110, y - 120] as const;
      await editor.page.mouse.click(...spot);
      expect(await selection()).toEqual(["ground"]);
      await editor.page.evaluate(() => svgEditor.svgCanvas.extensions.tuckline.host.select([]));
      await editor.page.evaluate(([x, y]) => {
        const { overlay } = svgEditor.svgCanvas.extensions.tuckline.host;
        const { left, top } = overlay.element.getBoundingClientRect();
        const mark = document.createElement("button");
        mark.id = "mark";
        mark.style.cssText = `position:absolute;pointer-events:auto;width:20px;height:20px;left:${x - left - 10}px;top:${y - top - 10}px`;
        overlay.element.append(mark);
      }, spot);
      await drag(spot, [50, 50]);
      expect(await selection()).toEqual([]);
      await editor.page.evaluate(() => {
        document.getElementById("mark")?.remove();
        svgEditor.svgCanvas.extensions.tuckline.host.overlay.hold(true);
      });
      await drag(spot, [50, 50]);
      expect([await selection(), await read()]).toEqual([[], CREST]);
      await editor.page.evaluate(() => svgEditor.svgCanvas.extensions.tuckline.host.overlay.hold(false));
      await editor.page.mouse.click(...spot);
      expect(await selection()).toEqual(["ground"]);
    });

    const selection = () =>
      editor.page.evaluate(() => [...svgEditor.svgCanvas.extensions.tuckline.host.selection()]);
  });
});

async function openFromMenu(name: string): Promise<void> {
  await editor.page.keyboard.press("Control+o");
  const dialog = editor.page.locator("dialog[open]");
  await dialog.waitFor();
  await dialog.getByRole("button", { name, exact: false }).first().click();
  const letGo = editor.page.getByRole("button", { name: "Let them go" });
  if (await letGo.isVisible()) await letGo.click();
}

describe("opening and saving", { timeout: PATIENCE_MS }, () => {
  beforeEach(async () => {
    await writeFile(join(editor.folder, "heron-crest.svg"), CREST);
    await writeFile(join(editor.folder, "forty-scales.svg"), fixture("forty-scales.svg"));
    await openFromMenu("heron-crest.svg");
    await expect.poll(read).toBe(CREST);
    errorsBefore = editor.errors.length;
  }, PATIENCE_MS);

  /** Chromium itself writes a refused save into the console. */
  const unexpected = () =>
    editor.errors.slice(errorsBefore).filter((error) => !error.includes("409 (Conflict)"));
  let errorsBefore = 0;
  const onDisk = (name = "heron-crest.svg") => readFile(join(editor.folder, name), "utf8");
  const notice = () => editor.page.locator(".tuckline-notice.shown");
  const turnGround = () =>
    editor.page.evaluate(() =>
      svgEditor.svgCanvas.extensions.tuckline.host.change("Angle", [
        { element: "ground", name: "data-tuck-angle", value: "12" },
      ]),
    );
  const TURNED = CREST.replace(/(id="ground"[^>]*)data-tuck-angle="90"/, '$1data-tuck-angle="12"');

  it("saves with Ctrl-S, byte for byte but for what was changed", async () => {
    await turnGround();
    await editor.page.keyboard.press("Control+s");
    await notice().getByText("Saved heron-crest.svg.").waitFor();
    expect(await onDisk()).toBe(TURNED);
    expect(unexpected()).toEqual([]);
  });

  it("asks before it writes over what another program wrote", async () => {
    await turnGround();
    const elsewhere = CREST.replace("#1c3347", "#2f6f8f");
    await writeFile(join(editor.folder, "heron-crest.svg"), elsewhere);
    await editor.page.keyboard.press("Control+s");
    const dialog = editor.page.locator("dialog[open]");
    await dialog.getByText("was changed by another program").waitFor();
    expect(await onDisk()).toBe(elsewhere);
    await dialog.getByRole("button", { name: "Another name…" }).click();
    await editor.page.getByLabel("Name").fill("heron-crest-turned");
    await editor.page.keyboard.press("Enter");
    await notice().getByText("Saved heron-crest-turned.svg.").waitFor();
    expect([await onDisk(), await onDisk("heron-crest-turned.svg")]).toEqual([elsewhere, TURNED]);
  });

  it("asks before Save as meets another drawing", async () => {
    await turnGround();
    await editor.page.keyboard.press("Control+Shift+s");
    await editor.page.getByLabel("Name").fill("forty-scales.svg");
    await editor.page.keyboard.press("Enter");
    await editor.page.getByText("There is a drawing called forty-scales.svg already.").waitFor();
    expect(await onDisk("forty-scales.svg")).toBe(fixture("forty-scales.svg"));
    await editor.page.getByRole("button", { name: "Replace it" }).click();
    await notice().getByText("Saved forty-scales.svg.").waitFor();
    expect(await onDisk("forty-scales.svg")).toBe(TURNED);
  });

  it("asks before unsaved changes are left, by opening and by closing", async () => {
    await turnGround();
    const warned = new Promise<string>((resolve) =>
      editor.page.once("dialog", (dialog) => {
        resolve(dialog.type());
        dialog.dismiss();
      }),
    );
    await editor.page.mouse.click(300, 850);
    await editor.page.evaluate(() => location.reload());
    expect(await warned).toBe("beforeunload");
    await editor.page.keyboard.press("Control+o");
    await editor.page.getByRole("button", { name: "forty-scales.svg" }).click();
    await editor.page.getByText("changes that are not saved").waitFor();
    await editor.page.keyboard.press("Escape");
    expect(await read()).toBe(TURNED);
  });

  it("says in one line what is wrong with a broken file, and stays as it was", async () => {
    await writeFile(
      join(editor.folder, "broken.svg"),
      "<svg xmlns='http://www.w3.org/2000/svg'>\n<path d='M0 0'\n",
    );
    await openFromMenu("broken.svg");
    await notice().waitFor();
    expect(await notice().locator("span").textContent()).toMatch(
      /^broken\.svg \(line \d+, column \d+\) cannot be opened\. .+\.$/,
    );
    expect(await read()).toBe(CREST);
    await turnGround();
    expect(await read()).toBe(TURNED);
    expect(unexpected()).toEqual([]);
  });
});

describe("the first minute", { timeout: PATIENCE_MS }, () => {
  beforeAll(() => editor.close());
  afterEach(() => editor?.close());

  it("offers the demo crest where nothing was named", async () => {
    editor = await openEditor(browser);
    await editor.page.getByRole("button", { name: "Try the demo crest" }).click();
    await expect.poll(read).toBe(CREST);
    await editor.page.keyboard.press("Control+s");
    await editor.page.getByLabel("Name").fill("mine");
    await editor.page.keyboard.press("Enter");
    await editor.page.getByText("Saved mine.svg.").waitFor();
    expect(await readFile(join(editor.folder, "mine.svg"), "utf8")).toBe(CREST);
    expect([editor.errors, editor.foreign]).toEqual([[], []]);
  });

  it("says so where the address lacks the session's token", async () => {
    editor = await openEditor(browser, { drawings: ["fixtures/heron-crest.svg"] });
    await editor.page.goto("about:blank");
    await editor.page.goto(editor.url.replace(/#.*/, ""));
    await editor.page.getByText("Open the address that tuckline printed").waitFor();
  });

  it("ends quietly on Ctrl-C", async () => {
    const edit = await startEdit([], "/");
    expect([await edit.end(), edit.stderr()]).toEqual([0, ""]);
  });
});
