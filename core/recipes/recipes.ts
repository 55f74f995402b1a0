/** A recipe: settings that suit one kind of fabric, and advice on what goes under and over it. */
import { SETTINGS_TABLE, type SettingName } from "../settings-schema.ts";
import { ADVICE, type Advice } from "./advice.ts";
import { FABRICS, RECIPE_NAMES, type RecipeName } from "./fabrics.ts";
import { FIGURE_NAMES, FIGURES, type FigureName } from "./figures.ts";

/** One setting of a recipe, and why it has that value. */
export interface RecipeFigure {
  readonly setting: FigureName;
  readonly value: number;
  /** Of the value; empty for a plain number. */
  readonly unit: string;
  /** What the setting is. */
  readonly help: string;
  readonly why: string;
  readonly source: string;
}

/** Settings that suit one kind of fabric, with advice for needle, backing and topping. */
export interface Recipe extends Advice {
  readonly name: RecipeName;
  readonly fabric: string;
  readonly figures: readonly RecipeFigure[];
}

/** The recipe of one kind of fabric. */
export const recipeNamed = (name: RecipeName): Recipe => ({
  name,
  fabric: FABRICS[name],
  figures: FIGURE_NAMES.map((setting) => ({
    setting,
    value: FIGURES[setting].values[name],
    ...meaningOf(setting),
    why: FIGURES[setting].why,
    source: FIGURES[setting].source,
  })),
  ...ADVICE[name],
});

/** Every recipe, in the order in which they are listed. */
export const allRecipes = (): Recipe[] => RECIPE_NAMES.map(recipeNamed);

function meaningOf(setting: SettingName): { unit: string; help: string } {
  const info = SETTINGS_TABLE[setting];
  return { unit: "unit" in info ? info.unit : "", help: info.help };
}
