/** Drawings that Inkscape saved, in a form that can be compared: the order of attributes is the editor's business. */
import { strip } from "../../../core/layers/strip.ts";
import { all, type DomElement, parseDom } from "../../support/dom.ts";
import { svgToPixels } from "../../support/png.ts";

/** Elements with all that they say, each a line. */
const linesOf = (elements: readonly DomElement[]): string[] =>
  elements.map((element) => {
    const attributes = Array.from(element.attributes, ({ name, value }) => `${name}=${value}`);
    const said = attributes.filter((one) => !/^xmlns(:\w+)?=/.test(one)).sort();
    const text = element.children.length === 0 ? [element.textContent ?? ""] : [];
    return [element.localName, ...said, ...text].join(" ").replace(/\s+/g, " ").trim();
  });

/** What Tuckline added, without the ids that the editor gives it. */
export const ownElements = (svg: string): string[] =>
  linesOf(all(parseDom(svg).documentElement, "[data-tuck-role], [data-tuck-role] *")).map((line) =>
    line.replace(/ id=\S+/, ""),
  );

/** What the artist drew; how the editor's window stood is left out. */
export function artworkLines(svg: string): string[] {
  const root = parseDom(strip(svg)).documentElement;
  return linesOf([root, ...all(root, "*").filter(({ localName }) => localName !== "namedview")]);
}

/** The pixels of a drawing, by a rasteriser that is neither ours nor the editor's. */
export const looksOf = (svg: string): Buffer => Buffer.from(svgToPixels(svg, 900).rgba);
