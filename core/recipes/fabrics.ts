/** The kinds of fabric that there are recipes for, each with what a newcomer knows it by. */

export const FABRICS = {
  "stable-woven": "woven fabric that does not stretch: canvas, twill, denim, shirting",
  knit: "fabric that stretches: jersey, tee shirts, polo shirts, sweatshirts",
  pile: "fabric with loops or nap: towelling, fleece, velvet",
  sheer: "thin fabric that shows what lies under it: organza, voile, fine silk",
  felt: "felt or twill that is cut out afterwards: patches and badges",
} as const satisfies Readonly<Record<string, string>>;

/** The kind of fabric that a recipe suits. */
export type RecipeName = keyof typeof FABRICS;

/** The names of all recipes. */
export const RECIPE_NAMES = Object.keys(FABRICS) as readonly RecipeName[];

/** One of something for each kind of fabric. */
export type ByFabric<T> = { readonly [Name in RecipeName]: T };
