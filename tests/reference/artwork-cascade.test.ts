/**
 * What selectors select, against jsdom's `matches`, and how specific they are, against the worked examples of
 * Selectors 4, section 17 (and of CSS 2.1, 6.4.3). jsdom's own `getComputedStyle` passes over specificity and
 * importance, so that it can't judge which rule wins.
 */
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { Notes } from "../../core/artwork/notes.ts";
import { declaredOn, readSheet } from "../../core/artwork/sheet.ts";
import { elementsIn } from "../../core/artwork/tree.ts";
import { parseXml, type XmlElement } from "../../core/artwork/xml.ts";

const CREST = `
  <g id="bird" class="layer"><title>Heron</title>
    <g id="wing" class="part wing" data-side="left"><path id="f1" class="feather long"/><path id="f2" class="feather"/><path id="f3" class="feather short"/></g>
    <g id="leg" class="part" data-side="right-hand"><rect id="shin" class="bone"/><circle id="knee"/></g>
    <path id="beak" class="part beak" lang="en-GB"/>
  </g>
  <g id="water"><g><path id="wave"/></g><ellipse id="ring" class="wave part"/></g>`;

const SELECTORS = [
  "*",
  "path",
  "g path",
  "g > path",
  "#wing > path",
  ".part",
  "path.feather",
  ".feather.long",
  ".wing .feather",
  "[data-side]",
  '[data-side="left"] path',
  '[data-side^="right"]',
  '[data-side$="hand"]',
  '[data-side*="gh"]',
  '[class~="wave"]',
  '[lang|="en"]',
  "#f1 + path",
  "#f1 ~ path",
  "path:first-child",
  "path:last-child",
  "path:nth-child(2n + 1)",
  "g > :not(path)",
  "g:has(> circle)",
  ":is(rect, circle)",
  ":where(.part) > rect",
  "title + g",
  "svg > g g path",
  "path, rect",
];

const text = (css: string, content: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg"><style>${css.replaceAll(">", "&gt;")}</style>${content}</svg>`;

function ours(css: string, content = CREST): Map<string, ReadonlyMap<string, string>> {
  const root = parseXml(text(css, content));
  const [style] = elementsIn(root);
  const sheet = readSheet([style], new Notes());
  const found = new Map<string, ReadonlyMap<string, string>>();
  const visit = (element: XmlElement): void => {
    const { id } = element.attributes;
    if (id !== undefined) found.set(id, declaredOn(element, sheet));
    for (const child of elementsIn(element)) visit(child);
  };
  visit(root);
  return found;
}

const theirs = (css: string, content = CREST): JSDOM =>
  new JSDOM(text(css, content), { contentType: "image/svg+xml" });

describe("what a selector selects", () => {
  const { document } = theirs("").window;
  const ids = [...document.querySelectorAll("[id]")].map(({ id }) => id);
  it.each(SELECTORS)("%s", (selector) => {
    const expected = ids.filter((id) => document.getElementById(id)?.matches(selector));
    const styled = ours(`${selector} { stroke: red }`);
    expect(ids.filter((id) => styled.get(id)?.get("stroke") === "red")).toEqual(expected);
    if (selector !== "*") expect(expected.length).toBeLessThan(ids.length);
  });
});

describe("how specific a selector is: ids, classes, types", () => {
  it.each([
    ["*", 0, 0, 0],
    ["LI", 0, 0, 1],
    ["UL LI", 0, 0, 2],
    ["UL OL+LI", 0, 0, 3],
    ["H1 + *[REL=up]", 0, 1, 1],
    ["UL OL LI.red", 0, 1, 3],
    ["LI.red.level", 0, 2, 1],
    ["#x34y", 1, 0, 0],
    ["#s12:not(FOO)", 1, 0, 1],
    [".foo :is(.bar, #baz)", 1, 1, 0],
    [":is(em, #foo)", 1, 0, 0],
    [".qux:where(em, #foo#bar#baz)", 0, 1, 0],
    [":nth-child(even of li, .item)", 0, 2, 0],
    [":not(em, strong#foo)", 1, 0, 1],
  ])("%s", (selector, ids, classes, types) => {
    const [style] = elementsIn(parseXml(text(`${selector} { fill: red }`, "")));
    const [{ specificity }] = readSheet([style], new Notes());
    expect([Math.floor(specificity / 1e6), Math.floor(specificity / 1e3) % 1e3, specificity % 1e3]).toEqual([
      ids,
      classes,
      types,
    ]);
  });
});
