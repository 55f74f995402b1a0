/** The settings that a drawing carries, and those that a dialog adds to them. */
import { withMarks } from "../../../core/layers/edit-marks.ts";
import type { Settings } from "../../../core/settings.ts";
import { cascadeSettings } from "../../../core/settings-cascade.ts";
import { DRAWING_ORIGIN, settingsEdit, settingsInDrawing } from "../../../core/settings-in-drawing.ts";
import { settingFromText } from "../../../core/settings-schema.ts";
import { Refusal } from "./entry.ts";
import { REFUSALS } from "./texts.ts";

type SettingValues = Readonly<Record<string, unknown>>;

/** What is planned with; what the drawing says wrongly is left out, and told among the plan's findings. */
export const settingsIn = (svg: string): Settings =>
  cascadeSettings([{ origin: DRAWING_ORIGIN, values: settingsInDrawing(svg).values }]).settings;

/**
 * The drawing with further settings, which go before those of the same name that it has; no byte of it moves
 * where there are none.
 *
 * @throws SettingsError where one of them cannot be used
 */
export function withSettings(svg: string, added: SettingValues): string {
  if (Object.keys(added).length === 0) return svg;
  const values = { ...settingsInDrawing(svg).values, ...added };
  cascadeSettings([{ origin: DRAWING_ORIGIN, values }]);
  return withMarks(svg, [settingsEdit(values)]);
}

/**
 * Settings as they are typed: `name=value`, with semicolons between.
 *
 * @throws Refusal where a part is no pair
 */
export function settingsFromPairs(text: string): SettingValues {
  const pairs = text.split(";").filter((pair) => pair.trim() !== "");
  return Object.fromEntries(
    pairs.map((pair) => {
      const equals = pair.indexOf("=");
      if (equals < 1) throw new Refusal(REFUSALS.noPair(pair.trim()));
      return [pair.slice(0, equals).trim(), settingFromText(pair.slice(equals + 1))];
    }),
  );
}
