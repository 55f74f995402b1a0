/** The menu entries run on the demo crest in Inkscape itself, and what it saves read back. */
import { copyFile, mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { writeLayers } from "../../../core/layers/write.ts";
import { machineFile } from "../../../core/output/machine.ts";
import { makePlan } from "../../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../../core/settings.ts";
import { type InkscapeRun, inInkscape, MOST_MS, profileIn, runInkscape, saveAs } from "./inkscape.ts";
import { artworkLines, looksOf, ownElements } from "./saved.ts";

let folder = "";
let ran: InkscapeRun = { stdout: "", stderr: "" };
const saved = (name: string): Promise<string> => readFile(join(folder, name), "utf8");

/** What the command line makes of the same file. */
const planOf = memoised((svg: string) => makePlan(svg, "crest.svg", DEFAULT_SETTINGS));

function memoised<T>(make: (text: string) => T): (text: string) => T {
  const made = new Map<string, T>();
  return (text) => {
    const known = made.get(text) ?? make(text);
    made.set(text, known);
    return known;
  };
}

inInkscape("the demo crest in Inkscape", () => {
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "heron-"));
    await copyFile(new URL("../../../fixtures/heron-crest.svg", import.meta.url), join(folder, "crest.svg"));
    const profile = await profileIn(folder, {
      "tuckline.pieces.technique": "run",
      "tuckline.save.folder": join(folder, "sewn"),
      "tuckline.save.tell": "0",
    });
    ran = await runInkscape(profile, join(folder, "crest.svg"), [
      saveAs("given.svg"),
      "select-by-id:torso",
      "tuckline.plan.noprefs",
      "select-list",
      saveAs("planned.svg"),
      "undo",
      saveAs("undone.svg"),
      "redo",
      "select-clear",
      "select-by-selector:[data-tuck-point=entry][data-tuck-piece=torso]",
      "transform-translate:6,0",
      "tuckline.plan.noprefs",
      saveAs("pinned.svg"),
      "tuckline.save.noprefs",
      "tuckline.strip.noprefs",
      saveAs("stripped.svg"),
      "select-clear",
      "select-by-id:feather-1,feather-2",
      "tuckline.strand.noprefs",
      "tuckline.pieces.noprefs",
      saveAs("set.svg"),
    ]);
  }, MOST_MS);
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it("plans as the command line does, and draws the same picture", async () => {
    const given = await saved("given.svg");
    const planned = await saved("planned.svg");
    const byCommand = writeLayers(given, planOf(given));
    expect(ownElements(planned)).toEqual(ownElements(byCommand));
    expect(looksOf(planned).equals(looksOf(byCommand))).toBe(true);
  });

  it("leaves the artwork and the selection as they were", async () => {
    expect(artworkLines(await saved("planned.svg"))).toEqual(artworkLines(await saved("given.svg")));
    expect(ran.stdout).toMatch(/^torso /m);
  });

  it("is one step of the editor's undo", async () => {
    const undone = await saved("undone.svg");
    expect(undone).not.toContain("data-tuck-role");
    expect(artworkLines(undone)).toEqual(artworkLines(await saved("given.svg")));
  });

  it("obeys a marker that was moved, on planning again", async () => {
    const before = planOf(await saved("given.svg")).pieces.find(({ id }) => id === "torso");
    const after = planOf(await saved("pinned.svg")).pieces.find(({ id }) => id === "torso");
    expect(after?.entryPinned).toBe(true);
    expect(after?.entry[0]).toBeGreaterThan((before?.entry[0] ?? 0) + 1);
    expect(ownElements(await saved("pinned.svg")).join("\n")).toContain("data-tuck-pinned=yes");
  });

  it("takes the layers away: the drawing looks as it did", async () => {
    const stripped = await saved("stripped.svg");
    expect(stripped).not.toContain("data-tuck-role");
    expect(looksOf(stripped).equals(looksOf(await saved("given.svg")))).toBe(true);
  });

  it("sets what the dialog says on the selected shapes, and nothing else", async () => {
    const marks = "data-tuck-strand=strand-1 data-tuck-technique=run";
    const asked = artworkLines(await saved("stripped.svg")).map((line) =>
      / id=feather-[12]( |$)/.test(line) ? line.replace(/(data-tuck-angle=\S+ )/, `$1${marks} `) : line,
    );
    expect(artworkLines(await saved("set.svg"))).toEqual(asked);
  });

  it("saves what goes to the machine, of the drawing as it is", async () => {
    expect((await readdir(join(folder, "sewn"))).sort()).toEqual([
      "crest.dst",
      "crest.html",
      "crest.sewn.svg",
    ]);
    const bytes = await readFile(join(folder, "sewn", "crest.dst"));
    expect(bytes.equals(machineFile(planOf(await saved("pinned.svg"))))).toBe(true);
  });

  it("says nothing: no window opens, and no warning of ours", async () => {
    expect(await readdir(folder)).not.toContain("windows.txt");
    expect(ran.stderr).not.toMatch(/tuckline/i);
  });
});
