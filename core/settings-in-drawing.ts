/**
 * Settings that a drawing carries itself, so that it is planned alike wherever it goes: on a `metadata` element
 * right below the root, `data-tuck-settings="recipe=knit; order=regroup; widthMm=80"`. Names are those of the
 * table of settings, values are written as `--set` takes them. In the cascade they stand above a settings file and
 * below what is given with the command.
 */
import { elementsIn } from "./artwork/tree.ts";
import { parseXml, type XmlElement } from "./artwork/xml.ts";
import type { Finding } from "./findings.ts";
import type { MarkEdit } from "./layers/edit-marks.ts";
import type { SettingsSource } from "./settings-cascade.ts";
import { SettingsError, settingFromText, settingsWith } from "./settings-schema.ts";

export const SETTINGS_ATTRIBUTE = "data-tuck-settings";

/** What settings from a drawing are said to come from. */
export const DRAWING_ORIGIN = "the drawing";

/**
 * The settings that a drawing carries, and findings about those that are no setting or out of range; they are left
 * out.
 *
 * @throws ArtworkError where a text is not well-formed XML
 */
export function settingsInDrawing(drawing: string | XmlElement): {
  values: SettingsSource["values"];
  findings: readonly Finding[];
} {
  const root = typeof drawing === "string" ? parseXml(drawing) : drawing;
  const texts = elementsIn(root).flatMap(({ name, attributes }) =>
    name === "metadata" ? (attributes[SETTINGS_ATTRIBUTE] ?? []) : [],
  );
  const findings: Finding[] = [];
  const values: Record<string, unknown> = {};
  for (const part of texts.flatMap((text) => text.split(";"))) {
    if (part.trim() === "") continue;
    const [name, ...rest] = part.split("=");
    if (rest.length === 0) findings.push(refusal(part, "it is not written as name=value"));
    else values[name.trim()] = settingFromText(rest.join("="));
  }
  return { values: withoutFaults(values, findings), findings };
}

/** The values that are settings, each in range and none against another. */
function withoutFaults(values: Record<string, unknown>, findings: Finding[]): SettingsSource["values"] {
  for (let left = values; ; ) {
    try {
      settingsWith(left);
      return left;
    } catch (error) {
      if (!(error instanceof SettingsError)) throw error;
      const { [error.setting]: _, ...others } = left;
      // A default that the drawing's values contradict is not the drawing's to leave out.
      if (!Object.hasOwn(left, error.setting)) return left;
      findings.push(refusal(`${error.setting}=${left[error.setting]}`, error.message));
      left = others;
    }
  }
}

/** The attribute's text for these settings; `null` where there are none. */
export function settingsText(values: SettingsSource["values"]): string | null {
  const parts = Object.entries(values).map(([name, value]) => `${name}=${value}`);
  return parts.length === 0 ? null : parts.join("; ");
}

/** What to set in the drawing so that it carries these settings, and no others. */
export const settingsEdit = (values: SettingsSource["values"]): MarkEdit => ({
  element: null,
  name: SETTINGS_ATTRIBUTE,
  value: settingsText(values),
});

const refusal = (part: string, why: string): Finding => ({
  code: "bad-settings",
  severity: "warning",
  message: `The drawing carries the setting “${part.trim().slice(0, 60)}”, which is ignored: ${why}.`,
  remedy: `Correct ${SETTINGS_ATTRIBUTE} on the drawing’s metadata element, or take that setting out of it.`,
});
