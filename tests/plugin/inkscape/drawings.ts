/** Requests as Inkscape's menu sends them, of a small drawing of our own. */

import { readArguments } from "../../../plugin/hosts/inkscape/arguments.ts";
import { ENTRIES } from "../../../plugin/hosts/inkscape/entries.ts";
import type { Outcome } from "../../../plugin/hosts/inkscape/entry.ts";
import { valuesOf } from "../../../plugin/hosts/inkscape/fields.ts";
import { CREST } from "../../support/editor-crest.ts";

export { CREST };

export interface Asked {
  readonly svg?: string;
  readonly selection?: readonly string[];
  readonly nodes?: readonly string[];
}

/** Runs a menu entry, its dialog filled in as given, everything else as preset. */
export function choose(
  name: string,
  values: Readonly<Record<string, string>> = {},
  { svg = CREST, selection = [], nodes = [] }: Asked = {},
): Outcome {
  const entry = ENTRIES.find((one) => one.name === name);
  if (entry === undefined) throw new Error(`there is no entry ${name}`);
  const words = [
    ...selection.map((id) => `--id=${id}`),
    ...nodes.map((node) => `--selected-nodes=${node}`),
    ...Object.entries(values).map(([field, value]) => `--${field}=${value}`),
  ];
  const given = readArguments(words);
  return entry.run({ ...given, svg, values: valuesOf(entry.fields, given.values) });
}
