import { describe, expect, it } from "vitest";
import { codes, readContent } from "../support/read.ts";

const BOX = 'width="20" height="20"';

/** The thread colours of a drawing, in sewing order. */
const colours = (content: string) => readContent(content).pieces.map(({ colour }) => colour);

describe("which colour an element is sewn in", () => {
  it.each([
    ["its attribute", `<rect ${BOX} fill="#336699"/>`, "#336699"],
    ["black where nothing says otherwise", `<rect ${BOX}/>`, "#000000"],
    ["its group's", `<g fill="teal"><rect ${BOX}/></g>`, "#008080"],
    ["style over attribute", `<rect ${BOX} fill="red" style="fill: navy"/>`, "#000080"],
    ["sheet over attribute", `<style>rect{fill:navy}</style><rect ${BOX} fill="red"/>`, "#000080"],
    ["style over sheet", `<style>rect{fill:red}</style><rect ${BOX} style="fill:navy"/>`, "#000080"],
    [
      "important sheet over style",
      `<style>rect{fill:navy !important}</style><rect ${BOX} style="fill:red"/>`,
      "#000080",
    ],
    [
      "id over class over type",
      `<style>#wing{fill:navy} .f{fill:red} rect{fill:lime}</style><rect id="wing" class="f" ${BOX}/>`,
      "#000080",
    ],
    ["the later of equals", `<style>.a{fill:red} .b{fill:navy}</style><rect class="b a" ${BOX}/>`, "#000080"],
    [
      "a child rule, not a grandchild's",
      `<style>#bird > rect{fill:navy} #crest > rect{fill:red}</style><g id="crest"><g id="bird"><rect ${BOX}/></g></g>`,
      "#000080",
    ],
    [
      "a descendant rule",
      `<style>.bird rect{fill:navy}</style><g class="crest bird"><g><rect ${BOX}/></g></g>`,
      "#000080",
    ],
    [
      "an attribute rule",
      `<style>[data-part="beak"]{fill:navy}</style><rect data-part="beak" ${BOX}/>`,
      "#000080",
    ],
    ["the group's colour", `<g color="navy"><rect ${BOX} fill="currentColor"/></g>`, "#000080"],
    ["its parent's by inherit", `<g fill="navy"><rect ${BOX} style="fill:inherit"/></g>`, "#000080"],
    ["the initial one by initial", `<g fill="navy"><rect ${BOX} style="fill:initial"/></g>`, "#000000"],
    [
      "a weaker value where the stronger is none",
      `<rect ${BOX} fill="navy" style="fill:nosuch"/>`,
      "#000080",
    ],
    ["a rule of screen media", `<style>@media screen{rect{fill:navy}}</style><rect ${BOX}/>`, "#000080"],
    ["not one of print media", `<style>@media print{rect{fill:red}}</style><rect ${BOX}/>`, "#000000"],
  ])("takes %s", (_, content, colour) => expect(colours(content)).toEqual([colour]));

  it.each([
    ["rgb(51, 102, 153)", "#336699"],
    ["rgb(20% 40% 60% / 1)", "#336699"],
    ["rgba(51,102,153,1)", "#336699"],
    ["hsl(210 50% 40%)", "#336699"],
    ["hwb(210 20% 40%)", "#336699"],
    ["#369", "#336699"],
    ["#336699FF", "#336699"],
    ["RebeccaPurple", "#663399"],
    ["lab(100% 0 0)", "#ffffff"],
    ["oklch(0% 0 0)", "#000000"],
    ["color(srgb 0.2 0.4 0.6)", "#336699"],
  ])("reads %s", (text, colour) => expect(colours(`<rect ${BOX} fill="${text}"/>`)).toEqual([colour]));
});

describe("what is not painted", () => {
  it.each([
    ["fill none", `<rect ${BOX} fill="none"/>`],
    ["transparent", `<rect ${BOX} fill="transparent"/>`],
    ["no opacity", `<rect ${BOX} opacity="0"/>`],
    ["no opacity on a group", `<g opacity="0"><rect ${BOX}/></g>`],
    ["no fill opacity", `<rect ${BOX} style="fill-opacity:0%"/>`],
    ["display none", `<g display="none"><rect ${BOX} display="inline"/></g>`],
    ["hidden", `<rect ${BOX} visibility="hidden"/>`],
    ["in definitions", `<defs><rect ${BOX}/></defs>`],
    ["a stroke of no width", `<line x2="50" y2="50" stroke="red" stroke-width="0"/>`],
    ["context paint outside of one", `<rect ${BOX} fill="context-fill"/>`],
  ])("%s", (_, content) => expect(colours(content)).toEqual([]));

  it("but a visible child of a hidden group is", () =>
    expect(colours(`<g visibility="hidden"><rect ${BOX} visibility="visible"/></g>`)).toHaveLength(1));
});

describe("what thread can't do", () => {
  it("sews what is partly transparent solid, and says so once for each element", () => {
    const art = readContent(`<rect id="water" ${BOX} opacity=".5" fill-opacity=".5" fill="blue"/>`);
    expect(art.pieces[0].colour).toBe("#0000ff");
    expect(art.findings.map(({ code, piece }) => [code, piece])).toEqual([
      ["transparent-sewn-solid", "water"],
    ]);
  });

  it("makes a gradient the mean of what the shape shows of it", () => {
    const art = readContent(`
      <linearGradient id="a"><stop offset=".5" stop-color="#333"/><stop offset=".5" stop-color="#fff"/></linearGradient>
      <linearGradient id="b" href="#a"/><rect ${BOX} fill="url(#b)"/>`);
    // The middle of #333333 (L 0.3211) and white (L 1) in OKLab is L 0.6606, which is #929292: figures by culori.
    const grey = Number.parseInt(art.pieces[0].colour.slice(1, 3), 16);
    expect(art.pieces[0].colour).toBe(`#${grey.toString(16).repeat(3)}`);
    expect(Math.abs(grey - 0x92)).toBeLessThanOrEqual(2);
    expect(codes(art)).toEqual(["gradient-one-colour"]);
  });

  it("makes a pattern the mean of what it paints, and paints none where a reference leads nowhere", () => {
    const tile = `<pattern id="p"><rect width="2" height="2" fill="green"/></pattern>`;
    expect(colours(`${tile}<rect ${BOX} fill="url(#p)"/>`)).toEqual(["#008000"]);
    expect(colours(`<rect ${BOX} fill="url(#gone)"/>`)).toEqual([]);
    expect(colours(`<rect ${BOX} fill="url(#gone) navy"/>`)).toEqual(["#000080"]);
  });

  it("leaves out text, images and foreign objects, draws without filter and mask, and names them", () => {
    const art = readContent(`<text id="motto">Row</text><image id="photo" href="data:image/png;base64,AA"/>
      <foreignObject id="html"/><rect id="a" ${BOX} filter="url(#f)"/><rect id="b" ${BOX} mask="luminance"/>`);
    expect(art.findings.map(({ code, piece }) => `${code} ${piece}`)).toEqual([
      "text-left-out motto",
      "image-left-out photo",
      "foreign-object-left-out html",
      "filter-left-out a",
      "mask-left-out b",
    ]);
    expect(art.pieces.map(({ id }) => id)).toEqual(["a", "b"]);
  });
});
