/**
 * The table of settings: for each name in `Settings` its unit, its range and one line of help, and the guard
 * that turns untrusted values (a settings file, an option, a panel's field) into settings.
 *
 * Ranges are wide enough for every design we know of and narrow enough that a slip (inches for millimetres, a
 * lost decimal point) is refused. Common practice, no source.
 */
import { nearestName } from "./nearest-name.ts";
import { RECIPE_NAMES, type RecipeName } from "./recipes/fabrics.ts";
import { settingsOfRecipe } from "./recipes/settings-of.ts";
import { DEFAULT_SETTINGS, type Settings } from "./settings.ts";

/** The name of a setting. */
export type SettingName = keyof Settings;

export interface NumberSetting {
  readonly kind: "number" | "integer";
  readonly unit: "mm" | "%" | "°" | "s" | "stitches/min" | "stitches" | "threads" | "layers" | "jumps";
  /** Both ends are allowed. */
  readonly min: number;
  readonly max: number;
  /** What `null` stands for, where it is allowed. */
  readonly nullMeans?: string;
  readonly help: string;
}

export interface ChoiceSetting {
  readonly kind: "choice";
  readonly choices: readonly string[];
  readonly help: string;
}

export interface TextSetting {
  readonly kind: "text";
  /** What it must look like as a whole, and how to say so; without it any text is one. */
  readonly form?: { readonly pattern: RegExp; readonly says: string; readonly example: string };
  readonly nullMeans: string;
  readonly help: string;
}

const COLOUR = { pattern: /^#[0-9a-fA-F]{6}$/, says: "a colour as #rrggbb", example: "#1c3347" };

/** What one setting may be, and what it does. */
export type SettingInfo = NumberSetting | ChoiceSetting | TextSetting;

/** What every setting may be, and what it does. */
export const SETTINGS_TABLE: { readonly [Name in SettingName]: SettingInfo } = {
  widthMm: {
    kind: "number",
    unit: "mm",
    min: 5,
    max: 2000,
    nullMeans: "the drawing's own size",
    help: "sewn width of the whole artwork; the height follows",
  },
  order: {
    kind: "choice",
    choices: ["paint", "regroup"],
    help: "paint: what is painted later is sewn later; regroup: the fewest colour blocks, then strands, that overlaps allow",
  },
  keepLayers: {
    kind: "text",
    nullMeans: "none",
    help: "layers whose own order regroup keeps: names with commas between",
  },
  sewFrom: {
    kind: "choice",
    choices: ["anywhere", "centre"],
    help: "centre: regroup works from the middle outwards, as caps ask for",
  },
  recipe: {
    kind: "choice",
    choices: RECIPE_NAMES,
    help: "the kind of fabric; gives every figure that nothing else sets",
  },
  maxThreads: {
    kind: "integer",
    unit: "threads",
    min: 1,
    max: 1000,
    nullMeans: "as many as the drawing has colours",
    help: "the most threads; colours that are near are sewn with one",
  },
  technique: {
    kind: "choice",
    choices: ["auto", "as-drawn"],
    help: "auto: narrow shapes become satin, wide ones fill, whatever paints them; as-drawn: strokes satin, areas fill",
  },
  jumpThresholdMm: {
    kind: "number",
    unit: "mm",
    min: 0,
    max: 20,
    help: "gaps below it are hopped; from it on the thread is tied off and trimmed",
  },
  hopOverColourPercent: {
    kind: "number",
    unit: "%",
    min: 5,
    max: 100,
    help: "over another colour, where a hop is seen at once, gaps below this share of the jump threshold are hopped",
  },
  blend: {
    kind: "choice",
    choices: ["never", "seams"],
    help: "seams: where nothing hides the thread, let it follow a seam between finished pieces of its own colour",
  },
  tuckMarginMm: {
    kind: "number",
    unit: "mm",
    min: 0,
    max: 10,
    help: "how far inside the cover's edge a connector keeps where there is room",
  },
  maxMoveMm: {
    kind: "number",
    unit: "mm",
    min: 2,
    max: 12.7,
    help: "the most that one machine movement reaches along either axis",
  },
  minStitchMm: { kind: "number", unit: "mm", min: 0.1, max: 2, help: "shortest stitch worth sewing" },
  runLengthMm: { kind: "number", unit: "mm", min: 0.5, max: 12.7, help: "running stitch length" },
  fillSpacingMm: { kind: "number", unit: "mm", min: 0.2, max: 10, help: "distance between fill rows" },
  fillLengthMm: { kind: "number", unit: "mm", min: 1, max: 12.7, help: "stitch length in fill rows" },
  fillAngleDeg: {
    kind: "number",
    unit: "°",
    min: -360,
    max: 360,
    nullMeans: "each piece's long direction",
    help: "angle of fill rows, counter-clockwise from the x axis",
  },
  satinMinWidthMm: {
    kind: "number",
    unit: "mm",
    min: 0.3,
    max: 5,
    help: "strokes narrower than this become running stitches",
  },
  satinMaxWidthMm: {
    kind: "number",
    unit: "mm",
    min: 1,
    max: 12,
    help: "strokes wider than this become fill",
  },
  splitSatinAboveMm: {
    kind: "number",
    unit: "mm",
    min: 1,
    max: 12.7,
    help: "longer satin stitches are split",
  },
  satinSpacingMm: {
    kind: "number",
    unit: "mm",
    min: 0.2,
    max: 10,
    help: "distance between neighbouring needle holes on one side of a satin",
  },
  threadWidthMm: { kind: "number", unit: "mm", min: 0.1, max: 2, help: "width of the thread when sewn" },
  pullMm: { kind: "number", unit: "mm", min: 0, max: 2, help: "pull compensation, each side" },
  pushMm: {
    kind: "number",
    unit: "mm",
    min: 0,
    max: 2,
    help: "push allowance: drawn in at each end of the way a piece is sewn along",
  },
  underlay: {
    kind: "choice",
    choices: ["auto", "none"],
    help: "stitches under those that show: as the recipe and the piece's size ask, or none",
  },
  underlapMm: {
    kind: "number",
    unit: "mm",
    min: 0,
    max: 10,
    help: "how far a piece reaches in under a later one that hides the rest of it",
  },
  maxLayers: {
    kind: "integer",
    unit: "layers",
    min: 1,
    max: 10,
    help: "more layers of stitches than this on one spot are reported",
  },
  tieCount: {
    kind: "integer",
    unit: "stitches",
    min: 1,
    max: 10,
    help: "small stitches in a tie-in or tie-off",
  },
  tieLengthMm: { kind: "number", unit: "mm", min: 0.3, max: 3, help: "length of each tie stitch" },
  hoopWidthMm: {
    kind: "number",
    unit: "mm",
    min: 20,
    max: 2000,
    nullMeans: "no hoop in mind",
    help: "width of the hoop's sewing field",
  },
  hoopHeightMm: {
    kind: "number",
    unit: "mm",
    min: 20,
    max: 2000,
    nullMeans: "no hoop in mind",
    help: "height of the hoop's sewing field",
  },
  patch: {
    kind: "choice",
    choices: ["none", "silhouette", "circle", "rounded", "shield", "outline"],
    help: "make the artwork a patch of this shape, with a satin edge; widthMm is the patch's width then",
  },
  patchMarginMm: {
    kind: "number",
    unit: "mm",
    min: 0.5,
    max: 50,
    help: "silhouette: how far the edge reaches out beyond the artwork; other patches: between artwork and edge",
  },
  patchEdgeMm: { kind: "number", unit: "mm", min: 3, max: 4, help: "width of a patch's satin edge" },
  patchGround: {
    kind: "text",
    form: COLOUR,
    nullMeans: "no ground",
    help: "colour of a filled ground under a patch's artwork",
  },
  patchEdgeColour: {
    kind: "text",
    form: COLOUR,
    nullMeans: "the artwork's darkest colour",
    help: "colour of a patch's edge",
  },
  sheetOf: {
    kind: "text",
    form: { pattern: /^[1-9][0-9]?x[1-9][0-9]?$/, says: "copies across and down, as 3x4", example: "3x4" },
    nullMeans: "a single one",
    help: "so many copies on one hoop, each thread sewn on all of them before the next",
  },
  patchGapMm: {
    kind: "number",
    unit: "mm",
    min: 2,
    max: 100,
    help: "between the copies on one hoop, or their cut lines",
  },
  origin: {
    kind: "choice",
    choices: ["centre", "start"],
    help: "where the machine stands at first: the middle of the design, or its first stitch",
  },
  trimJumps: {
    kind: "integer",
    unit: "jumps",
    min: 1,
    max: 20,
    help: "so many jumps in a row tell the machine to trim",
  },
  fabricThicknessMm: {
    kind: "number",
    unit: "mm",
    min: 0.05,
    max: 10,
    help: "thickness of fabric and backing together, for the thread estimate",
  },
  stitchesPerMinute: {
    kind: "number",
    unit: "stitches/min",
    min: 50,
    max: 3000,
    help: "machine speed, for the time estimate",
  },
  hopSeconds: { kind: "number", unit: "s", min: 0, max: 60, help: "time a hop takes, for the estimate" },
  trimSeconds: { kind: "number", unit: "s", min: 0, max: 300, help: "time a trim takes, for the estimate" },
  colourChangeSeconds: {
    kind: "number",
    unit: "s",
    min: 0,
    max: 3600,
    help: "time a colour change takes, for the estimate",
  },
};

/** The names of all settings, in the order in which help lists them. */
export const SETTING_NAMES = Object.keys(SETTINGS_TABLE) as readonly SettingName[];

/** A setting that cannot be used: which one, what is wrong with it, what to do; one line. */
export class SettingsError extends Error {
  readonly setting: string;

  constructor(setting: string, message: string) {
    super(message);
    this.name = "SettingsError";
    this.setting = setting;
  }
}

/** Pairs of lengths of which the first must not be longer than the second. */
const NOT_LONGER: readonly (readonly [SettingName, SettingName])[] = [
  ["minStitchMm", "runLengthMm"],
  ["minStitchMm", "fillLengthMm"],
  ["minStitchMm", "tieLengthMm"],
  ["runLengthMm", "maxMoveMm"],
  ["fillLengthMm", "maxMoveMm"],
  ["satinMinWidthMm", "satinMaxWidthMm"],
];

/**
 * `base` with the given values put in their places. A recipe among them gives every figure of its own that is
 * not among them too.
 *
 * @throws SettingsError for an unknown name, a value of the wrong kind or out of range, and for values that
 * contradict one another
 */
export function settingsWith(
  values: Readonly<Record<string, unknown>>,
  base: Settings = DEFAULT_SETTINGS,
): Settings {
  const checked = Object.fromEntries(
    Object.entries(values).map(([name, value]) => [name, checkedSetting(name, value)]),
  );
  const fromRecipe = checked.recipe === undefined ? {} : settingsOfRecipe(checked.recipe as RecipeName);
  const settings: Record<string, unknown> = { ...base, ...fromRecipe, ...checked };
  for (const [shorter, longer] of NOT_LONGER) {
    if (Number(settings[shorter]) <= Number(settings[longer])) continue;
    const culprit = shorter in values ? shorter : longer;
    throw new SettingsError(
      culprit,
      `${shorter} (${settings[shorter]}) is more than ${longer} (${settings[longer]}); change one of the two`,
    );
  }
  return settings as unknown as Settings;
}

function checkedSetting(name: string, value: unknown): unknown {
  if (!Object.hasOwn(SETTINGS_TABLE, name)) throw new SettingsError(name, unknownSetting(name));
  const info = SETTINGS_TABLE[name as SettingName];
  if (isAllowed(info, value)) return value;
  throw new SettingsError(name, `${name} is ${asWritten(value)}; give ${rangeOf(name as SettingName)}`);
}

function unknownSetting(name: string): string {
  const near = nearestName(name, SETTING_NAMES);
  const hint = near ? `did you mean "${near}"?` : `the settings are ${SETTING_NAMES.join(", ")}`;
  return `there is no setting "${name}"; ${hint}`;
}

function isAllowed(info: SettingInfo, value: unknown): boolean {
  if (info.kind === "choice") return info.choices.includes(value as string);
  if (info.kind === "text") return value === null || (typeof value === "string" && isOfForm(info, value));
  if (value === null) return info.nullMeans !== undefined;
  if (typeof value !== "number" || !(value >= info.min && value <= info.max)) return false;
  return info.kind === "number" || Number.isInteger(value);
}

const isOfForm = ({ form }: TextSetting, value: string): boolean =>
  form === undefined ? value.trim() !== "" : form.pattern.test(value);

const asWritten = (value: unknown): string => {
  const text = typeof value === "number" ? String(value) : (JSON.stringify(value) ?? String(value));
  return text.length > 40 ? `${text.slice(0, 39)}…` : text;
};

/** What a setting may be, in words: `a number from 5 to 2000 mm, or null for the drawing's own size`. */
export function rangeOf(name: SettingName): string {
  const info = SETTINGS_TABLE[name];
  if (info.kind === "choice") return info.choices.map((choice) => JSON.stringify(choice)).join(" or ");
  if (info.kind === "text") return `${info.form?.says ?? "a text"}, or null for ${info.nullMeans}`;
  const kind = info.kind === "integer" ? "a whole number" : "a number";
  const unit = info.unit === "°" ? "°" : ` ${info.unit}`;
  const orNull = info.nullMeans === undefined ? "" : `, or null for ${info.nullMeans}`;
  return `${kind} from ${info.min} to ${info.max}${unit}${orNull}`;
}

/** A value typed as text: a number where it reads as one, `null`, else the text itself for the guard to judge. */
export function settingFromText(text: string): unknown {
  const trimmed = text.trim();
  if (trimmed === "null") return null;
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(trimmed) ? Number(trimmed) : trimmed;
}
