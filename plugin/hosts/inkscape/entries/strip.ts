/** Take Tuckline's layers away. */
import { strip as stripLayers } from "../../../../core/layers/strip.ts";
import type { Entry } from "../entry.ts";
import { STRIP } from "../texts.ts";

export const strip: Entry = {
  name: "strip",
  label: STRIP.label,
  tip: STRIP.tip,
  hasPreview: false,
  fields: [],
  run: ({ svg }) => ({ svg: stripLayers(svg) }),
};
