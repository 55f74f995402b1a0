/** A node of a path, selected with the editor's own node tool, is where a pin is put. */
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { all, parseDom } from "../../support/dom.ts";
import { CREST } from "./drawings.ts";
import { inInkscape, MOST_MS, profileIn, typeInInkscape } from "./inkscape.ts";

/** Where the nodes lie on the page, worked out by hand from path data and the layers' transforms. */
const NODES: Readonly<Record<string, readonly string[]>> = {
  "feather-1": ["10 5", "24 5", "24 15", "10 15"],
  "feather-2": ["20 9", "34 9", "34 19", "20 19"],
  pennant: ["40 10", "20 14", "38 22"],
};

let folder = "";

inInkscape("a node that is selected in Inkscape", () => {
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "heron-"));
    await writeFile(join(folder, "club.svg"), CREST);
    const profile = await profileIn(folder);
    // The selection tool, all shapes of all layers; the node tool, its first node; our menu entry.
    const keys = ["F1", "ctrl+alt+a", "F2", "Tab", "ctrl+F8"];
    const bindings = { "&lt;Primary&gt;F8": "app.tuckline.pin.noprefs" };
    await typeInInkscape(profile, join(folder, "club.svg"), keys, bindings, "data-tuck-entry");
  }, MOST_MS);
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it("is where its piece is entered from then on", async () => {
    const root = parseDom(await readFile(join(folder, "club.svg"), "utf8")).documentElement;
    const pinned = all(root, "[data-tuck-entry]");
    expect(pinned.length).toBeGreaterThan(0);
    for (const element of pinned)
      expect(NODES[element.getAttribute("id") ?? ""]).toContain(element.getAttribute("data-tuck-entry"));
  });
});
