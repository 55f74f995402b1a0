/** Recipes as the trade knows them. Which fabric asks for more of what: common practice, no source. */
import { describe, expect, it } from "vitest";
import { RECIPE_NAMES, type RecipeName } from "../../core/recipes/fabrics.ts";
import { allRecipes, recipeNamed } from "../../core/recipes/recipes.ts";
import { settingsOfRecipe } from "../../core/recipes/settings-of.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { settingsWith } from "../../core/settings-schema.ts";

const figure = (name: RecipeName, setting: string): number =>
  recipeNamed(name).figures.find((one) => one.setting === setting)!.value;

/** The fabrics from the one that asks for least to the one that asks for most. */
const rising = (setting: string): RecipeName[] =>
  [...RECIPE_NAMES].sort((a, b) => figure(a, setting) - figure(b, setting));

describe("recipes", () => {
  it.each(RECIPE_NAMES)("%s gives settings that can be planned with", (name) => {
    const settings = settingsWith({ recipe: name });
    expect(settings).toEqual({ ...DEFAULT_SETTINGS, ...settingsOfRecipe(name) });
    expect(settingsWith({ ...settings })).toEqual(settings);
  });

  it("of stable woven fabric is the defaults", () => {
    expect(settingsWith({ recipe: "stable-woven" })).toEqual(DEFAULT_SETTINGS);
  });

  it("gives way to what is set beside it, in whichever order they come", () => {
    const settings = settingsWith({ pullMm: 0.5, recipe: "knit" });
    expect(settings).toMatchObject({ pullMm: 0.5, underlapMm: 2, recipe: "knit" });
    expect(settingsWith({ recipe: "knit", pullMm: 0.5 })).toEqual(settings);
  });

  it("is kept when single settings are changed afterwards", () => {
    expect(settingsWith({ widthMm: 80 }, settingsWith({ recipe: "pile" }))).toEqual(
      settingsWith({ recipe: "pile", widthMm: 80 }),
    );
  });

  it("names for every figure its unit, why it differs, and where it comes from", () => {
    for (const { figures, ...recipe } of allRecipes()) {
      for (const { setting, unit, help, why, source } of figures) {
        expect(unit, setting).toMatch(/^(mm|layers)$/);
        for (const words of [help, why]) expect(words.length, setting).toBeGreaterThan(10);
        expect(source).toContain("common practice, no source");
      }
      expect(recipe.source).toBe("common practice, no source");
      for (const advice of [recipe.fabric, recipe.backing, recipe.topping, recipe.needle])
        expect(advice).not.toBe("");
      for (const kinds of [recipe.satinUnderlay, recipe.fillUnderlay])
        expect(kinds.length).toBeGreaterThan(0);
    }
  });

  it("names the measurement that pull compensation rests on, and claims no figure from it", () => {
    const pull = recipeNamed("knit").figures.find(({ setting }) => setting === "pullMm")!;
    expect(pull.source).toBe(
      "that satin comes out too narrow: Radavičienė and Jucienė 2012; how much: common practice, no source",
    );
    for (const name of RECIPE_NAMES) expect(figure(name, "pullMm")).toBeGreaterThan(0);
  });
});

describe("what the trade expects of them", () => {
  it("fabric that gives is drawn in more: felt least, then woven, sheer, knit, and pile most", () => {
    expect(rising("pullMm")).toEqual(["felt", "stable-woven", "sheer", "knit", "pile"]);
  });

  it("rows lie closest on pile, which pushes through, and most open on sheer, which puckers", () => {
    const spacing = rising("fillSpacingMm");
    expect([spacing[0], spacing.at(-1)]).toEqual(["pile", "sheer"]);
  });

  it("the narrowest satin is widest on pile, and its longest stitch shortest", () => {
    expect(rising("satinMinWidthMm").at(-1)).toBe("pile");
    expect(rising("splitSatinAboveMm")[0]).toBe("pile");
  });

  it("pile and knit are topped, and pile always; knits take a ball point and stay backed", () => {
    expect(recipeNamed("pile").topping).toContain("water-soluble");
    expect(recipeNamed("knit").needle).toContain("ball point");
    expect(recipeNamed("knit").backing).toContain("cut-away");
  });

  it("thin fabric carries the fewest layers and the least underlay", () => {
    expect(rising("maxLayers")[0]).toBe("sheer");
    expect(recipeNamed("sheer").fillUnderlay).toEqual(["edge run"]);
  });
});
