/** Back to the artwork, byte for byte. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ArtworkError } from "../../core/errors.ts";
import { strip } from "../../core/layers/strip.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { all, edited, one, parseDom } from "../support/dom.ts";
import { tinyArtwork, tinyPlan } from "../support/tiny-plan.ts";

const SVG = 'xmlns="http://www.w3.org/2000/svg"';

const ARTWORKS: Readonly<Record<string, string>> = {
  "as an editor writes it": tinyArtwork(),
  "on one line, with no final newline": `<svg ${SVG} width="4mm" height="4mm"><path d="M0 0h4v4z"/></svg>`,
  "with carriage returns": tinyArtwork().replaceAll("\n", "\r\n"),
  "with old carriage returns only": tinyArtwork().replaceAll("\n", "\r"),
  "with a byte order mark": `\uFEFF${tinyArtwork()}`,
  "with a byte order mark and carriage returns": `\uFEFF${tinyArtwork().replaceAll("\n", "\r\n")}`,
  "with comments and instructions behind the root": `${tinyArtwork()}\n<!-- </svg> ebb tide -->\n<?oar feather?>\n\n`,
  "with a document type and entities": `<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd" [\n<!ENTITY ns "http://www.w3.org/2000/svg">\n]>\n<svg xmlns="&ns;"><g/></svg>`,
  "with a prefixed root": '<s:svg xmlns:s="http://www.w3.org/2000/svg"><s:g>\n</s:g></s:svg >\n',
  "with a self-closing root": `<svg ${SVG} width="4mm" height="4mm"/>`,
  "with a self-closing root, spaced": `<?xml version='1.0'?>\n<svg ${SVG}\n\theight='4mm'\n/>\n<!-- dry -->`,
  "with a self-closing prefixed root": '<s:svg xmlns:s="http://www.w3.org/2000/svg" />',
  "with an empty root that has a closing tag": `<svg ${SVG}></svg>`,
  "with nothing but white space in the root": `<svg ${SVG}>\n\n  </svg\n>`,
  "with no namespace at all": "<svg><rect width='4' height='4'/></svg>",
  "with CDATA that looks like a closing tag": `<svg ${SVG}><style><![CDATA[ /* </svg> */ ]]></style></svg>`,
  "with a > inside an attribute": `<svg ${SVG} aria-label="bow > stern"><title>oar &gt; paddle</title></svg>`,
  "with wide characters before the end": `<svg ${SVG}><title>\u{1fab6} Reiher – été</title></svg>\u{a}`,
  "with the artist's own settings": `<svg ${SVG}><rect data-tuck-technique="satin" data-tuck-angle="30" data-tuck-strand="a" width="4" height="4"/></svg>`,
};

describe("stripping a planned drawing", () => {
  it.each(Object.entries(ARTWORKS))("restores one %s", (_, artwork) => {
    const planned = writeLayers(artwork, tinyPlan());
    expect(planned).not.toBe(artwork);
    expect(strip(planned)).toBe(artwork);
    expect(writeLayers(planned, tinyPlan())).toBe(planned);
  });

  it("leaves a drawing that was never planned as it is", () => {
    for (const artwork of Object.values(ARTWORKS)) expect(strip(artwork)).toBe(artwork);
  });

  it("keeps an artwork element that was drawn into a root once empty", () => {
    const planned = writeLayers(`<svg ${SVG}/>`, tinyPlan());
    const drawn = planned.replace("</svg>", '<rect width="4" height="4"/></svg>');
    expect(strip(drawn)).toBe(`<svg ${SVG}><rect width="4" height="4"/></svg>`);
  });

  it("finds what an editor moved into groups of the artist", () => {
    const moved = edited(writeLayers(tinyArtwork(), tinyPlan()), (document) => {
      const wrapper = document.createElementNS("http://www.w3.org/2000/svg", "g");
      wrapper.setAttribute("id", "reeds");
      document.documentElement.append(wrapper);
      wrapper.append(one(document, '[data-tuck-role="findings"]'));
      wrapper.append(one(document, '[data-tuck-point="exit"]'));
      wrapper.append(one(document, "[data-tuck-from]"), one(document, "[data-tuck-part]"));
    });
    const root = parseDom(strip(moved)).documentElement;
    expect(all(root, "*").map((element) => element.getAttribute("id"))).toEqual([
      "feather-1",
      "feather-2",
      "feather-3",
      "pennant",
      "reeds",
    ]);
  });

  it("keeps the authorship that an editor wrote into our metadata element", () => {
    const credited = edited(writeLayers(tinyArtwork(), tinyPlan()), (document) => {
      const size = one(document, '[data-tuck-role="size"]');
      size.append(document.createElementNS("http://purl.org/dc/elements/1.1/", "creator"));
    });
    const metadata = one(parseDom(strip(credited)), "metadata");
    expect(metadata.attributes.length).toBe(0);
    expect(metadata.children[0].localName).toBe("creator");
    expect(writeLayers(writeLayers(credited, tinyPlan()), tinyPlan())).toBe(
      writeLayers(credited, tinyPlan()),
    );
  });

  it("refuses what is not XML with the place of the fault", () => {
    expect(() => strip("<svg><g></svg>")).toThrow(ArtworkError);
    expect(() => writeLayers("<svg><g></svg>", tinyPlan())).toThrow(ArtworkError);
  });

  it("restores any drawing, whatever its white space, quotes, comments and characters", () => {
    fc.assert(
      fc.property(svgText, (artwork) => {
        const planned = writeLayers(artwork, tinyPlan());
        expect(strip(planned)).toBe(artwork);
        expect(writeLayers(planned, tinyPlan())).toBe(planned);
      }),
      { numRuns: 200, seed: 1919 },
    );
  });
});

/** Well-formed SVG texts in the odd shapes that editors, scripts and people give them. */
const space = fc.stringMatching(/^[ \t\n]{0,3}$/).map((s) => s.replaceAll("\t\n", "\r\n"));
const gap = space.map((s) => s || "\n");
const word = fc.constantFrom(
  "reed",
  "Wasser",
  "été",
  "鷺",
  "\u{1fab6}",
  "a > b",
  "&amp;",
  "&#233;",
  "]]",
  "/>",
  "'",
);
const words = fc.array(word, { maxLength: 3 }).map((each) => each.join(" "));
const attribute = fc
  .tuple(gap, fc.constantFrom("id", "class", "data-oar", "fill"), space, space, words, fc.boolean())
  .map(([before, name, left, right, value, single]) =>
    single
      ? `${before}${name}${left}=${right}'${value.replaceAll("'", "")}'`
      : `${before}${name}${left}=${right}"${value}"`,
  );
const comment = words.map((text) => `<!-- </svg> ${text} -->`);
const instruction = words.map((text) => `<?row ${text.replaceAll("/>", "")}?>`);
const cdata = words.map((text) => `<![CDATA[</svg> ${text.replaceAll("]]", "")} <g>]]>`);
const text = words.map((each) => each.replaceAll(/]]|>/g, ""));
const depth = fc.createDepthIdentifier();
const content = fc.letrec<{ nodes: string; node: string; element: string }>((tie) => ({
  nodes: fc.array(tie("node"), { maxLength: 4, depthIdentifier: depth }).map((each) => each.join("")),
  node: fc.oneof(
    { maxDepth: 4, depthIdentifier: depth },
    space,
    comment,
    instruction,
    cdata,
    text,
    tie("element"),
  ),
  element: fc
    .tuple(
      fc.constantFrom("g", "path", "title", "x:note"),
      fc.option(attribute, { nil: "" }),
      space,
      fc.option(tie("nodes")),
    )
    .map(([name, given, tail, inside]) =>
      inside === null ? `<${name}${given}${tail}/>` : `<${name}${given}${tail}>${inside}</${name}${tail}>`,
    ),
}));
const misc = fc.array(fc.oneof(space, comment, instruction), { maxLength: 3 }).map((each) => each.join(""));
const prologue = fc.constantFrom(
  "",
  "\uFEFF",
  "<?xml version='1.0' encoding='UTF-8' standalone=\"no\"?>",
  '<?xml version="1.0"?>\r\n<!DOCTYPE svg [ <!ENTITY oar "blade"> ]>',
);
const svgText = fc
  .tuple(
    prologue,
    misc,
    fc.constantFrom("", "svg:"),
    attribute,
    space,
    fc.option(content.nodes, { freq: 4 }),
    misc,
  )
  .map(([head, before, prefix, given, tail, inside, after]) => {
    const binding = prefix === "" ? "xmlns" : "xmlns:svg";
    const open = `<${prefix}svg ${binding}="http://www.w3.org/2000/svg" xmlns:x="urn:reeds"${given}${tail}`;
    const root = inside === null ? `${open}/>` : `${open}>${inside}</${prefix}svg${tail}>`;
    return `${head}${before}${root}${after}`;
  });
