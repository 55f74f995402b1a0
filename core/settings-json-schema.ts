/**
 * JSON Schema (draft 2020-12) of the settings, made from their table: of each one, and of a settings file. What a
 * schema cannot say, that one length must not be more than another, only `settingsWith` checks.
 */
import { SETTING_NAMES, SETTINGS_TABLE, type SettingInfo, type SettingName } from "./settings-schema.ts";

type Schema = Readonly<Record<string, unknown>>;

export const SETTING_SCHEMAS = Object.fromEntries(
  SETTING_NAMES.map((name) => [name, settingSchema(SETTINGS_TABLE[name])]),
) as { readonly [Name in SettingName]: Schema };

/** A settings file: any of the settings, and the address of this schema for editors that look for it. */
export const SETTINGS_SCHEMA: Schema = {
  $schema: "https://json-schema.org/draft/2020-12/schema",
  title: "Tuckline settings",
  description: "Settings for planning an embroidery. What is left out is as the recipe says.",
  type: "object",
  properties: { $schema: { type: "string" }, ...SETTING_SCHEMAS },
  additionalProperties: false,
};

function settingSchema(info: SettingInfo): Schema {
  if (info.kind === "choice") return { enum: info.choices, description: info.help };
  if (info.kind === "text")
    return {
      type: ["string", "null"],
      pattern: info.form?.pattern.source ?? "\\S",
      description: `${info.help} (null: ${info.nullMeans})`,
    };
  const { kind, unit, min, max, nullMeans, help } = info;
  return {
    type: nullMeans === undefined ? kind : [kind, "null"],
    minimum: min,
    maximum: max,
    description: `${help} (${unit}${nullMeans === undefined ? "" : `; null: ${nullMeans}`})`,
  };
}
