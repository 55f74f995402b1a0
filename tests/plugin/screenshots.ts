/** `npm run screenshots`: the main states of the editor with its panel, into out/panel; one of them for the README. */
import { copyFile, mkdir } from "node:fs/promises";
import type { Locator, Page } from "playwright-core";
import { launchChromium, missingForBrowser, openEditor } from "../support/browser.ts";
import { fanOfFeathers } from "../support/fans.ts";
import { marker, placeOfMarker, planned, view } from "./e2e/panel-page.ts";

const FOLDER = "out/panel";
/** What is painted off the main thread comes a little later than the plan; a picture may wait for it. */
const SETTLED_MS = 2500;

const missing = missingForBrowser();
if (missing !== undefined) throw new Error(`${missing} is missing`);
await mkdir(FOLDER, { recursive: true });
const browser = await launchChromium();
const crest = ["fixtures/heron-crest.svg"];

async function shoot(page: Page, name: string): Promise<void> {
  await page.waitForTimeout(SETTLED_MS);
  await page.screenshot({ path: `${FOLDER}/${name}.png` });
  console.log(`${FOLDER}/${name}.png`);
}

const tick = (page: Page, name: string): Locator => page.getByRole("checkbox", { name });

/** While the editor is held up. */
async function shootFirstLook(colorScheme: "light" | "dark"): Promise<void> {
  let release: () => void = () => {};
  const held = new Promise<void>((resolve) => {
    release = resolve;
  });
  const before = (page: Page): Promise<unknown> =>
    page.route("**/Editor.js", (route) => held.then(() => route.continue()));
  const opened = await openEditor(browser, {
    drawings: crest,
    colorScheme,
    before,
    until: "#first-look.shown",
  });
  await shoot(opened.page, `first-look-${colorScheme}`);
  release();
  await planned(opened.page);
  await opened.close();
}

for (const colorScheme of ["light", "dark"] as const) {
  await shootFirstLook(colorScheme);
  const { page, close } = await openEditor(browser, { drawings: crest, colorScheme });
  page.setDefaultTimeout(60_000);
  await planned(page);
  await shoot(page, `plan-${colorScheme}`);
  if (colorScheme === "light") {
    await tick(page, "Sew-out").check();
    for (const name of ["Connectors", "Entries and exits", "Findings"]) await tick(page, name).uncheck();
    await shoot(page, "sew-out");
    await tick(page, "Sew-out").uncheck();
    await tick(page, "Stitches").check();
    await shoot(page, "stitches");
    await tick(page, "Stitches").uncheck();
    for (const name of ["Connectors", "Entries and exits"]) await tick(page, name).check();

    await view(page, /Pieces/);
    await page.getByRole("treeitem", { name: /, sun-disc, / }).click();
    await shoot(page, "piece");
    const [x, y] = await placeOfMarker(page, "exit", "sun-disc");
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 30, y + 60, { steps: 4 });
    await shoot(page, "marker-in-hand");
    await page.mouse.up();
    await planned(page, 1);
    await marker(page, "exit", "sun-disc").waitFor();
    await shoot(page, "pinned");

    await view(page, /Findings/);
    await shoot(page, "findings");
    await view(page, /Save/);
    await shoot(page, "save");
    await page.getByLabel("Place in the sewing").fill("7000");
    await shoot(page, "player");
  } else {
    await view(page, /Pieces/);
    await shoot(page, "pieces-dark");
  }
  await close();
}

const fan = await openEditor(browser, { texts: { "fan.svg": fanOfFeathers(300) } });
await planned(fan.page);
await shoot(fan.page, "three-hundred");
await fan.close();
const welcome = await openEditor(browser);
await shoot(welcome.page, "welcome");
await welcome.close();
const torn = await openEditor(browser, { texts: { "torn.svg": "<svg><path" } });
await shoot(torn.page, "torn");
await torn.close();

await browser.close();
await copyFile(`${FOLDER}/piece.png`, "fixtures/pictures/editor.png");
