/**
 * Who has the last word on each setting: defaults, then the recipe, then what a person gave, the later before the
 * earlier. On a single piece, `data-tuck-*` on a group around it and on the element itself go before all of them.
 */

import { settingsOfRecipe } from "./recipes/settings-of.ts";
import type { Settings } from "./settings.ts";
import { SETTING_NAMES, type SettingName, settingsWith } from "./settings-schema.ts";

/** Settings that come from one place, called `origin`: a file's name, an option. */
export interface SettingsSource {
  readonly origin: string;
  readonly values: Readonly<Record<string, unknown>>;
}

/** The settings that hold, with the origin of each. */
export interface EffectiveSettings {
  readonly settings: Settings;
  /** Of each setting: `default`, `recipe NAME`, or the origin of the source that gave it. */
  readonly origins: { readonly [Name in SettingName]: string };
}

/**
 * The settings that hold, and where each comes from. A recipe that any source names gives its figures before the
 * first source has its say.
 *
 * @param sources from the weakest to the strongest
 * @throws SettingsError as `settingsWith`
 */
export function cascadeSettings(sources: readonly SettingsSource[]): EffectiveSettings {
  const values: Record<string, unknown> = Object.fromEntries(
    sources.flatMap((source) => Object.entries(source.values)),
  );
  const settings = settingsWith(values);
  const fromRecipe = Object.hasOwn(values, "recipe") ? settingsOfRecipe(settings.recipe) : {};
  const originOf = (name: SettingName): string =>
    sources.findLast((source) => Object.hasOwn(source.values, name))?.origin ??
    (Object.hasOwn(fromRecipe, name) ? `recipe ${settings.recipe}` : "default");
  return {
    settings,
    origins: Object.fromEntries(SETTING_NAMES.map((name) => [name, originOf(name)])) as {
      [Name in SettingName]: string;
    },
  };
}
