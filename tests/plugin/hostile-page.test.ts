/** The editor's page with a drawing that means harm, and with two windows on one drawing, in a real Chromium. */

import { readFile } from "node:fs/promises";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { launchChromium, missingForBrowser, openEditor } from "../support/browser.ts";
import { hostileDrawing } from "../support/hostile-drawing.ts";
import { PATIENCE_MS, PATIENT } from "./host-page.ts";

let browser: Browser;
/** Would be told of any request that leaves the page. */
let listener: Server;
const asked: string[] = [];

beforeAll(async () => {
  const missing = missingForBrowser();
  if (missing !== undefined)
    throw new Error(`${missing} is missing: see .ci/run, and run npm test, which builds.`);
  listener = createServer(({ url }, answer) => {
    asked.push(url ?? "");
    answer.end();
  });
  await new Promise<void>((done) => listener.listen(0, "127.0.0.1", done));
  browser = await launchChromium();
}, PATIENCE_MS);
afterAll(async () => {
  await browser?.close();
  await new Promise((done) => listener.close(done));
}, PATIENCE_MS);

const POND = `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="0 0 20 10">
<rect id="ground" fill="#2f6f8f" x="2" y="2" height="6" width="5"/></svg>
`;

const read = () => svgEditor.svgCanvas.extensions.tuckline.host.read();
const turnGround = (angle: string) =>
  svgEditor.svgCanvas.extensions.tuckline.host.change("Angle", [
    { element: "ground", name: "data-tuck-angle", value: angle },
  ]);

describe("a drawing that means harm", PATIENT, () => {
  it("is drawn and planned; nothing in it runs or is fetched; its text keeps every byte", async () => {
    const drawing = hostileDrawing(`http://127.0.0.1:${(listener.address() as AddressInfo).port}`);
    const editor = await openEditor(browser, {
      texts: { "crest.svg": drawing },
      until: "#svgcontent #feather",
    });
    try {
      const { page } = editor;
      await page.getByText("stitches").first().waitFor();
      // What waits for a hand: a click, the pointer above, the focus, a link.
      for (const id of ["feather", "pennant", "oar"]) {
        const box = await page.evaluate((name) => {
          const box = document.querySelector(`#svgcontent #${name}`)?.getBoundingClientRect();
          return box === undefined ? { x: 0, y: 0 } : { x: box.x + box.width / 2, y: box.y + box.height / 3 };
        }, id);
        await page.mouse.click(box.x, box.y);
      }
      const found = await page.evaluate(() => {
        const live = [...document.querySelectorAll("#svgcontent, #svgcontent *")];
        return {
          harm: (globalThis as { HARM?: unknown }).HARM ?? null,
          handlers: live.flatMap(({ attributes }) =>
            [...attributes].filter(({ name }) => name.startsWith("on")).map(({ name }) => name),
          ),
          addresses: live.flatMap(({ attributes }) =>
            [...attributes]
              .filter(
                ({ name, value }) =>
                  !name.startsWith("xmlns") && /^\s*(java|file:|https?:)|url\(["']?http/i.test(value),
              )
              .map(({ name, value }) => `${name}=${value}`),
          ),
          foreign: live
            .filter(({ localName }) => /^(script|foreignObject|iframe|animate|set)$/.test(localName))
            .map(({ outerHTML }) => outerHTML),
          styles: live.flatMap(({ localName, textContent }) => (localName === "style" ? [textContent] : [])),
        };
      });
      expect(found).toEqual({ harm: null, handlers: [], addresses: [], foreign: [], styles: [""] });
      expect([editor.foreign, asked]).toEqual([[], []]);
      expect(page.url()).toMatch(/^http:\/\/127\.0\.0\.1:\d+\//);
      expect(await page.evaluate(read)).toBe(drawing);
    } finally {
      await editor.close();
    }
  });
});

describe("two windows on one drawing", PATIENT, () => {
  it("the second that saves is asked, and what the first saved stays", async () => {
    const editor = await openEditor(browser, {
      texts: { "pond.svg": POND },
      until: "#svgcontent #ground",
    });
    try {
      const first = editor.page;
      const second = await first.context().newPage();
      await second.goto(editor.url);
      await second.waitForSelector("#svgcontent #ground");
      for (const [page, angle] of [
        [first, "12"],
        [second, "34"],
      ] as const) {
        await page.bringToFront();
        await page.evaluate(turnGround, angle);
        await page.keyboard.press("Control+s");
        await page.getByText(angle === "12" ? "Saved pond.svg." : "was changed by another program").waitFor();
      }
      const saved = POND.replace('width="5"/>', 'width="5" data-tuck-angle="12"/>');
      expect(await readFile(join(editor.folder, "pond.svg"), "utf8")).toBe(saved);
      // The second window still has its own work.
      expect(await second.evaluate(read)).toContain('data-tuck-angle="34"');
    } finally {
      await editor.close();
    }
  });
});
