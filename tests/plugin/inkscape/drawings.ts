/** Small drawings of our own as Inkscape saves them, and requests as its menu sends them. */

import { readArguments } from "../../../plugin/hosts/inkscape/arguments.ts";
import { ENTRIES } from "../../../plugin/hosts/inkscape/entries.ts";
import type { Outcome } from "../../../plugin/hosts/inkscape/entry.ts";
import { valuesOf } from "../../../plugin/hosts/inkscape/fields.ts";

/** Two feathers of one thread and a red pennant over them, on layers that the editor moved and turned. */
export const CREST = `<?xml version="1.0" encoding="UTF-8" standalone="no"?>
<!-- Willowmere -->
<svg
   width="60mm"
   height="40mm"
   viewBox="0 0 60 40"
   version="1.1"
   id="svg5"
   sodipodi:docname="heron.svg"
   xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"
   xmlns:sodipodi="http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd"
   xmlns="http://www.w3.org/2000/svg">
  <sodipodi:namedview
     id="namedview7"
     pagecolor="#ffffff"
     inkscape:document-units="mm" />
  <g
     inkscape:label="Plumage"
     inkscape:groupmode="layer"
     id="layer1"
     transform="translate(10,5)">
    <path
       style="fill:#4a6274;stroke:none"
       d="M 0,0 H 14 V 10 H 0 Z"
       id="feather-1" />
    <path
       style="fill:#4a6274;stroke:none"
       d="m 10,4 h 14 v 10 h -14 z"
       id="feather-2" />
  </g>
  <g
     inkscape:label="Pennant"
     inkscape:groupmode="layer"
     id="layer2"
     transform="matrix(0,1,-1,0,60,0)">
    <path
       style="fill:#c8403a"
       d="m 10,20 4,20 8,-18 z"
       id="pennant" />
  </g>
</svg>
`;

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
