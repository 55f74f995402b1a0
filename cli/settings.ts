/** Settings as a person gives them: a JSON file, what the drawing carries, `--set name=value`, options of their own. */
import { cascadeSettings, type EffectiveSettings, type SettingsSource } from "../core/settings-cascade.ts";
import { DRAWING_ORIGIN } from "../core/settings-in-drawing.ts";
import { type SettingName, SettingsError, settingFromText } from "../core/settings-schema.ts";
import { type Input, placeOf } from "./input.ts";
import { CliError } from "./io.ts";
import { parseJson, withoutMark } from "./json.ts";

export interface GivenSettings {
  readonly file: Input | undefined;
  /** What the drawing carries itself. */
  readonly drawn?: SettingsSource["values"];
  /** `name=value` each, as typed. */
  readonly set: readonly string[];
  /** What the options that stand for one setting were given. */
  readonly options: { readonly [Name in OptionName]?: string | undefined };
}

/** Options that stand for one setting, and how what is typed becomes its value. */
export const SETTING_OPTIONS = {
  width: { setting: "widthMm", read: (typed: string) => settingFromText(typed.replace(/\s*mm$/i, "")) },
  order: { setting: "order", read: (typed: string) => typed },
  blend: { setting: "blend", read: (typed: string) => typed },
  keep: { setting: "keepLayers", read: (typed: string) => typed },
  from: { setting: "sewFrom", read: (typed: string) => typed },
  recipe: { setting: "recipe", read: (typed: string) => typed },
  patch: { setting: "patch", read: (typed: string) => typed },
  "sheet-of": { setting: "sheetOf", read: (typed: string) => typed.replace(/\s*[x×]\s*/i, "x") },
  "max-threads": { setting: "maxThreads", read: settingFromText },
} as const satisfies Readonly<Record<string, { setting: SettingName; read: (typed: string) => unknown }>>;

export type OptionName = keyof typeof SETTING_OPTIONS;

export const OPTION_NAMES = Object.keys(SETTING_OPTIONS) as readonly OptionName[];

/** What is given, from the weakest to the strongest: what the drawing carries itself stands between the two. */
export const sourcesOf = (
  given: GivenSettings,
): { readonly below: readonly SettingsSource[]; readonly above: readonly SettingsSource[] } => ({
  below: given.file ? [{ origin: given.file.shown, values: valuesOf(given.file) }] : [],
  above: typedSources(given),
});

/**
 * The defaults, overlaid by the recipe, by the file, by the drawing, by `--set`, and by the options of their own, in
 * this order.
 *
 * @throws CliError naming the file and line, or the option, where a setting is unknown or out of range
 */
export function settingsFrom(given: GivenSettings): EffectiveSettings {
  const { below, above } = sourcesOf(given);
  const { file, drawn = {} } = given;
  try {
    const { settings, origins } = cascadeSettings([
      ...below,
      { origin: DRAWING_ORIGIN, values: drawn },
      ...above,
    ]);
    return { settings, origins: file ? withPlaces(origins, file) : origins };
  } catch (error) {
    if (!(error instanceof SettingsError)) throw error;
    const isTyped = above.some(({ values }) => Object.hasOwn(values, error.setting));
    throw new CliError(
      `${file && !isTyped ? placeInFile(file, error.setting) : "tuckline"}: ${error.message}`,
    );
  }
}

/** `--set` first, then the options of their own. */
function typedSources({ set, options }: GivenSettings): SettingsSource[] {
  const pairs = set.map(nameAndValue).map(([name, value]) => [name, settingFromText(value)]);
  const sources: SettingsSource[] = [{ origin: "--set", values: Object.fromEntries(pairs) }];
  for (const option of OPTION_NAMES) {
    const typed = options[option];
    if (typed === undefined) continue;
    const { setting, read } = SETTING_OPTIONS[option];
    sources.push({ origin: `--${option}`, values: { [setting]: read(typed) } });
  }
  return sources;
}

/** The origins with the place in the file in place of its name. */
const withPlaces = (origins: EffectiveSettings["origins"], file: Input): EffectiveSettings["origins"] =>
  Object.fromEntries(
    Object.entries(origins).map(([name, origin]) => [
      name,
      origin === file.shown ? placeInFile(file, name) : origin,
    ]),
  ) as EffectiveSettings["origins"];

function nameAndValue(pair: string): [name: string, value: string] {
  const equals = pair.indexOf("=");
  if (equals < 1) throw new CliError(`tuckline: --set ${pair}: write name=value, as in --set tuckMarginMm=1`);
  return [pair.slice(0, equals).trim(), pair.slice(equals + 1)];
}

function valuesOf(file: Input): Readonly<Record<string, unknown>> {
  const values = parseJson(file);
  if (typeof values !== "object" || values === null || Array.isArray(values))
    throw new CliError(
      `${file.shown}:1:1: settings are a JSON object, as in {"tuckMarginMm": 1}; write it so`,
    );
  // The address of the schema is there for editors.
  const { $schema: _, ...settings } = values as Readonly<Record<string, unknown>>;
  return settings;
}

/** `file:line:column` of a setting's name: of the last, where it is given twice, since that one counts. */
function placeInFile(file: Input, setting: string): string {
  const text = withoutMark(file.text);
  const name = JSON.stringify(setting);
  const offset = [...text.matchAll(/"(?:[^"\\]|\\.)*"(?=\s*:)/g)].findLast(([key]) => key === name)?.index;
  if (offset === undefined) return file.shown;
  const { line, column } = placeOf(text, offset);
  return `${file.shown}:${line}:${column}`;
}
