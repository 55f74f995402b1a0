/** Recipes, settings and threads on the command line. */
import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { SETTING_NAMES } from "../../core/settings-schema.ts";
import { here } from "./here.ts";

const test = here();
const fixture = (name: string) => readFileSync(new URL(`../../fixtures/${name}`, import.meta.url), "utf8");

const FEATHERS = `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm" viewBox="0 0 40 20">
  <rect id="feather" x="2" y="4" width="14" height="10" fill="#6f90a8" data-tuck-angle="30"/>
  <rect id="pennant" x="22" y="4" width="14" height="10" fill="#8a2be2"/>
</svg>`;

describe("tuckline recipes", () => {
  it("sets the figures side by side and says where each comes from", async () => {
    const { code, stdout, stderr } = await test.run("recipes");
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    const lines = stdout.split("\n");
    expect(lines[0]).toMatch(/^setting +stable-woven +knit +pile +sheer +felt +from$/);
    expect(lines).toContainEqual(
      expect.stringMatching(/^pullMm +0\.2 +0\.35 +0\.4 +0\.25 +0\.15 +mm +\[2\]$/),
    );
    expect(lines).toContain("[1] common practice, no source");
    expect(stdout).toContain("[2] that satin comes out too narrow: Radavičienė and Jucienė 2012");
    for (const word of ["backing", "topping", "needle", "under satin", "under fill"])
      expect(lines.filter((line) => line.startsWith(`  ${word} `))).toHaveLength(5);
    for (const line of lines) expect(line.length, line).toBeLessThanOrEqual(110);
  });

  it("shows one alone", async () => {
    const { stdout } = await test.run("recipes pile");
    expect(stdout).toMatch(/^setting +pile +from$/m);
    expect(stdout).not.toContain("felt or twill");
  });

  it("gives the same as JSON", async () => {
    const [pile, ...others] = JSON.parse((await test.run("recipes pile --json")).stdout);
    expect(others).toEqual([]);
    expect(pile).toMatchObject({ name: "pile", topping: expect.stringContaining("film") });
    expect(pile.figures).toContainEqual(
      expect.objectContaining({
        setting: "satinMinWidthMm",
        value: 1.6,
        unit: "mm",
        source: expect.any(String),
      }),
    );
    expect(JSON.parse((await test.run("recipes --json")).stdout)).toHaveLength(5);
  });
});

describe("tuckline settings", () => {
  it("shows every setting, its value and where it comes from", async () => {
    await test.write("towel.json", '{\n  "recipe": "pile",\n  "pullMm": 0.5\n}');
    const { code, stdout } = await test.run("settings --settings towel.json --set tieCount=4 --width 80");
    expect(code).toBe(0);
    const rows = new Map(stdout.split("\n").map((line) => [line.split(" ")[0], line]));
    for (const name of SETTING_NAMES) expect(rows.has(name), name).toBe(true);
    expect(rows.get("recipe")).toMatch(/ pile +towel\.json:2:3$/);
    expect(rows.get("pullMm")).toMatch(/ 0\.5 +mm +towel\.json:3:3$/);
    expect(rows.get("satinMinWidthMm")).toMatch(/ 1\.6 +mm +recipe pile$/);
    expect(rows.get("tieCount")).toMatch(/ 4 +stitches +--set$/);
    expect(rows.get("widthMm")).toMatch(/ 80 +mm +--width$/);
    expect(rows.get("fillAngleDeg")).toMatch(/ – +default {2}\(each piece's long direction\)$/);
  });

  it("lists what the drawing sets itself, and tells of what is ignored", async () => {
    await test.write("feathers.svg", FEATHERS);
    await test.write("wrong.svg", FEATHERS.replace('"30"', '"steep"'));
    expect((await test.run("settings feathers.svg")).stdout).toMatch(
      /^data-tuck-angle +element feather +30 +fillAngleDeg$/m,
    );
    const { code, stdout, stderr } = await test.run("settings wrong.svg");
    expect(code).toBe(0);
    expect(stdout).toContain("The drawing sets nothing itself.");
    expect(stderr).toContain(
      'wrong.svg: “feather” has data-tuck-angle="steep", which is ignored. Use a number',
    );
    expect((await test.run("settings -", { stdin: FEATHERS })).stdout).toContain("element feather");
    expect(await test.run("settings none.svg")).toMatchObject({ code: 2, stdout: "" });
  });

  it("gives the same as JSON, which is a settings file of its own", async () => {
    await test.write("feathers.svg", FEATHERS);
    const { settings, origins, drawn } = JSON.parse(
      (await test.run("settings feathers.svg --recipe knit --json")).stdout,
    );
    expect(settings).toEqual({ ...DEFAULT_SETTINGS, ...settings, recipe: "knit", pullMm: 0.35 });
    expect(origins).toMatchObject({ recipe: "--recipe", pullMm: "recipe knit", tieCount: "default" });
    expect(drawn).toHaveLength(1);
    await test.write("all.json", JSON.stringify(settings));
    const again = JSON.parse((await test.run("settings --settings all.json --json")).stdout);
    expect(again.settings).toEqual(settings);
  });

  it("prints a schema that takes the settings it prints, and refuses what the command refuses", async () => {
    const schema = JSON.parse((await test.run("settings --schema")).stdout);
    const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);
    expect(validate(JSON.parse((await test.run("settings --json")).stdout).settings)).toBe(true);
    expect(validate({ pullMm: 9 })).toBe(false);
  });
});

describe("--recipe, --threads and --max-threads", () => {
  it("plan for the fabric: pile takes more thread than woven, and is named in the plan", async () => {
    await test.write("feathers.svg", FEATHERS);
    const threadMm = async (recipe: string) => {
      expect(
        (await test.run(`plan feathers.svg --recipe ${recipe} --json ${recipe}.json --quiet`)).code,
      ).toBe(0);
      const { settings, metrics } = JSON.parse(await test.text(`${recipe}.json`));
      expect(settings.recipe).toBe(recipe);
      return metrics.threadMm as number;
    };
    expect(await threadMm("pile")).toBeGreaterThan(1.03 * (await threadMm("stable-woven")));
  });

  it("take threads from the list, show them, and warn of those that are far off", async () => {
    await test.write("feathers.svg", FEATHERS);
    await test.write("club.csv", fixture("threads-willowmere.csv"));
    const { code, stdout } = await test.run("plan feathers.svg --threads club.csv --json plan.json");
    expect(code).toBe(0);
    expect(stdout).toMatch(/^ {2}#6f8ea6 +W-11 Heron slate +1 +\d/m);
    expect(stdout).toContain("thread-far-off  pennant");
    const { pieces } = JSON.parse(await test.text("plan.json"));
    expect(pieces[0]).toMatchObject({ colour: "#6f8ea6", thread: { name: "Heron slate", code: "W-11" } });

    const checked = await test.run("check feathers.svg --threads club.csv");
    expect(checked.code).toBe(1);
    expect(checked.stdout).toContain("#8a2be2 is sewn with");
    const one = await test.run("check feathers.svg --max-threads 1");
    expect(one.stdout).toContain("#6f90a8 and #8a2be2 are sewn with one thread");
  });

  it("read the list from standard input, and keep it from being written over", async () => {
    await test.write("feathers.svg", FEATHERS);
    await test.write("club.csv", fixture("threads-willowmere.csv"));
    const piped = await test.run("check feathers.svg --threads -", {
      stdin: fixture("threads-willowmere.csv"),
    });
    expect(piped.stdout).toContain("#8a2be2 is sewn with");
    const { code, stderr } = await test.run("plan feathers.svg --threads club.csv --json club.csv");
    expect(code).toBe(2);
    expect(stderr).toContain("club.csv: this is an input, and inputs are kept");
  });

  it("name the line of a list that cannot be read", async () => {
    await test.write("feathers.svg", FEATHERS);
    await test.write("club.csv", "name,code,hex\nHeron slate,W-11,#6f8ea6\nReed,W-51,green\n");
    expect(await test.run("plan feathers.svg --threads club.csv")).toEqual({
      code: 2,
      stdout: "",
      stderr: 'club.csv:3: "green" is no colour; write six hexadecimal digits, as in #4a6274\n',
    });
  });
});
