/** What the panel shares with the browser editor: the selection, and the surface over the canvas. */
import { describe, expect, it } from "vitest";
import { CREST, PATIENT, POND, Shared } from "./host-page.ts";

const shared = new Shared().use(["fixtures/heron-crest.svg"]);

describe("the browser editor under the panel", PATIENT, () => {
  shared.staysQuiet();

  describe("selection", () => {
    it("tells what the artist clicks, and of a group what is drawn in it", async () => {
      await shared.open(CREST);
      await shared.editor.page.evaluate(() => {
        const seen: string[][] = [];
        (window as unknown as { seen: string[][] }).seen = seen;
        svgEditor.svgCanvas.extensions.tuckline.host.onSelection((ids) => seen.push([...ids]));
      });
      const [x, y] = await shared.middleOf("ground");
      await shared.editor.page.mouse.click(x - 110, y - 120);
      const seen = await shared.editor.page.evaluate(() => (window as unknown as { seen: string[][] }).seen);
      expect(seen.at(-1)).toEqual(["ground"]);
    });

    it("selects in the editor what the panel asks for, and nothing", async () => {
      const selected = await shared.editor.page.evaluate(() => {
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
      shared.editor.page.evaluate(() => {
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
        await shared.open(POND);
        await shared.editor.page.evaluate(zoom as () => void);
        await shared.editor.page.evaluate(() => svgEditor.updateCanvas(true));
        const near = async () => {
          const { told, seen } = await corners();
          for (const [k, place] of told.entries()) expect(Math.abs(place - seen[k])).toBeLessThan(0.6);
        };
        await near();
        await shared.editor.page.evaluate(() => document.getElementById("workarea")?.scrollBy(57, 31));
        await near();
        await shared.editor.page.setViewportSize({ width: 1100, height: 700 });
        await near();
        await shared.editor.page.setViewportSize({ width: 1400, height: 900 });
      },
    );

    it("tells of every move of the view", async () => {
      await shared.open(POND);
      const told = await shared.editor.page.evaluate(async () => {
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
      await shared.open(CREST);
      const visible = await shared.editor.page.evaluate(() => {
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

    it("undoes and redoes while something on it has the focus", async () => {
      await shared.open(CREST);
      await shared.editor.page.evaluate(() => {
        const { host } = svgEditor.svgCanvas.extensions.tuckline;
        host.change("Angle", [{ element: "ground", name: "data-tuck-angle", value: "12" }]);
        const mark = document.createElement("button");
        mark.id = "focused";
        host.overlay.element.append(mark);
        mark.focus();
      });
      await shared.editor.page.keyboard.press("Control+z");
      await shared.reads((now) => expect(now).toBe(CREST));
      await shared.editor.page.keyboard.press("Control+Shift+z");
      await shared.reads((now) => expect(now).toContain('data-tuck-angle="12"'));
      await shared.editor.page.evaluate(() => document.getElementById("focused")?.remove());
    });

    it("lets clicks through to the drawing, takes its own, and holds the editor still", async () => {
      await shared.open(CREST);
      const [x, y] = await shared.middleOf("ground");
      const spot = [x - 110, y - 120] as const;
      await shared.editor.page.mouse.click(...spot);
      expect(await selection()).toEqual(["ground"]);
      await shared.editor.page.evaluate(() => svgEditor.svgCanvas.extensions.tuckline.host.select([]));
      await shared.editor.page.evaluate(([x, y]) => {
        const { overlay } = svgEditor.svgCanvas.extensions.tuckline.host;
        const { left, top } = overlay.element.getBoundingClientRect();
        const mark = document.createElement("button");
        mark.id = "mark";
        mark.style.cssText = `position:absolute;pointer-events:auto;width:20px;height:20px;left:${x - left - 10}px;top:${y - top - 10}px`;
        overlay.element.append(mark);
      }, spot);
      await shared.drag(spot, [50, 50]);
      expect(await selection()).toEqual([]);
      await shared.editor.page.evaluate(() => {
        document.getElementById("mark")?.remove();
        svgEditor.svgCanvas.extensions.tuckline.host.overlay.hold(true);
      });
      await shared.drag(spot, [50, 50]);
      expect([await selection(), await shared.read()]).toEqual([[], CREST]);
      await shared.editor.page.evaluate(() =>
        svgEditor.svgCanvas.extensions.tuckline.host.overlay.hold(false),
      );
      await shared.editor.page.mouse.click(...spot);
      expect(await selection()).toEqual(["ground"]);
    });

    const selection = () =>
      shared.editor.page.evaluate(() => [...svgEditor.svgCanvas.extensions.tuckline.host.selection()]);
  });
});
