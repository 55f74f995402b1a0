/** The schema of settings files, with ajv as the judge of JSON Schema draft 2020-12. */
import { Ajv2020 } from "ajv/dist/2020.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { SETTINGS_SCHEMA } from "../../core/settings-json-schema.ts";
import { SETTING_NAMES, SETTINGS_TABLE, SettingsError, settingsWith } from "../../core/settings-schema.ts";

const ajv = new Ajv2020({ strict: true, allErrors: true, allowUnionTypes: true });
const validate = ajv.compile(SETTINGS_SCHEMA);

/** Whether the guard takes a value, though it may contradict another setting. */
const isTaken = (values: Record<string, unknown>): boolean => {
  try {
    settingsWith(values);
    return true;
  } catch (error) {
    if (error instanceof SettingsError) return error.message.includes(" is more than ");
    throw error;
  }
};

describe("the schema of settings files", () => {
  it("satisfies the draft's own, and takes the defaults", () => {
    expect(ajv.validateSchema(SETTINGS_SCHEMA)).toBe(true);
    expect(validate(DEFAULT_SETTINGS)).toBe(true);
    expect(validate({})).toBe(true);
    expect(validate({ $schema: "settings.schema.json", recipe: "knit" })).toBe(true);
  });

  it.each([
    ["a name that is none", { pull: 0.2 }],
    ["a recipe that is none", { recipe: "canvas" }],
    ["a part of a thread", { maxThreads: 2.5 }],
    ["a hoop of no size", { hoopWidthMm: 0 }],
    ["null where it means nothing", { pullMm: null }],
    ["a number as text", { pullMm: "0.2" }],
    ["a list", []],
  ])("refuses %s", (_, document) => {
    expect(validate(document)).toBe(false);
  });

  it("agrees with the guard on every single value", () => {
    const values = SETTING_NAMES.map((name) => {
      const info = SETTINGS_TABLE[name];
      const own =
        info.kind === "choice"
          ? [...info.choices, "auto"]
          : info.kind === "text"
            ? ["reeds, feathers", "#1c3347", "#1C3347", "#1c33471", "3x4", "0x4", "", "  "]
            : [info.min, info.max, info.min - 0.01, info.max + 0.01, (info.min + info.max) / 2];
      return fc.record({
        name: fc.constant(name),
        value: fc.constantFrom<unknown>(...own, null, true, "1", 1, {}),
      });
    });
    fc.assert(
      fc.property(fc.oneof(...values), ({ name, value }) => {
        expect(validate({ [name]: value }), `${name} ${JSON.stringify(value)}`).toBe(
          isTaken({ [name]: value }),
        );
      }),
      { seed: 8, numRuns: 3000 },
    );
  });
});
