import { describe, expect, it } from "vitest";
import type { Input } from "../../cli/input.ts";
import { type GivenSettings, settingsFrom } from "../../cli/settings.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import {
  rangeOf,
  SETTING_NAMES,
  SETTINGS_TABLE,
  settingFromText,
  settingsWith,
} from "../../core/settings-schema.ts";

const file = (text: string): Input => ({
  shown: "towel.json",
  name: "towel.json",
  text,
  encoding: "utf-8",
  gzipped: false,
  path: "/towel.json",
  identity: "1:1",
});

const effective = (text: string | undefined, set: string[] = [], options: GivenSettings["options"] = {}) =>
  settingsFrom({ file: text === undefined ? undefined : file(text), set, options });

const given = (text: string | undefined, set: string[] = [], width?: string) =>
  effective(text, set, { width }).settings;

describe("the table of settings", () => {
  it("has a line for every setting and accepts every default", () => {
    expect([...SETTING_NAMES].sort()).toEqual(Object.keys(DEFAULT_SETTINGS).sort());
    expect(settingsWith({ ...DEFAULT_SETTINGS })).toEqual(DEFAULT_SETTINGS);
  });

  it.each(SETTING_NAMES)("%s: both ends of the range are allowed, a hair beyond is not", (name) => {
    const info = SETTINGS_TABLE[name];
    if (info.kind === "choice") {
      for (const choice of info.choices) expect(settingsWith({ [name]: choice })[name]).toBe(choice);
      expect(() => settingsWith({ [name]: "at random" })).toThrow(rangeOf(name));
      return;
    }
    if (info.kind === "text") {
      for (const text of [info.form?.example ?? "reeds", null])
        expect(settingsWith({ [name]: text })[name]).toBe(text);
      for (const other of ["", "  ", 5]) expect(() => settingsWith({ [name]: other })).toThrow(rangeOf(name));
      return;
    }
    const step = info.kind === "integer" ? 1 : 1e-9;
    // The others are moved out of the way, so that only this one's range speaks.
    const roomy = { ...DEFAULT_SETTINGS, minStitchMm: 0.1, satinMinWidthMm: 0.3, satinMaxWidthMm: 12 };
    const low = { ...roomy, runLengthMm: 0.5, fillLengthMm: 1, [name]: info.min };
    const high = { ...roomy, maxMoveMm: 12.7, runLengthMm: 12.7, fillLengthMm: 12.7, tieLengthMm: 3 };
    expect(settingsWith(low)[name]).toBe(info.min);
    expect(settingsWith({ ...high, [name]: info.max })[name]).toBe(info.max);
    for (const beyond of [info.min - step, info.max + step, Number.NaN, Number.POSITIVE_INFINITY, "5", true])
      expect(() => settingsWith({ [name]: beyond }), String(beyond)).toThrow(rangeOf(name));
  });

  it("tells a slip of the finger from another word", () => {
    expect(() => settingsWith({ tuckMargin: 1 })).toThrow('did you mean "tuckMarginMm"?');
    expect(() => settingsWith({ TUCKMARGINMM: 1 })).toThrow('did you mean "tuckMarginMm"?');
    expect(() => settingsWith({ zzz: 1 })).toThrow("the settings are widthMm, order");
    expect(() => settingsWith({ constructor: 1 })).toThrow("there is no setting");
  });

  it.each([
    ["minStitchMm", 2, "runLengthMm", 1],
    ["runLengthMm", 8, "maxMoveMm", 7],
    ["satinMinWidthMm", 4, "satinMaxWidthMm", 3],
  ] as const)("refuses %s %d above %s %d", (shorter, high, longer, low) => {
    expect(() => settingsWith({ [shorter]: high, [longer]: low })).toThrow(
      `${shorter} (${high}) is more than ${longer} (${low})`,
    );
  });

  it.each([
    ["1", 1],
    [" -30.5 ", -30.5],
    [".5", 0.5],
    ["1e1", 10],
    ["null", null],
    ["paint", "paint"],
    ["0x10", "0x10"],
    ["1,5", "1,5"],
    ["Infinity", "Infinity"],
    ["", ""],
  ])("reads %j typed as text", (text, value) => {
    expect(settingFromText(text)).toBe(value);
  });
});

describe("settings from a file and from options", () => {
  it("overlays defaults by the file, the file by --set, all by --width", () => {
    const text = '{ "pullMm": 0.3, "tuckMarginMm": 1, "widthMm": 60 }';
    const settings = given(text, ["tuckMarginMm=1.2", "widthMm=70"], "80mm");
    expect(settings).toEqual({ ...DEFAULT_SETTINGS, pullMm: 0.3, tuckMarginMm: 1.2, widthMm: 80 });
  });

  it("takes back the drawing's own size with null", () => {
    expect(given('{ "widthMm": 60 }', ["widthMm=null"]).widthMm).toBeNull();
  });

  it.each([
    [
      '{\n  "pullMm": 0.3,\n  "pulMm": 0.3\n}',
      'towel.json:3:3: there is no setting "pulMm"; did you mean "pullMm"?',
    ],
    ['{\n  "pullMm": 20\n}', "towel.json:2:3: pullMm is 20; give a number from 0 to 2 mm"],
    ['{ "tieCount": 2.5 }', "towel.json:1:3: tieCount is 2.5; give a whole number from 1 to 10 stitches"],
    ['{ "pullMm": "0.2" }', 'towel.json:1:3: pullMm is "0.2"; give a number from 0 to 2 mm'],
    ['{\n  "pullMm": 0.2,\n}', "towel.json:3:1: this is not JSON; look for a missing comma, quote or brace"],
    ['{ "pullMm": 0.2', "towel.json:1:16: this is not JSON"],
    ["[1]", "towel.json:1:1: settings are a JSON object"],
    ["null", "towel.json:1:1: settings are a JSON object"],
    ["", "towel.json:1:1: this is not JSON"],
  ])("says where in the file and what to do: %j", (text, message) => {
    expect(() => given(text)).toThrow(message);
  });

  it("names the option's fault as the option's, not the file's", () => {
    expect(() => given('{ "pullMm": 0.3 }', ["pullMm=9"])).toThrow(/^tuckline: pullMm is 9; give/);
    expect(() => given(undefined, ["pullMm"])).toThrow("write name=value, as in --set tuckMarginMm=1");
    expect(() => given(undefined, [], "3in")).toThrow('widthMm is "3in"; give a number from 5 to 2000 mm');
    expect(() => given(undefined, [], "-80")).toThrow("widthMm is -80; give a number from 5 to 2000 mm");
  });

  it("reads a file that begins with a byte order mark", () => {
    expect(given('\ufeff{ "pullMm": 0.3 }').pullMm).toBe(0.3);
  });

  it("passes over the address of the schema, which is there for editors", () => {
    expect(given('{ "$schema": "settings.schema.json", "pullMm": 0.3 }').pullMm).toBe(0.3);
  });

  it("finds the name that counts: the key, not a value spelt like it, and the last of two", () => {
    expect(() =>
      given('{\n  "order": "paint",\n  "recipe": "pullMm",\n  "pullMm": 9,\n  "recipe": "knit"\n}'),
    ).toThrow(/^towel.json:4:3: pullMm is 9/);
    expect(() => given('{ "pullMm": 0.3,\n  "pullMm": 9 }')).toThrow(/^towel.json:2:3: pullMm is 9/);
  });

  it("takes no name that only the language knows", () => {
    expect(() => given('{ "__proto__": 1 }')).toThrow('there is no setting "__proto__"');
  });
});

describe("who has the last word", () => {
  it("defaults, recipe, file, --set, option: the later the stronger", () => {
    const text = '{\n  "pullMm": 0.31,\n  "pushMm": 0.31,\n  "widthMm": 50\n}';
    const { settings, origins } = effective(text, ["pushMm=0.32", "widthMm=60", "recipe=sheer"], {
      recipe: "knit",
      width: "70",
    });
    const shown = (["tieCount", "underlapMm", "pullMm", "pushMm", "widthMm", "recipe"] as const).map(
      (name) => [name, settings[name], origins[name]],
    );
    expect(shown).toEqual([
      ["tieCount", 3, "default"],
      ["underlapMm", 2, "recipe knit"],
      ["pullMm", 0.31, "towel.json:2:3"],
      ["pushMm", 0.32, "--set"],
      ["widthMm", 70, "--width"],
      ["recipe", "knit", "--recipe"],
    ]);
  });

  it("gives a recipe's figures the same place whoever names it", () => {
    const named = effective('{ "recipe": "pile" }', ["pullMm=0.5"]);
    expect(named.settings).toEqual(effective(undefined, ["pullMm=0.5"], { recipe: "pile" }).settings);
    expect(named.origins).toMatchObject({
      recipe: "towel.json:1:3",
      pullMm: "--set",
      satinMinWidthMm: "recipe pile",
    });
  });

  it("calls the recipe that nobody named a default", () => {
    const { settings, origins } = effective(undefined);
    expect(settings).toEqual(DEFAULT_SETTINGS);
    expect(new Set(Object.values(origins))).toEqual(new Set(["default"]));
  });

  it("says who is at fault when a recipe and an option contradict one another", () => {
    expect(() => effective(undefined, ["satinMaxWidthMm=1.5"], { recipe: "pile" })).toThrow(
      "tuckline: satinMinWidthMm (1.6) is more than satinMaxWidthMm (1.5); change one of the two",
    );
  });
});
