/** Save for the machine: the files that go to it, of the drawing as it is now. */
import { pictureSvg } from "../../../../core/output/picture.ts";
import { WRITERS } from "../../../../core/output/writers.ts";
import type { Plan } from "../../../../core/plan/types.ts";
import { type Entry, type Files, Refusal } from "../entry.ts";
import type { Field, Values } from "../fields.ts";
import { nameOf, planOf } from "../planning.ts";
import { REFUSALS, SAVE } from "../texts.ts";

const flag = (name: string, label: string, preset: boolean): Field => ({ kind: "flag", name, label, preset });

export const save: Entry = {
  name: "save",
  label: SAVE.label,
  tip: SAVE.tip,
  hasPreview: false,
  fields: [
    { kind: "folder", name: "folder", label: SAVE.folder },
    { kind: "text", name: "name", label: SAVE.name },
    flag("machine", SAVE.machine, true),
    flag("sheet", SAVE.sheet, true),
    flag("picture", SAVE.picture, true),
    flag("csv", SAVE.csv, false),
    flag("json", SAVE.json, false),
    flag("tell", SAVE.tell, true),
  ],

  run({ svg, values }) {
    const stem = stemOf(values.text("name") || nameOf(svg));
    const files = filesOf(planOf(svg), stem, values);
    if (files.length === 0) throw new Refusal(REFUSALS.nothingToSave);
    return { files: { folder: values.text("folder"), isTold: values.flag("tell"), files } };
  },
};

function filesOf(plan: Plan, stem: string, values: Values): Files["files"] {
  const formats = WRITERS.filter(({ name }) => values.flag(name)).map((writer) => ({
    name: `${stem}.${writer.ending}`,
    bytes: Buffer.from(writer.write(plan, {})),
  }));
  const picture = { name: `${stem}.sewn.svg`, bytes: Buffer.from(pictureSvg(plan), "utf8") };
  return values.flag("picture") ? [...formats, picture] : formats;
}

/** The name without its ending, and without what file systems cannot hold: a name stays in its folder. */
const stemOf = (name: string): string =>
  name
    .replace(/\.svgz?$/i, "")
    // biome-ignore lint/suspicious/noControlCharactersInRegex: no file name holds control characters
    .replace(/[\u0000-\u001f<>:"/\\|?*]+/g, "-")
    .replace(/^\.+/, "") || "drawing";
