/** Settings of the selected pieces, written as `data-tuck-*` on the artist's elements. */
import { OVERRIDE_ATTRIBUTES } from "../../../../core/artwork/overrides.ts";
import type { PieceOverrides } from "../../../../core/artwork/types.ts";
import { type MarkEdit, withMarks } from "../../../../core/layers/edit-marks.ts";
import { DEFAULT_SETTINGS } from "../../../../core/settings.ts";
import { type NumberSetting, SETTINGS_TABLE } from "../../../../core/settings-schema.ts";
import type { Entry } from "../entry.ts";
import type { Field, Option, Values } from "../fields.ts";
import { planAgain } from "../planning.ts";
import { artworkSelected } from "../selection.ts";
import { PIECES, PLAN_AGAIN } from "../texts.ts";

const LEAVE = "leave";
const FREE = "free";
const SET = "set";

const leaveOrFree: readonly Option[] = [
  { value: LEAVE, label: PIECES.leave },
  { value: FREE, label: PIECES.free },
];

const choice = (name: string, label: string, options: Readonly<Record<string, string>>): Field => ({
  kind: "choice",
  name,
  label,
  options: [...leaveOrFree, ...Object.entries(options).map(([value, words]) => ({ value, label: words }))],
});

/** A choice, and beside it the figure that one of its options is about, in the range of its setting. */
function figure(key: FigureKey, label: string, preset: number): Field {
  const { min, max, unit } = SETTINGS_TABLE[settingOf(key)] as NumberSetting;
  return {
    kind: "row",
    fields: [
      {
        kind: "choice",
        name: key,
        label: `${label} (${unit})`,
        options: [...leaveOrFree, { value: SET, label: PIECES.set }],
      },
      { kind: "number", name: figureName(key), label: "", min, max, decimals: 2, preset },
    ],
  };
}

const FIGURES = ["angleDeg", "spacingMm", "lengthMm", "pullMm"] as const satisfies (keyof PieceOverrides)[];
type FigureKey = (typeof FIGURES)[number];

const overrideOf = (key: keyof PieceOverrides) => OVERRIDE_ATTRIBUTES.find((one) => one.key === key)!;
const settingOf = (key: FigureKey) => overrideOf(key).settings[0];
const figureName = (key: FigureKey): string => `${key}Value`;

export const pieces: Entry = {
  name: "pieces",
  label: PIECES.label,
  tip: PIECES.tip,
  hasPreview: true,
  fields: [
    choice("technique", PIECES.technique, PIECES.techniques),
    figure("angleDeg", PIECES.angle, 0),
    figure("spacingMm", PIECES.spacing, DEFAULT_SETTINGS.fillSpacingMm),
    figure("lengthMm", PIECES.length, DEFAULT_SETTINGS.fillLengthMm),
    figure("pullMm", PIECES.pull, DEFAULT_SETTINGS.pullMm),
    choice("underlay", PIECES.underlay, PIECES.underlays),
    { kind: "flag", name: "again", label: PLAN_AGAIN, preset: true },
  ],

  run({ svg, values, selection }) {
    const elements = artworkSelected(svg, selection);
    const settings = chosen(values);
    const edits = elements.flatMap((element) => settings.map((one): MarkEdit => ({ element, ...one })));
    const edited = withMarks(svg, edits);
    return { svg: values.flag("again") ? planAgain(edited) : edited };
  },
};

/** What the dialog sets or frees. */
function chosen(values: Values): Pick<MarkEdit, "name" | "value">[] {
  const words = (["technique", "underlay"] as const).map((key) => ({ key, value: values.text(key) }));
  const figures = FIGURES.map((key) => {
    const what = values.text(key);
    return { key, value: what === SET ? String(values.number(figureName(key))) : what };
  });
  return [...words, ...figures].flatMap(({ key, value }) => {
    if (value === LEAVE) return [];
    const name = overrideOf(key).attribute as MarkEdit["name"];
    return [{ name, value: value === FREE ? null : value }];
  });
}
