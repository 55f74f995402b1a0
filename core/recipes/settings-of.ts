import type { Settings } from "../settings.ts";
import type { RecipeName } from "./fabrics.ts";
import { FIGURE_NAMES, FIGURES } from "./figures.ts";

/** The settings that a recipe stands for, its own name among them. */
export const settingsOfRecipe = (name: RecipeName): Partial<Settings> => ({
  recipe: name,
  ...Object.fromEntries(FIGURE_NAMES.map((setting) => [setting, FIGURES[setting].values[name]])),
});
