/** Settings that a drawing carries itself, and changes that `explain` keeps in it. */
import { beforeEach, describe, expect, it } from "vitest";
import { planDrawing } from "../../cli/batch/plan-drawing.ts";
import type { BatchRequest } from "../../cli/batch/request.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { here } from "./here.ts";

const REEDS = (metadata = "", more = "") =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm" viewBox="0 0 40 20">${metadata}
  <rect id="reed-1" fill="#6b8e4e" x="2" y="2" width="8" height="8"/>
  <rect id="water" fill="#1b3a5c" x="22" y="2" width="8" height="8"/>
  <rect id="reed-2" fill="#6b8e4e" x="9" y="2" width="8" height="8"/>${more}
</svg>
`;
const CARRIES = '<metadata data-tuck-settings="recipe=knit; order=regroup; tieCount=4"/>';

const test = here();
beforeEach(async () => {
  await test.write("reeds.svg", REEDS(CARRIES));
  await test.write("towel.json", '{ "tieCount": 2, "runLengthMm": 2 }');
});

const settingsOf = async (words: string) => JSON.parse((await test.run(`settings ${words} --json`)).stdout);

describe("a drawing that carries settings", () => {
  it("is planned with them, above a settings file and below the command's own", async () => {
    const { settings, origins } = await settingsOf(
      "reeds.svg --settings towel.json --set order=paint --recipe felt",
    );
    expect(settings).toMatchObject({ recipe: "felt", order: "paint", tieCount: 4, runLengthMm: 2 });
    expect(origins).toMatchObject({
      tieCount: "the drawing",
      order: "--set",
      recipe: "--recipe",
      runLengthMm: expect.stringContaining("towel.json"),
    });
    await test.run("plan reeds.svg --json plan.json");
    const plan = JSON.parse(await test.text("plan.json"));
    expect(plan.settings).toMatchObject({ recipe: "knit", order: "regroup", tieCount: 4 });
    expect(plan.pieces.map(({ id }: { id: string }) => id)).toEqual(["reed-1", "reed-2", "water"]);
  });

  it("says which of them it cannot use, and is planned with the others", async () => {
    const wrong = '<metadata data-tuck-settings="recipe=tweed; tieCount=4; pulMm=1; runLengthMm"/>';
    await test.write("wrong.svg", REEDS(wrong));
    const { settings } = await settingsOf("wrong.svg");
    expect(settings).toMatchObject({ recipe: "stable-woven", tieCount: 4 });
    const { stdout, code } = await test.run("check wrong.svg --json");
    const found = JSON.parse(stdout).filter(({ code: kind }: { code: string }) => kind === "bad-settings");
    expect(code).toBe(1);
    expect(found.map(({ message }: { message: string }) => message.slice(0, 75))).toEqual([
      expect.stringContaining("“runLengthMm”"),
      expect.stringContaining("“recipe=tweed”"),
      expect.stringContaining("“pulMm=1”"),
    ]);
  });

  it("keeps them when its layers are written and stripped again", async () => {
    await test.run("plan reeds.svg -o planned.svg");
    expect((await settingsOf("planned.svg")).settings).toMatchObject({ recipe: "knit", tieCount: 4 });
    await test.run("strip planned.svg -o stripped.svg");
    expect(await test.text("stripped.svg")).toBe(REEDS(CARRIES));
  });

  it("is planned with its own in a batch, each drawing for itself", async () => {
    const request: BatchRequest = {
      settings: { ...DEFAULT_SETTINGS, tieCount: 5 },
      below: { runLengthMm: 2 },
      above: { tieCount: 5 },
      threads: undefined,
      fit: undefined,
      formats: ["json"],
      fabricColour: undefined,
    };
    const settings = async (text: string) => {
      const drawing = { shown: "reeds.svg", fileName: "reeds.svg", bytes: Buffer.from(text) };
      const result = await planDrawing(drawing, request);
      if (result.status === "failed") throw new Error(result.message);
      return JSON.parse(Buffer.from(result.files.outputs.json).toString()).settings;
    };
    expect(await settings(REEDS(CARRIES))).toMatchObject({ recipe: "knit", tieCount: 5, runLengthMm: 2 });
    expect(await settings(REEDS())).toEqual(request.settings);
  });
});

describe("a change that explain makes", () => {
  it("to the order stays: it is kept on the element that moved", async () => {
    await test.write("plain.svg", REEDS());
    const { stdout } = await test.run("explain plain.svg --apply 1 -o made.svg");
    expect(stdout).toContain("sew reed-2 right after reed-1");
    expect(await test.text("made.svg")).toContain('height="8" data-tuck-after="reed-1"/>');
    await test.run("plan made.svg -o again.svg");
    expect(await test.text("again.svg")).toBe(await test.text("made.svg"));
  });

  it("to a setting stays: it is kept in the drawing, with those it carries", async () => {
    const gap = '\n  <rect id="water-2" fill="#1b3a5c" x="32.5" y="2" width="6" height="8"/>';
    await test.write("gap.svg", REEDS('<metadata data-tuck-settings="order=regroup"/>', gap));
    const { stdout } = await test.run("explain gap.svg");
    const [, number] = /(\d+)\. raise the jump threshold to 2\.6 mm/.exec(stdout) ?? [];
    await test.run(`explain gap.svg --apply ${number} -o made.svg`);
    expect(await test.text("made.svg")).toContain('data-tuck-settings="order=regroup; jumpThresholdMm=2.6"');
    await test.run("plan made.svg -o again.svg");
    expect(await test.text("again.svg")).toBe(await test.text("made.svg"));
  });
});
