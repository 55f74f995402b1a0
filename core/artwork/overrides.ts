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

type NumberOverride = "angleDeg" | "spacingMm" | "lengthMm" | "pullMm";

const NUMBERS: readonly { attribute: string; key: NumberOverride; setting: SettingName }[] = [
  { attribute: "data-tuck-angle", key: "angleDeg", setting: "fillAngleDeg" },
  { attribute: "data-tuck-spacing", key: "spacingMm", setting: "fillSpacingMm" },
  { attribute: "data-tuck-length", key: "lengthMm", setting: "fillLengthMm" },
  { attribute: "data-tuck-pull", key: "pullMm", setting: "pullMm" },
];

/** The parent's overrides with the element's own on top. A bad value is left out, with a finding. */
export function inheritOverrides(
  parent: PieceOverrides,
  element: XmlElement,
  name: string,
  notes: Notes,
): PieceOverrides {
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
  for (const { attribute, key, setting } of NUMBERS) {
    const text = attributes[attribute]?.trim();
    if (text === undefined) continue;
    const { min, max, unit } = SETTINGS_TABLE[setting] as NumberSetting;
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
  return Object.keys(own).length === 0 ? parent : { ...parent, ...own };
}
