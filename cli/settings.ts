/** Settings as a person gives them: a JSON file, then `--set name=value`, then options of their own. */

import type { Settings } from "../core/settings.ts";
import { SettingsError, settingFromText, settingsWith } from "../core/settings-schema.ts";
import { type Input, placeOf } from "./input.ts";
import { CliError } from "./io.ts";
import { parseJson, withoutMark } from "./json.ts";

export interface GivenSettings {
  readonly file: Input | undefined;
  /** `name=value` each, as typed. */
  readonly set: readonly string[];
  readonly width: string | undefined;
  readonly order: string | undefined;
}

/**
 * The defaults, overlaid by the file, by `--set` and by `--width` and `--order`, in this order.
 *
 * @throws CliError naming the file and line, or the option, where a setting is unknown or out of range
 */
export function settingsFrom({ file, set, width, order }: GivenSettings): Settings {
  const options: Record<string, unknown> = {};
  for (const pair of set) {
    const [name, value] = nameAndValue(pair);
    options[name] = settingFromText(value);
  }
  if (width !== undefined) options.widthMm = widthFrom(width);
  if (order !== undefined) options.order = order;

  const fromFile = file ? valuesOf(file) : {};
  try {
    return settingsWith({ ...fromFile, ...options });
  } catch (error) {
    if (!(error instanceof SettingsError)) throw error;
    const given =
      file && !Object.hasOwn(options, error.setting) ? placeInFile(file, error.setting) : "tuckline";
    throw new CliError(`${given}: ${error.message}`);
  }
}

function nameAndValue(pair: string): [name: string, value: string] {
  const equals = pair.indexOf("=");
  if (equals < 1) throw new CliError(`tuckline: --set ${pair}: write name=value, as in --set tuckMarginMm=1`);
  return [pair.slice(0, equals).trim(), pair.slice(equals + 1)];
}

/** A width with or without its unit: `80` or `80mm`. */
const widthFrom = (width: string): unknown => settingFromText(width.replace(/\s*mm$/i, ""));

function valuesOf(file: Input): Readonly<Record<string, unknown>> {
  const values = parseJson(file);
  if (typeof values !== "object" || values === null || Array.isArray(values))
    throw new CliError(
      `${file.shown}:1:1: settings are a JSON object, as in {"tuckMarginMm": 1}; write it so`,
    );
  return values as Readonly<Record<string, unknown>>;
}

/** `file:line:column` of a setting's name. */
function placeInFile(file: Input, setting: string): string {
  const text = withoutMark(file.text);
  const offset = text.indexOf(JSON.stringify(setting));
  if (offset < 0) return file.shown;
  const { line, column } = placeOf(text, offset);
  return `${file.shown}:${line}:${column}`;
}
