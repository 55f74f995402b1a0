/** Plan the drawing: its settings and its layers, in one step. */
import { LAYER_ROLES, type LayerState, type LayerStates } from "../../../../core/layers/layer-states.ts";
import { writeLayers } from "../../../../core/layers/write.ts";
import { RECIPE_NAMES } from "../../../../core/recipes/fabrics.ts";
import { type NumberSetting, SETTINGS_TABLE } from "../../../../core/settings-schema.ts";
import type { Entry } from "../entry.ts";
import type { Option, Values } from "../fields.ts";
import { planOf } from "../planning.ts";
import { settingsFromPairs, withSettings } from "../settings.ts";
import { LAYER_STATES, LAYERS, ORDERS, PLAN, recipeText } from "../texts.ts";

const AS_BEFORE = "as-before";

/** Markers and connectors hold what the artist moved by hand: they can be hidden, but are always written. */
const HAND_WORK: readonly string[] = ["points", "connectors"];

const stateOptions = (role: string): Option[] => [
  { value: AS_BEFORE, label: LAYER_STATES.asBefore },
  { value: "shown", label: LAYER_STATES.shown },
  { value: "hidden", label: LAYER_STATES.hidden },
  ...(HAND_WORK.includes(role) ? [] : [{ value: "left-out", label: LAYER_STATES.leftOut }]),
];

const asDrawn: Option = { value: AS_BEFORE, label: PLAN.asDrawn };

export const plan: Entry = {
  name: "plan",
  label: PLAN.label,
  tip: PLAN.tip,
  hasPreview: true,
  fields: [
    { kind: "heading", text: PLAN.sewing },
    {
      kind: "choice",
      name: "recipe",
      label: PLAN.recipe,
      options: [asDrawn, ...RECIPE_NAMES.map((name) => ({ value: name, label: recipeText(name) }))],
    },
    {
      kind: "choice",
      name: "order",
      label: PLAN.order,
      options: [
        asDrawn,
        { value: "paint", label: ORDERS.paint },
        { value: "regroup", label: ORDERS.regroup },
      ],
    },
    {
      kind: "number",
      name: "width",
      label: PLAN.width,
      min: 0,
      max: (SETTINGS_TABLE.widthMm as NumberSetting).max,
      decimals: 1,
      preset: 0,
    },
    { kind: "text", name: "further", label: PLAN.further, tip: PLAN.furtherTip },
    { kind: "note", text: PLAN.kept },
    { kind: "heading", text: PLAN.layers },
    ...LAYER_ROLES.map((role) => ({
      kind: "choice" as const,
      name: role,
      label: LAYERS[role],
      options: stateOptions(role),
    })),
    { kind: "note", text: PLAN.movable },
  ],

  run({ svg, values }) {
    const drawing = withSettings(svg, chosenSettings(values));
    return { svg: writeLayers(drawing, planOf(drawing), chosenStates(values)) };
  },
};

/** What the dialog sets; its fields of their own go before what is typed. */
function chosenSettings(values: Values): Readonly<Record<string, unknown>> {
  const width = values.number("width");
  const chosen = (["recipe", "order"] as const).flatMap((name) => {
    const value = values.text(name);
    return value === AS_BEFORE ? [] : [[name, value] as const];
  });
  return {
    ...settingsFromPairs(values.text("further")),
    ...Object.fromEntries(chosen),
    ...(width > 0 ? { widthMm: width } : {}),
  };
}

const chosenStates = (values: Values): LayerStates =>
  Object.fromEntries(
    LAYER_ROLES.flatMap((role) => {
      const state = values.text(role);
      return state === AS_BEFORE ? [] : [[role, state as LayerState]];
    }),
  );
