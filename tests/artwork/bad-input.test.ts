import { describe, expect, it } from "vitest";
import { ArtworkError } from "../../core/errors.ts";
import { codes, read, readContent, svg } from "../support/read.ts";

const refusal = (text: string): ArtworkError => {
  try {
    read(text);
  } catch (error) {
    if (error instanceof ArtworkError) return error;
    throw error;
  }
  throw new Error("it was read");
};

const entityBomb = `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">${Array.from("bcdefghi", (name, i) => `<!ENTITY ${name} "${`&${"abcdefgh"[i]};`.repeat(10)}">`).join("")}]><svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><desc>&i;</desc></svg>`;

const useBomb = svg(
  `<rect id="u0" width="1" height="1"/>${Array.from({ length: 9 }, (_, i) => `<g id="u${i + 1}">${`<use href="#u${i}"/>`.repeat(10)}</g>`).join("")}`,
);

describe("what can't be a drawing is refused in one line", () => {
  it.each([
    ["nothing", "", /empty/],
    ["only white space", " \n ", /empty/],
    ["no XML", "dear heron", /^Not well-formed XML/],
    ["half a file", '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0', /^Not well-formed XML/],
    ["another language", "<html><body/></html>", /root element is “html”/],
    ["another namespace", '<svg xmlns="urn:oars"/>', /^Not an SVG drawing/],
    ["no size and no content", '<svg xmlns="http://www.w3.org/2000/svg"/>', /no size/],
    ["an absurd size", '<svg xmlns="http://www.w3.org/2000/svg" width="1e9" height="1e9"/>', /set the width/],
    ["an entity bomb", entityBomb, /entities .* expand without end/],
    ["a `use` bomb", useBomb, /more than 100000 elements/],
    [
      "an entity from outside",
      '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]><svg>&x;</svg>',
      /undefined entity/,
    ],
    [
      "endless nesting",
      `<svg xmlns="http://www.w3.org/2000/svg">${"<g>".repeat(9000)}${"</g>".repeat(9000)}</svg>`,
      /nested more than/,
    ],
    ["10 MB of path data", svg(`<path d="M0 0${"l1.5-2.25".repeat(1_200_000)}"/>`), /MB of path data/],
  ])("%s", (_, text, message) => {
    const error = refusal(text);
    expect(error.message).toMatch(message);
    expect(error.message).not.toContain("\n");
  });

  it("says where the XML goes wrong", () => {
    const { line, column } = refusal("<svg>\n  <g></path>\n</svg>");
    expect([line, column]).toEqual([2, 12]);
  });
});

describe("what is wrong with one element is a finding, and the rest is read", () => {
  const REST = '<rect id="rest" width="9" height="9"/>';
  it.each([
    ["negative sizes", '<rect width="-9" height="9"/><circle r="-1"/>', "bad-geometry"],
    ["numbers that are none", '<circle cx="NaN" r="5"/>', "bad-geometry"],
    ["infinite ones", '<rect width="1e400" height="9"/><path d="M0 0L1e999 5z"/>', "bad-geometry"],
    ["coordinates out of reach", '<rect width="1e30" height="9"/>', "out-of-range"],
    [
      "a transform that flattens",
      '<g transform="scale(0)"><rect width="9" height="9"/></g>',
      "singular-transform",
    ],
    [
      "a transform that mixes up both axes",
      '<rect transform="matrix(1 1 1 1 0 0)" width="9" height="9"/>',
      "singular-transform",
    ],
    ["an element that draws itself", '<use id="u" href="#u"/>', "use-cycle"],
    [
      "elements that draw each other",
      '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>',
      "use-cycle",
    ],
    ["a reference to another file", '<use href="https://club.example/crest.svg#oar"/>', "external-reference"],
    [
      "a file for a gradient",
      '<rect width="9" height="9" fill="url(file:///g.svg#g)"/>',
      "external-reference",
    ],
    [
      "a style sheet from elsewhere",
      '<style>@import "https://club.example/a.css";</style>',
      "external-reference",
    ],
    ["a reference to nothing", '<use href="#nowhere"/>', "missing-reference"],
    ["parts too small to sew", '<rect width=".1" height=".1"/>', "too-small"],
    [
      "endlessly many dashes",
      '<path d="M0 0h90" stroke-dasharray="1e-9" stroke="red" fill="none"/>',
      "too-many-dashes",
    ],
  ])("%s", (_, content, code) => {
    const art = readContent(content + REST);
    expect(codes(art)).toContain(code);
    expect(art.pieces.at(-1)?.id).toBe("rest");
    for (const { message, remedy } of art.findings) expect(message && remedy).toMatch(/^[^\n]+\.$/);
  });

  it("a scribble that crosses itself millions of times", () => {
    const far = Array.from({ length: 6000 }, (_, i) => `L${(i * 37.7) % 100} ${(i * 73.3) % 100}`).join("");
    expect(codes(readContent(`<path d="M0 0${far}z"/>${REST}`))).toContain("too-tangled");
  });

  it("an error in path data, which is drawn up to it", () => {
    const art = readContent('<path d="M0 0H20V20H0z M30 0H50V20H30z L NaN 5"/>');
    expect(art.pieces).toHaveLength(2);
    expect(art.findings[0].message).toContain("“L NaN 5”");
  });

  it("a page without a size of its own takes that of its content", () => {
    const art = read(
      `<svg xmlns="http://www.w3.org/2000/svg" width="0" height="-5" viewBox="0 0 0 0">${REST}</svg>`,
      {
        widthMm: 90,
      },
    );
    expect(art.size).toEqual({ widthMm: 90, heightMm: 90 });
    expect(codes(art)).toEqual(["bad-width", "bad-height", "bad-viewbox"]);
  });
});

describe("what is odd but right", () => {
  it("an unclosed path is filled as if closed", () =>
    expect(readContent('<path d="M0 0h20v20"/>').pieces).toHaveLength(1));

  it("an outline that crosses itself falls into islands", () =>
    expect(readContent('<path d="M0 0L20 20V0L0 20z"/>').pieces.map(({ id }) => id)).toEqual([
      "path-1",
      "path-1.2",
    ]));

  it("a hole by the even-odd rule is none by nonzero", () => {
    const ring = (rule: string) => `<path fill-rule="${rule}" d="M0 0h30v30h-30zM10 10h10v10h-10z"/>`;
    expect(readContent(ring("evenodd")).pieces[0].region[0].holes).toHaveLength(1);
    expect(readContent(ring("nonzero")).pieces[0].region[0].holes).toHaveLength(0);
  });

  it("names of an editor's namespaces may be entities", () => {
    const text = `<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY ns_svg "http://www.w3.org/2000/svg">]>
      <svg xmlns="&ns_svg;" width="9" height="9"><rect width="9" height="9"/></svg>`;
    expect(codes(read(text))).toEqual([]);
  });
});
