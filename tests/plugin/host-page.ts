/** The running editor as tests of the host see it: the page, what the host says, and the artist's hand. */
import { readFileSync } from "node:fs";
import { Resvg } from "@resvg/resvg-js";
import type { Browser } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, expect, vi } from "vitest";
import type { EditorHost } from "../../plugin/editor-host.ts";
import { type EditorPage, launchChromium, missingForBrowser, openEditor } from "../support/browser.ts";

declare global {
  // The editor puts itself there.
  var svgEditor: RunningEditor;
}

export interface RunningEditor {
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
}

/** A browser starts slowly where many things run at once. */
export const PATIENCE_MS = 60_000;

/** Where many things run at once, a browser now and then loses a key that it was sent: then it is sent once more. */
export const PATIENT = { timeout: PATIENCE_MS, retry: 1 };

/** The extension of the editor that is added last. */
const LAST_TOOL = "layer_view";

export const fixture = (name: string): string =>
  readFileSync(new URL(`../../fixtures/${name}`, import.meta.url), "utf8");

export const CREST = fixture("heron-crest.svg");

/** A pond whose page does not begin at 0 0, with a loose leaf and a layer that is turned. */
export const POND = `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="-40 -30 80 60">
  <rect id="leaf" x="-30" y="-20" width="20" height="20" fill="#3c6e47"/>
  <g id="water" class="layer" transform="rotate(10)"><title>Water</title>
    <circle id="ring" cx="10" cy="5" r="12" fill="#2f6f8f"/></g>
  <!-- reeds to come -->
  <path id="reed" d="M0 0L10 10L0 10z" style="fill:#c8923c"/>
</svg>
`;

/** The browser and the page that the tests of a file share. */
export class Shared {
  browser!: Browser;
  editor!: EditorPage;

  /** Opens the editor with these drawings before all tests of the file. */
  use(drawings: readonly string[]): this {
    beforeAll(async () => {
      const missing = missingForBrowser();
      if (missing !== undefined)
        throw new Error(`${missing} is missing: see .ci/run, and run npm test, which builds.`);
      this.browser = await launchChromium();
      this.editor = await openEditor(this.browser, { drawings });
      // The editor adds its tools once the first plan is seen, and may not heed a key meanwhile.
      await this.editor.page.waitForFunction((last) => last in svgEditor.svgCanvas.extensions, LAST_TOOL, {
        timeout: PATIENCE_MS,
      });
    }, PATIENCE_MS);
    afterAll(async () => {
      await this.editor?.close();
      await this.browser?.close();
    }, PATIENCE_MS);
    return this;
  }

  /** Holds every test of the group to it: no error in the console, no request that leaves this machine. */
  staysQuiet(): void {
    let errorsBefore = 0;
    beforeEach(() => {
      errorsBefore = this.editor.errors.length;
    });
    afterEach(() => {
      expect(this.editor.errors.slice(errorsBefore)).toEqual([]);
      expect(this.editor.foreign).toEqual([]);
    });
  }

  /** Opens a text as the host's `open` does. */
  open = (text: string): Promise<void> =>
    this.editor.page.evaluate((text) => svgEditor.svgCanvas.extensions.tuckline.host.open(text, null), text);

  read = (): Promise<string> =>
    this.editor.page.evaluate(() => svgEditor.svgCanvas.extensions.tuckline.host.read());

  /** Waits until what is read passes: a key on a busy page takes its time. */
  reads = (passes: (now: string) => void): Promise<void> =>
    vi.waitFor(async () => passes(await this.read()), PATIENCE_MS / 4);

  /** Where the middle of an element is on the screen. */
  middleOf = (id: string): Promise<readonly [number, number]> =>
    this.editor.page.evaluate((id) => {
      const box = document.querySelector(`#svgcontent [id="${id}"]`)?.getBoundingClientRect() as DOMRect;
      return [box.x + box.width / 2, box.y + box.height / 2] as const;
    }, id);

  /** By its keys and its list, as the artist does; unsaved changes are let go. */
  async openFromMenu(name: string): Promise<void> {
    await this.editor.page.keyboard.press("Control+o");
    const dialog = this.editor.page.locator("dialog[open]");
    await dialog.waitFor();
    await dialog.getByRole("button", { name, exact: false }).first().click();
    const letGo = this.editor.page.getByRole("button", { name: "Let them go" });
    if (await letGo.isVisible()) await letGo.click();
  }

  async drag(from: readonly [number, number], by: readonly [number, number]): Promise<void> {
    const { mouse } = this.editor.page;
    await mouse.move(...from);
    await mouse.down();
    await mouse.move(from[0] + by[0] / 2, from[1] + by[1] / 2);
    await mouse.move(from[0] + by[0], from[1] + by[1]);
    await mouse.up();
  }
}

function pixels(svgText: string): { width: number; height: number; rgba: Buffer } {
  const image = new Resvg(svgText, {
    fitTo: { mode: "width", value: 160 },
    font: { loadSystemFonts: false },
  }).render();
  return { width: image.width, height: image.height, rgba: image.pixels };
}

/** The share of pixels that differ by more than a shade. */
export function difference(one: string, other: string): number {
  const [a, b] = [pixels(one), pixels(other)];
  if (a.width !== b.width || a.height !== b.height) return 1;
  let count = 0;
  for (let k = 0; k < a.rgba.length; k += 4)
    if ([0, 1, 2, 3].some((part) => Math.abs(a.rgba[k + part] - b.rgba[k + part]) > 16)) count++;
  return count / (a.rgba.length / 4);
}

/** The lines of `after` that `before` has not. */
export const newLines = (before: string, after: string): string[] => {
  const known = new Set(before.split("\n"));
  return after.split("\n").filter((line) => !known.has(line));
};
