/** Opening, saving and the first minute, in a real Chromium on the built command. */
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { openEditor, startEdit } from "../support/browser.ts";
import { CREST, fixture, PATIENCE_MS, PATIENT, POND, Shared } from "./host-page.ts";

const shared = new Shared().use(["fixtures/heron-crest.svg", "fixtures/forty-scales.svg"]);

describe("opening and saving", PATIENT, () => {
  beforeEach(async () => {
    await writeFile(join(shared.editor.folder, "heron-crest.svg"), CREST);
    await writeFile(join(shared.editor.folder, "forty-scales.svg"), fixture("forty-scales.svg"));
    // Another drawing first: only then does the crest tell that it has been opened, and the dialog closed.
    await shared.open(POND);
    await shared.openFromMenu("heron-crest.svg");
    await expect.poll(shared.read, { timeout: PATIENCE_MS / 4 }).toBe(CREST);
    errorsBefore = shared.editor.errors.length;
  }, PATIENCE_MS);

  /** Chromium itself writes a refused save into the console. */
  const unexpected = () =>
    shared.editor.errors.slice(errorsBefore).filter((error) => !error.includes("409 (Conflict)"));
  let errorsBefore = 0;
  const onDisk = (name = "heron-crest.svg") => readFile(join(shared.editor.folder, name), "utf8");
  const notice = () => shared.editor.page.locator(".tuckline-notice.shown");
  const turnGround = () =>
    shared.editor.page.evaluate(() =>
      svgEditor.svgCanvas.extensions.tuckline.host.change("Angle", [
        { element: "ground", name: "data-tuck-angle", value: "12" },
      ]),
    );
  const TURNED = CREST.replace(/(id="ground"[^>]*)data-tuck-angle="90"/, '$1data-tuck-angle="12"');

  it("saves with Ctrl-S, byte for byte but for what was changed", async () => {
    await turnGround();
    await shared.editor.page.keyboard.press("Control+s");
    await notice().getByText("Saved heron-crest.svg.").waitFor();
    expect(await onDisk()).toBe(TURNED);
    expect(unexpected()).toEqual([]);
  });

  it("asks before it writes over what another program wrote", async () => {
    await turnGround();
    const elsewhere = CREST.replace("#1c3347", "#2f6f8f");
    await writeFile(join(shared.editor.folder, "heron-crest.svg"), elsewhere);
    await shared.editor.page.keyboard.press("Control+s");
    const dialog = shared.editor.page.locator("dialog[open]");
    await dialog.getByText("was changed by another program").waitFor();
    expect(await onDisk()).toBe(elsewhere);
    await dialog.getByRole("button", { name: "Another name…" }).click();
    await shared.editor.page.getByLabel("Name").fill("heron-crest-turned");
    await shared.editor.page.keyboard.press("Enter");
    await notice().getByText("Saved heron-crest-turned.svg.").waitFor();
    expect([await onDisk(), await onDisk("heron-crest-turned.svg")]).toEqual([elsewhere, TURNED]);
  });

  it("asks before Save as meets another drawing", async () => {
    await turnGround();
    await shared.editor.page.keyboard.press("Control+Shift+s");
    await shared.editor.page.getByLabel("Name").fill("forty-scales.svg");
    await shared.editor.page.keyboard.press("Enter");
    await shared.editor.page.getByText("There is a drawing called forty-scales.svg already.").waitFor();
    expect(await onDisk("forty-scales.svg")).toBe(fixture("forty-scales.svg"));
    await shared.editor.page.getByRole("button", { name: "Replace it" }).click();
    await notice().getByText("Saved forty-scales.svg.").waitFor();
    expect(await onDisk("forty-scales.svg")).toBe(TURNED);
  });

  it("asks before unsaved changes are left, by opening and by closing", async () => {
    await turnGround();
    const warned = new Promise<string>((resolve) =>
      shared.editor.page.once("dialog", (dialog) => {
        resolve(dialog.type());
        dialog.dismiss();
      }),
    );
    await shared.editor.page.mouse.click(300, 850);
    await shared.editor.page.evaluate(() => location.reload());
    expect(await warned).toBe("beforeunload");
    await shared.editor.page.keyboard.press("Control+o");
    await shared.editor.page.getByRole("button", { name: "forty-scales.svg" }).click();
    await shared.editor.page.getByText("changes that are not saved").waitFor();
    await shared.editor.page.keyboard.press("Escape");
    expect(await shared.read()).toBe(TURNED);
  });

  it("says in one line what is wrong with a broken file, and stays as it was", async () => {
    await writeFile(
      join(shared.editor.folder, "broken.svg"),
      "<svg xmlns='http://www.w3.org/2000/svg'>\n<path d='M0 0'\n",
    );
    await shared.openFromMenu("broken.svg");
    await notice().waitFor();
    expect(await notice().locator("span").textContent()).toMatch(
      /^broken\.svg \(line \d+, column \d+\) cannot be opened\. .+\.$/,
    );
    expect(await shared.read()).toBe(CREST);
    await turnGround();
    expect(await shared.read()).toBe(TURNED);
    expect(unexpected()).toEqual([]);
  });
});

describe("the first minute", PATIENT, () => {
  beforeAll(() => shared.editor.close());
  afterEach(() => shared.editor?.close());

  it("offers the demo crest where nothing was named", async () => {
    shared.editor = await openEditor(shared.browser);
    await shared.editor.page.getByRole("button", { name: "Try the demo crest" }).click();
    await expect.poll(shared.read).toBe(CREST);
    await shared.editor.page.keyboard.press("Control+s");
    await shared.editor.page.getByLabel("Name").fill("mine");
    await shared.editor.page.keyboard.press("Enter");
    await shared.editor.page.getByText("Saved mine.svg.").waitFor();
    expect(await readFile(join(shared.editor.folder, "mine.svg"), "utf8")).toBe(CREST);
    expect([shared.editor.errors, shared.editor.foreign]).toEqual([[], []]);
  });

  it("says so where the address lacks the session's token", async () => {
    shared.editor = await openEditor(shared.browser, { drawings: ["fixtures/heron-crest.svg"] });
    await shared.editor.page.goto("about:blank");
    await shared.editor.page.goto(shared.editor.url.replace(/#.*/, ""));
    await shared.editor.page.getByText("Open the address that tuckline printed").waitFor();
  });

  it("ends quietly on Ctrl-C", async () => {
    const edit = await startEdit([], "/");
    expect([await edit.end(), edit.stderr()]).toEqual([0, ""]);
  });
});
