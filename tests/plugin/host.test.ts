/**
 * Drawings in the browser editor, in a real Chromium on the built command: what is shown, what comes back, what the
 * artist and the panel change. What a drawing renders as is judged by resvg, which knows nothing of this project.
 */
import { readdirSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import { readDrawing, spreadNames } from "../support/drawing-sets.ts";
import { CREST, difference, fixture, newLines, PATIENCE_MS, PATIENT, POND, Shared } from "./host-page.ts";

const shared = new Shared().use(["fixtures/heron-crest.svg"]);

describe("the browser editor as host", PATIENT, () => {
  shared.staysQuiet();

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
      await shared.open(text);
      const shown = await shared.editor.page.evaluate(() => {
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
      const readings = await shared.editor.page.evaluate(async (texts) => {
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
      await shared.open(`<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
  <g><path d="M0 0h9v9z"/><path id="path-2" d="M9 9h9v9z"/></g><path d="M1 1h2v2z"/></svg>`);
      await shared.editor.page.evaluate(() =>
        svgEditor.svgCanvas.extensions.tuckline.host.change("Angle", [
          { element: "path-1", name: "data-tuck-angle", value: "30" },
        ]),
      );
      expect(await shared.read()).toContain(
        '<g id="g-1"><path id="path-1" d="M0 0h9v9z" data-tuck-angle="30"/>',
      );
      expect(await shared.read()).toContain('<path id="path-3" d="M1 1h2v2z"/></svg>');
    });

    it("keeps what the editor cannot show, and says that it is there", async () => {
      const text = `<?xml version="1.0"?>
<!-- the boat house, spring -->
<svg xmlns="http://www.w3.org/2000/svg" xmlns:club="urn:club" width="20mm" height="20mm" viewBox="0 0 20 20">
  <club:season name="spring"/>
  <path id="oar" club:length="3.7m" d="M2 2h16v3z"><animate attributeName="opacity" to="0"/></path>
</svg>
`;
      await writeFile(join(shared.editor.folder, "season.svg"), text);
      await shared.openFromMenu("season.svg");
      await shared.editor.page.locator(".tuckline-notice.shown", { hasText: "1 animate" }).waitFor();
      await shared.editor.page.evaluate(() =>
        svgEditor.svgCanvas.extensions.tuckline.host.change("Angle", [
          { element: "oar", name: "data-tuck-angle", value: "8" },
        ]),
      );
      expect(await shared.read()).toBe(
        text.replace(' d="M2', ' d="M2').replace('16v3z">', '16v3z" data-tuck-angle="8">'),
      );
    });
  });

  it("keeps what is selected when the drawing is replaced, as by layers that are written into it", async () => {
    await shared.open(POND);
    const selections = await shared.editor.page.evaluate(() => {
      const { host } = svgEditor.svgCanvas.extensions.tuckline;
      const told: (readonly string[])[] = [];
      host.select(["ring", "leaf"]);
      const stop = host.onSelection((elements) => told.push(elements));
      host.replace(
        "Write layers",
        host.read().replace("</svg>", '<g class="layer"><title>Plan</title></g></svg>'),
      );
      const after = host.selection();
      stop();
      host.undo();
      return { after, last: told.at(-1) ?? after };
    });
    expect([...selections.after].sort()).toEqual(["leaf", "ring"]);
    expect([...selections.last].sort()).toEqual(["leaf", "ring"]);
    expect(await shared.read()).toBe(POND);
  });

  describe("what the artist changes", () => {
    it("moves one element by hand, and writes that one alone", async () => {
      await shared.open(CREST);
      await shared.editor.page.keyboard.press("Escape");
      const before = await shared.middleOf("sun-disc");
      // Beside the heron, where the sun is seen; the crest has layers above and below it.
      await shared.drag([before[0] + 80, before[1] + 20], [40, -20]);
      const after = await shared.read();
      const changed = newLines(CREST, after);
      expect(changed).toHaveLength(1);
      expect(changed[0]).toContain('id="sun-disc"');
      expect(difference(CREST, after)).toBeGreaterThan(0.001);
      await shared.editor.page.keyboard.press("Control+z");
      await shared.reads((now) => expect(now).toBe(CREST));
    });

    it("draws new shapes into the layer that is chosen, where the artist sees them, on a shifted page too", async () => {
      await shared.open(POND);
      await shared.editor.page.evaluate(() => document.getElementById("tool_rect")?.click());
      const [x, y] = await shared.middleOf("ring");
      await shared.drag([x, y], [60, 40]);
      const after = await shared.read();
      const made = /<rect(?=[^>]*id="svg_)[^>]*>/.exec(after)?.[0] ?? "";
      expect(newLines(POND, after).join("")).toContain(made);
      const drawn = await shared.editor.page.evaluate(() => {
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
      await shared.open(text);
      await shared.editor.page.evaluate(() => {
        const { svgCanvas } = svgEditor;
        for (const id of ["a", "b"]) {
          svgCanvas.selectOnly([document.querySelector(`#svgcontent #${id}`) as Element]);
          (svgCanvas as unknown as { setColor(what: string, value: string): void }).setColor(
            "fill",
            "#a3293d",
          );
        }
      });
      const after = await shared.read();
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
        shared.editor.page.evaluate(
          ([id, method]) => {
            const canvas = svgEditor.svgCanvas as unknown as Record<string, () => void>;
            svgEditor.svgCanvas.selectOnly([document.querySelector(`#svgcontent #${id}`) as Element]);
            canvas[method]();
          },
          [id, method],
        );
      await shared.open(text);
      await run("a", "moveToTopSelectedElement");
      const reordered = await shared.read();
      expect([...reordered.matchAll(/id="(\w)"/g)].map(([, id]) => id).join("")).toBe("bca");
      expect(reordered).toMatch(/<!-- second -->\s*<rect id="b"/);
      expect(reordered).toMatch(/<!-- first -->\s*<rect id="a"/);
      await run("b", "deleteSelectedElements");
      expect(await shared.read()).not.toContain('id="b"');
      expect(await shared.read()).toContain("<!-- second -->");
      await shared.editor.page.keyboard.press("Control+z");
      await shared.reads((now) => expect(now).toContain('id="b"'));
      await shared.editor.page.keyboard.press("Control+z");
      await shared.reads((now) => expect(now).toBe(text));
      await run("c", "groupSelectedElements");
      expect(await shared.read()).toMatch(
        /<g id="svg_\d+">\s*<rect id="c" x="10" width="8" height="8" fill="blue"\/>\s*<\/g>/,
      );
    });

    it("keeps a user unit as long as it was when the page is resized", async () => {
      await shared.open(CREST);
      await shared.editor.page.evaluate(() => svgEditor.svgCanvas.setResolution(180, 100));
      expect(await shared.read()).toContain('width="180mm" height="100mm" viewBox="0 0 180 100"');
      await shared.editor.page.keyboard.press("Control+z");
      await shared.reads((now) => expect(now).toBe(CREST));
    });

    it("adds layers to a shifted page where they are seen", async () => {
      await shared.open(POND);
      await shared.editor.page.evaluate(() => svgEditor.svgCanvas.createLayer("Reeds"));
      expect(await shared.read()).toMatch(
        /<g class="layer" transform="translate\(-40 -30\)"><title>Reeds<\/title><\/g>\s*<\/svg>/,
      );
    });

    it("takes the drawing's own source, physical size and all, in the editor's source view", async () => {
      await shared.open(CREST);
      await shared.editor.page.evaluate(() => document.getElementById("tool_source")?.click());
      const shown = await shared.editor.page.evaluate(() =>
        document.getElementById("se-svg-editor-dialog")?.getAttribute("value"),
      );
      expect(shown).toBe(CREST);
      const edited = CREST.replace('fill="#1c3347"', 'fill="#2f6f8f"');
      await shared.editor.page.evaluate((value) => {
        document
          .getElementById("se-svg-editor-dialog")
          ?.dispatchEvent(new CustomEvent("change", { detail: { value, dialog: "close" } }));
      }, edited);
      await expect.poll(shared.read).toBe(edited);
    });
  });

  describe("what the panel changes", () => {
    it("sets attributes as one step of undo, and leaves a turned element where it is", async () => {
      const text = `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
<g class="layer"><title>Oars</title>
<rect id="oar" transform="rotate(30 5 5) scale(2 1)" width="8" height="2"/><rect id="blade" y="9" width="3" height="3"/></g></svg>`;
      await shared.open(text);
      const steps = await shared.editor.page.evaluate(() => {
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
      const after = await shared.read();
      expect(after).toContain(
        '<rect id="oar" transform="rotate(30 5 5) scale(2 1)" width="8" height="2" data-tuck-angle="45"/>',
      );
      expect(after).toContain('<metadata data-tuck-settings="recipe=knit"/>');
      await shared.editor.page.keyboard.press("Control+z");
      await shared.reads((now) => expect(now).toBe(text));
      await shared.editor.page.keyboard.press("Control+y");
      await shared.reads((now) => expect(now).toBe(after));
    });

    it("keeps what is selected at undo and redo, as far as it is there", async () => {
      const text = POND.replace('id="reed"', 'id="reed" data-tuck-angle="20"');
      await shared.open(text);
      const { page } = shared.editor;
      const selected = () =>
        page.evaluate(() => [...svgEditor.svgCanvas.extensions.tuckline.host.selection()].sort());
      await page.evaluate(
        (other) => {
          const { host } = svgEditor.svgCanvas.extensions.tuckline;
          host.change("Angle", [{ element: "leaf", name: "data-tuck-angle", value: "45" }]);
          host.replace("Without the reed", other);
          host.undo();
          host.select(["leaf", "reed"]);
        },
        text.replace(/<path id="reed"[^>]*>/, ""),
      );
      await page.keyboard.press("Control+z");
      await vi.waitFor(async () => expect(await selected()).toEqual(["leaf", "reed"]), PATIENCE_MS / 4);
      await page.keyboard.press("Control+y");
      await page.keyboard.press("Control+y");
      await vi.waitFor(async () => expect(await selected()).toEqual(["leaf"]), PATIENCE_MS / 4);
    });

    it("puts another version in place as one step of undo, and goes on from either", async () => {
      await shared.open(CREST);
      const [sun] = /<circle id="sun-disc"[^>]*>/.exec(CREST) ?? [""];
      const other = CREST.replace(sun, "");
      expect(other).not.toBe(CREST);
      await shared.editor.page.evaluate(
        (other) => svgEditor.svgCanvas.extensions.tuckline.host.replace("Without the sun", other),
        other,
      );
      expect(await shared.read()).toBe(other);
      const isShown = () =>
        shared.editor.page.evaluate(() => document.querySelector("#svgcontent #sun-disc") !== null);
      expect(await isShown()).toBe(false);
      await shared.editor.page.keyboard.press("Control+z");
      expect([await isShown(), await shared.read()]).toEqual([true, CREST]);
      await shared.editor.page.keyboard.press("Control+y");
      expect([await isShown(), await shared.read()]).toEqual([false, other]);
      await shared.editor.page.evaluate(() =>
        svgEditor.svgCanvas.extensions.tuckline.host.change("Angle", [
          { element: "ground", name: "data-tuck-angle", value: "12" },
        ]),
      );
      expect(await shared.read()).toBe(
        other
          .replace('id="ground"', 'id="ground"')
          .replace(/(id="ground"[^>]*)data-tuck-angle="90"/, '$1data-tuck-angle="12"'),
      );
    });
  });
});
