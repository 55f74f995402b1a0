/**
 * The settings that a drawing carries: on a `metadata` element below the root, as
 * `data-tuck-settings="recipe=knit; order=regroup"`.
 */
import { elementsIn } from "../../../core/artwork/tree.ts";
import { parseXml } from "../../../core/artwork/xml.ts";
import type { Settings } from "../../../core/settings.ts";
import { cascadeSettings } from "../../../core/settings-cascade.ts";
import { settingFromText } from "../../../core/settings-schema.ts";
import { Refusal } from "./entry.ts";
import { withAttributes } from "./set-attributes.ts";

const ATTRIBUTE = "data-tuck-settings";

type SettingValues = Readonly<Record<string, unknown>>;

/** @throws SettingsError where one of them cannot be used */
export const settingsIn = (svg: string): Settings =>
  cascadeSettings([{ origin: "the drawing", values: settingsFromPairs(textIn(svg)) }]).settings;

/**
 * The drawing with further settings, which go before those of the same name that it has; no byte of it moves
 * where there are none.
 *
 * @throws SettingsError where one of them cannot be used
 */
export function withSettings(svg: string, added: SettingValues): string {
  if (Object.keys(added).length === 0) return svg;
  const values = { ...settingsFromPairs(textIn(svg)), ...added };
  cascadeSettings([{ origin: "the dialog", values }]);
  const text = Object.entries(values)
    .map(([name, value]) => `${name}=${value}`)
    .join("; ");
  return withAttributes(svg, [{ element: null, name: ATTRIBUTE, value: text }]);
}

/** @throws Refusal where a part is no pair */
export function settingsFromPairs(text: string): SettingValues {
  const pairs = text.split(";").filter((pair) => pair.trim() !== "");
  return Object.fromEntries(
    pairs.map((pair) => {
      const equals = pair.indexOf("=");
      if (equals < 1) throw new Refusal(`“${pair.trim()}” is no setting: write name=value.`);
      return [pair.slice(0, equals).trim(), settingFromText(pair.slice(equals + 1))];
    }),
  );
}

const textIn = (svg: string): string =>
  elementsIn(parseXml(svg))
    .map(({ name, attributes }) => (name === "metadata" ? attributes[ATTRIBUTE] : undefined))
    .find((text) => text !== undefined) ?? "";
