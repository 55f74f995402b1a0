/** `tuckline recipes`: what suits which kind of fabric, and where each figure comes from. */
import { nearestName } from "../../core/nearest-name.ts";
import { RECIPE_NAMES } from "../../core/recipes/fabrics.ts";
import { allRecipes, type Recipe } from "../../core/recipes/recipes.ts";
import { type Command, flagIn, optionIn } from "../command.ts";
import { CliError, EXIT, emit } from "../io.ts";
import { tableLines } from "../table.ts";

const USAGE = `$0 recipes [recipe]

List the recipes: settings that suit one kind of fabric, what to lay under and over it, and where each figure comes from. $0 plan --recipe takes one.`;

export const recipes: Command = {
  usage: "recipes [recipe]",
  summary: "list what suits which fabric, and where each figure comes from",

  options: (yargs) =>
    yargs
      .usage(USAGE)
      .positional("recipe", { type: "string", describe: `only this one: ${RECIPE_NAMES.join(", ")}` })
      .option("json", { type: "boolean", describe: "print it as JSON" })
      .example("$0 recipes pile", "how to sew on a towel"),

  async run(values, io) {
    const chosen = recipesFor(optionIn(values, "recipe"));
    const text = flagIn(values, "json") ? JSON.stringify(chosen, null, 2) : pageOf(chosen).join("\n");
    await emit(io.stdout, `${text}\n`);
    return EXIT.done;
  },
};

function recipesFor(name: string | undefined): Recipe[] {
  const all = allRecipes();
  const chosen = all.filter((recipe) => name === undefined || recipe.name === name);
  if (chosen.length > 0) return chosen;
  const near = nearestName(name ?? "", RECIPE_NAMES);
  const hint = near === undefined ? `the recipes are ${RECIPE_NAMES.join(", ")}` : `did you mean ${near}?`;
  throw new CliError(`tuckline: there is no recipe "${name}"; ${hint}`);
}

/** Figures side by side, why they differ, what each recipe advises, and the sources that the marks stand for. */
function pageOf(chosen: readonly Recipe[]): string[] {
  const sources = [
    ...new Set(chosen.flatMap(({ figures, source }) => [...figures.map((one) => one.source), source])),
  ];
  const mark = (source: string): string => `[${sources.indexOf(source) + 1}]`;
  return [
    ...figureLines(chosen, mark),
    "",
    "What it is, and why it differs",
    ...whyLines(chosen[0]),
    "",
    ...chosen.flatMap((recipe) => [...adviceLines(recipe, mark), ""]),
    ...sources.map((source) => `${mark(source)} ${source}`),
  ];
}

const figureLines = (chosen: readonly Recipe[], mark: (source: string) => string): string[] =>
  tableLines(
    [
      { title: "setting" },
      ...chosen.map(({ name }) => ({ title: name, align: "right" as const })),
      { title: "" },
      { title: "from" },
    ],
    chosen[0].figures.map(({ setting, unit, source }, i) => [
      setting,
      ...chosen.map(({ figures }) => String(figures[i].value)),
      unit,
      mark(source),
    ]),
  );

const whyLines = ({ figures }: Recipe): string[] =>
  figures.flatMap(({ setting, help, why }) => [`  ${setting}: ${help};`, `    ${why}`]);

function adviceLines(recipe: Recipe, mark: (source: string) => string): string[] {
  const { name, fabric, satinUnderlay, fillUnderlay, backing, topping, needle, source } = recipe;
  const rows = [
    ["under satin", satinUnderlay.join(", ")],
    ["under fill", fillUnderlay.join(", ")],
    ["backing", backing],
    ["topping", topping],
    ["needle", needle],
  ];
  return [
    `${name}: ${fabric}`,
    ...tableLines(
      [{ title: "" }, { title: "" }, { title: "" }],
      rows.map(([what, advice]) => [`  ${what}`, mark(source), advice]),
    ),
  ];
}
