/**
 * What the artist set with `data-tuck-*`: on the element itself or, inherited like a style, on a group around
 * it. Ranges are those of the settings that each one overrides.
 */
import { type NumberSetting, SETTINGS_TABLE, type SettingName } from "../settings-schema.ts";
import type { Notes } from "./notes.ts";
import type { PieceOverrides, Technique } from "./types.ts";
import type { XmlElement } from "./xml.ts";

export const NO_OVERRIDES: PieceOverrides = {};

const TECHNIQUES: readonly Technique[] = ["fill", "satin", "run", "skip"];

/** Every attribute, what it overrides, and the settings whose place it takes; a number's range is that of the first. */
export const OVERRIDE_ATTRIBUTES: readonly {
  readonly attribute: string;
  readonly key: keyof PieceOverrides;
  readonly settings: readonly SettingName[];
}[] = [
  { attribute: "data-tuck-technique", key: "technique", settings: ["technique"] },
  { attribute: "data-tuck-angle", key: "angleDeg", settings: ["fillAngleDeg"] },
  { attribute: "data-tuck-spacing", key: "spacingMm", settings: ["fillSpacingMm", "satinSpacingMm"] },
  { attribute: "data-tuck-length", key: "lengthMm", settings: ["fillLengthMm", "runLengthMm"] },
  { attribute: "data-tuck-pull", key: "pullMm", settings: ["pullMm"] },
  { attribute: "data-tuck-underlay", key: "underlay", settings: ["underlay"] },
  { attribute: "data-tuck-strand", key: "strand", settings: [] },
];

type NumberOverride = "angleDeg" | "spacingMm" | "lengthMm" | "pullMm";
const isNumber = (key: keyof PieceOverrides): key is NumberOverride =>
  key.endsWith("Mm") || key.endsWith("Deg");

/** The parent's overrides with the element's own on top. A bad value is left out, with a finding. */
export function inheritOverrides(
  parent: PieceOverrides,
  element: XmlElement,
  name: string,
  notes: Notes,
): PieceOverrides {
  const own = overridesOn(element, name, notes);
  return Object.keys(own).length === 0 ? parent : { ...parent, ...own };
}

/** What the element itself sets. A bad value is left out, with a finding. */
export function overridesOn(element: XmlElement, name: string, notes: Notes): PieceOverrides {
  const { attributes } = element;
  const own: { -readonly [K in keyof PieceOverrides]: PieceOverrides[K] } = {};
  const refuse = (attribute: string, allowed: string): void =>
    notes.add(
      `bad-${attribute.slice("data-tuck-".length)}`,
      "warning",
      name,
      `“${name}” has ${attribute}="${attributes[attribute].slice(0, 40)}", which is ignored.`,
      `Use ${allowed}.`,
    );

  const technique = attributes["data-tuck-technique"]?.trim();
  if (technique !== undefined) {
    const known = TECHNIQUES.find((one) => one === technique);
    if (known === undefined) refuse("data-tuck-technique", `one of ${TECHNIQUES.join(", ")}`);
    else own.technique = known;
  }
  for (const { attribute, key, settings } of OVERRIDE_ATTRIBUTES) {
    const text = attributes[attribute]?.trim();
    if (text === undefined || !isNumber(key)) continue;
    const { min, max, unit } = SETTINGS_TABLE[settings[0]] as NumberSetting;
    const value = /^[+-]?(?:\d+\.?\d*|\.\d+)$/.test(text) ? Number(text) : Number.NaN;
    if (value >= min && value <= max) own[key] = value;
    else refuse(attribute, `a number from ${min} to ${max} (${unit})`);
  }
  const underlay = attributes["data-tuck-underlay"]?.trim();
  if (underlay !== undefined) {
    if (/^[a-z]+(?:[- ][a-z]+)*$/.test(underlay)) own.underlay = underlay;
    else refuse("data-tuck-underlay", "the name of an underlay in lower case, or none");
  }
  const strand = attributes["data-tuck-strand"]?.trim();
  if (strand !== undefined) {
    if (strand === "") refuse("data-tuck-strand", "a name that the elements of one strand share");
    else own.strand = strand;
  }
  return own;
}
