/** Make one strand of the selected shapes: they share a value of `data-tuck-strand`. */
import { parseXml } from "../../../../core/artwork/xml.ts";
import { withMarks } from "../../../../core/layers/edit-marks.ts";
import { type Entry, Refusal } from "../entry.ts";
import { choiceOf } from "../fields.ts";
import { planAgain } from "../planning.ts";
import { artworkById, artworkSelected } from "../selection.ts";
import { PLAN_AGAIN, REFUSALS, STRAND } from "../texts.ts";

const ATTRIBUTE = "data-tuck-strand";

export const strand: Entry = {
  name: "strand",
  label: STRAND.label,
  tip: STRAND.tip,
  hasPreview: true,
  fields: [
    choiceOf("do", STRAND.what, { make: STRAND.make, release: STRAND.release }),
    { kind: "text", name: "strand", label: STRAND.name },
    { kind: "flag", name: "again", label: PLAN_AGAIN, preset: true },
  ],

  run({ svg, values, selection }) {
    const elements = artworkSelected(svg, selection);
    const makes = values.text("do") === "make";
    const value = makes ? values.text("strand") || unusedName(svg) : null;
    if (makes && elements.length < 2 && !isGroup(svg, elements[0])) throw new Refusal(REFUSALS.oneOnly);
    const edited = withMarks(
      svg,
      elements.map((element) => ({ element, name: ATTRIBUTE, value })),
    );
    return { svg: values.flag("again") ? planAgain(edited) : edited };
  },
};

const isGroup = (svg: string, id: string): boolean => artworkById(parseXml(svg)).get(id)?.name === "g";

/** `strand-1`, or with the first number that no strand of the drawing has. */
function unusedName(svg: string): string {
  const taken = new Set([...artworkById(parseXml(svg)).values()].map((one) => one.attributes[ATTRIBUTE]));
  let n = 1;
  while (taken.has(`strand-${n}`)) n++;
  return `strand-${n}`;
}
