/** `tuckline settings`: the settings that hold, and where each of them comes from. */
import { type DrawnSetting, drawnSettings } from "../../core/artwork/drawn-settings.ts";
import type { EffectiveSettings } from "../../core/settings-cascade.ts";
import { settingsInDrawing } from "../../core/settings-in-drawing.ts";
import { SETTINGS_SCHEMA } from "../../core/settings-json-schema.ts";
import { SETTING_NAMES, SETTINGS_TABLE } from "../../core/settings-schema.ts";
import { type Command, flagIn, optionIn, wordIn } from "../command.ts";
import { readInput, withInput } from "../input.ts";
import { EXIT, emit } from "../io.ts";
import { readSettings, refuseSharedInput, settingsOptions } from "../planning.ts";
import { settingsFrom } from "../settings.ts";
import { printable, tableLines } from "../table.ts";

const USAGE = `$0 settings [artwork]

Show the settings that a plan would be made with, and where each comes from. The later go before the earlier: defaults, recipe, settings file, what the drawing carries itself (data-tuck-settings), --set, other options, then what it sets on a group and on an element with data-tuck-*.`;

export const settings: Command = {
  usage: "settings [artwork]",
  summary: "show the settings that hold, and where each comes from",

  options: (yargs) =>
    settingsOptions(
      yargs.usage(USAGE).positional("artwork", {
        type: "string",
        describe: "a drawing, to list what it sets itself; - is standard input",
      }),
    )
      .option("json", { type: "boolean", describe: "print it as JSON" })
      .option("schema", { type: "boolean", describe: "print the JSON Schema of settings files" })
      .example("$0 settings --recipe knit --set pullMm=0.3", "what holds, and why")
      .example("$0 settings heron-crest.svg", "with what the drawing sets")
      .example("$0 settings --schema", "for an editor that checks JSON"),

  async run(values, io) {
    if (flagIn(values, "schema")) {
      await emit(io.stdout, `${JSON.stringify(SETTINGS_SCHEMA, null, 2)}\n`);
      return EXIT.done;
    }
    const artwork = values.artwork === undefined ? undefined : wordIn(values, "artwork");
    refuseSharedInput({ artwork, settings: optionIn(values, "settings") });
    const given = await readSettings(values, io);
    const input = artwork === undefined ? undefined : await readInput(artwork, io);
    const carried = input && withInput(input, settingsInDrawing);
    const effective = carried ? settingsFrom({ ...given, drawn: carried.values }) : given.effective;
    const drawing = input && withInput(input, drawnSettings);
    const text = flagIn(values, "json")
      ? JSON.stringify({ ...effective, ...(drawing ? { drawn: drawing.drawn } : {}) }, null, 2)
      : [...settingLines(effective), ...(drawing ? ["", ...drawnLines(drawing.drawn)] : [])].join("\n");
    await emit(io.stdout, `${text}\n`);
    for (const { message, remedy } of [...(carried?.findings ?? []), ...(drawing?.findings ?? [])])
      await emit(io.stderr, `${printable(`${input?.shown}: ${message} ${remedy}`)}\n`);
    return EXIT.done;
  },
};

const settingLines = ({ settings: held, origins }: EffectiveSettings): string[] =>
  tableLines(
    [{ title: "setting" }, { title: "value", align: "right" }, { title: "" }, { title: "from" }],
    SETTING_NAMES.map((name) => {
      const info = SETTINGS_TABLE[name];
      const value = held[name];
      const isNumber = info.kind !== "choice" && value !== null;
      const none = info.kind === "choice" || value !== null ? "" : `  (${info.nullMeans})`;
      return [
        name,
        value === null ? "–" : String(value),
        isNumber && "unit" in info ? info.unit : "",
        `${printable(origins[name])}${none}`,
      ];
    }),
  );

function drawnLines(drawn: readonly DrawnSetting[]): string[] {
  if (drawn.length === 0) return ["The drawing sets nothing itself."];
  return tableLines(
    [{ title: "set in the drawing" }, { title: "" }, { title: "value" }, { title: "in place of" }],
    drawn.map(({ element, on, attribute, value, settings: replaced }) => [
      attribute,
      `${on} ${printable(element)}`,
      printable(value),
      replaced.join(", "),
    ]),
  );
}
