/** Attributes of the artist's elements are changed where they stand; no other byte of the drawing moves. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { elementsIn } from "../../core/artwork/tree.ts";
import { parseXml } from "../../core/artwork/xml.ts";
import { withMarks } from "../../core/layers/edit-marks.ts";
import { CREST } from "../support/editor-crest.ts";

const edit = (element: string | null, value: string | null) =>
  ({ element, name: "data-tuck-angle", value }) as const;

describe("attributes of the artist's elements", () => {
  it("are put last into the opening tag", () => {
    expect(withMarks(CREST, [edit("pennant", "30")])).toBe(
      CREST.replace('id="pennant" />', 'id="pennant" data-tuck-angle="30" />'),
    );
  });

  it("are changed in their place, and taken away with the space before them", () => {
    const once = withMarks(CREST, [edit("pennant", "30"), edit("layer1", "45")]);
    expect(withMarks(once, [edit("pennant", "-5")])).toBe(once.replace('"30"', '"-5"'));
    expect(withMarks(once, [edit("pennant", null), edit("layer1", null)])).toBe(CREST);
  });

  it("are told from text that merely looks like them", () => {
    const tricky = `<svg xmlns="http://www.w3.org/2000/svg"><path id="reed" title=" data-tuck-angle='3'" d="M0 0"/></svg>`;
    const set = withMarks(tricky, [edit("reed", "9")]);
    expect(set).toBe(tricky.replace('d="M0 0"', 'd="M0 0" data-tuck-angle="9"'));
    expect(withMarks(set, [edit("reed", null)])).toBe(tricky);
  });

  it("of the document stand on a metadata element, which is put first where there is none", () => {
    const set = withMarks(CREST, [edit(null, "1")]);
    expect(set).toBe(
      CREST.replace('xmlns="http://www.w3.org/2000/svg">', '$&<metadata data-tuck-angle="1"/>'),
    );
    expect(withMarks("<svg/>", [edit(null, "1")])).toBe('<svg><metadata data-tuck-angle="1"/></svg>');
  });

  it("are read back as they were set, whatever they say, and every other element stays as it was", () => {
    // XML normalises white space in attribute values (XML 1.0, 3.3.3), and has no control characters.
    const words = fc
      .string({ unit: "grapheme" })
      .filter((text) => !/\p{Cc}|\p{Cs}|[\ufffe\uffff]/u.test(text));
    fc.assert(
      fc.property(words, (value) => {
        const set = withMarks(CREST, [edit("feather-2", value)]);
        const [, plumage] = elementsIn(parseXml(set));
        expect(elementsIn(plumage)[1].attributes["data-tuck-angle"]).toBe(value);
        expect(withMarks(set, [edit("feather-2", null)])).toBe(CREST);
      }),
      { seed: 20250503, numRuns: 200 },
    );
  });
});
