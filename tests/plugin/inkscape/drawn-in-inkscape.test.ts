/** Drawings that Inkscape itself made and saved: what is read of them, what is planned, and what is refused. */
import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { readArtwork } from "../../../core/artwork/read.ts";
import { boxOf } from "../../../core/geometry/point.ts";
import { writeLayers } from "../../../core/layers/write.ts";
import { makePlan } from "../../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../../core/settings.ts";
import { elementOf } from "../../../plugin/hosts/inkscape/selection.ts";
import { ARTIST_ACTIONS, CLUB } from "./editor-drawing.ts";
import { type InkscapeRun, inInkscape, MOST_MS, profileIn, runInkscape, saveAs } from "./inkscape.ts";
import { artworkLines, looksOf, ownElements } from "./saved.ts";

const MM_PER_PX = 25.4 / 96;

let folder = "";
let ran: InkscapeRun = { stdout: "", stderr: "" };
const saved = (name: string): Promise<string> => readFile(join(folder, name), "utf8");

async function open(drawing: string, presets: Readonly<Record<string, string>>, actions: readonly string[]) {
  folder = await mkdtemp(join(tmpdir(), "heron-"));
  await writeFile(join(folder, "club.svg"), drawing);
  const profile = await profileIn(folder, presets);
  ran = await runInkscape(profile, join(folder, "club.svg"), actions);
}
const close = () => rm(folder, { recursive: true, force: true });

inInkscape("a drawing that Inkscape saved", () => {
  beforeAll(async () => {
    await open(CLUB, { "tuckline.plan.stitches": "hidden", "tuckline.plan.findings": "left-out" }, [
      ...ARTIST_ACTIONS,
      "query-all",
      saveAs("saved.svg"),
      "tuckline.plan.noprefs",
      saveAs("planned.svg"),
      "tuckline.plan.noprefs",
      saveAs("again.svg"),
      "tuckline.check.noprefs",
    ]);
  }, MOST_MS);
  afterAll(close);

  it("is read as the editor draws it: transforms, units, strokes, a clone, a live effect's outcome", async () => {
    const svg = await saved("saved.svg");
    expect(svg).toMatch(/<use\s/);
    expect(svg).toMatch(/ d="[^"]* a 6,6 [^"]*"\s+id="wing"/);
    const { pieces } = readArtwork(svg, "club.svg", DEFAULT_SETTINGS);
    // The boxes that the editor tells: id, x, y, width, height, in pixels of the page.
    const told = [...ran.stdout.matchAll(/^([\w-]+),([-\d.]+),([-\d.]+),([\d.]+),([\d.]+)$/gm)];
    const boxes = new Map(
      told.map(([, id, ...figures]) => [id, figures.map((one) => Number(one) * MM_PER_PX)]),
    );
    const elements = [...new Set(pieces.map(elementOf))];
    expect(elements).toHaveLength(6);
    for (const element of elements) {
      const own = pieces.filter((piece) => elementOf(piece) === element);
      const { minX, minY, maxX, maxY } = boxOf(own.flatMap(({ region }) => region[0].outer));
      const [x, y, width, height] = boxes.get(element) ?? [];
      // Curves are flat to 0.05 mm in ours.
      for (const [ours, editors] of [
        [minX, x],
        [minY, y],
        [maxX, x + width],
        [maxY, y + height],
      ])
        expect(Math.abs(ours - editors), `${element}: ${ours} for ${editors}`).toBeLessThan(0.06);
    }
  });

  it("is planned as the command line plans it, with the layers that were asked for", async () => {
    const svg = await saved("saved.svg");
    const plan = makePlan(svg, "club.svg", DEFAULT_SETTINGS);
    const byCommand = writeLayers(svg, plan, { stitches: "hidden", findings: "left-out" });
    const planned = await saved("planned.svg");
    expect(ownElements(planned)).toEqual(ownElements(byCommand));
    expect(looksOf(planned).equals(looksOf(byCommand))).toBe(true);
    expect(artworkLines(planned)).toEqual(artworkLines(svg));
  });

  it("is not changed by planning it again", async () => {
    expect(ownElements(await saved("again.svg"))).toEqual(ownElements(await saved("planned.svg")));
  });

  it("is checked in a window", async () => {
    expect(await readdir(folder)).toContain("windows.txt");
  });
});

inInkscape("what cannot be done in Inkscape", () => {
  beforeAll(async () => {
    // A page of nine kilometres is refused by the core, and a strand of nothing by the menu entry.
    await open(CLUB.replace('width="80mm" height="60mm"', 'width="9000000mm" height="6750000mm"'), {}, [
      saveAs("given.svg"),
      "tuckline.plan.noprefs",
      saveAs("after-plan.svg"),
      "select-clear",
      "tuckline.strand.noprefs",
      saveAs("after-strand.svg"),
    ]);
  }, MOST_MS);
  afterAll(close);

  it("is told in a window, and leaves the drawing alone", async () => {
    expect((await saved("windows.txt")).split("\n").length).toBeGreaterThan(1);
    const given = artworkLines(await saved("given.svg"));
    expect(artworkLines(await saved("after-plan.svg"))).toEqual(given);
    expect(artworkLines(await saved("after-strand.svg"))).toEqual(given);
    expect(await saved("after-plan.svg")).not.toContain("data-tuck");
  });
});
