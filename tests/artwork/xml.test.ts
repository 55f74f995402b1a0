import { describe, expect, it } from "vitest";
import type { XmlElement } from "../../core/artwork/xml.ts";
import { parseXml } from "../../core/artwork/xml.ts";

const text =
  '\uFEFF<?xml version="1.0"?>\r\n<svg xmlns="http://www.w3.org/2000/svg" xmlns:o="urn:oars">\r\n  <g o:stroke="4">🚣<o:blade a="1&gt;0"/><!-- <x> --></g>\r\n<style><![CDATA[a>b{}]]></style></svg>\r\n';

const elements = (element: XmlElement): XmlElement[] => [
  element,
  ...element.children.flatMap((child) => (child.type === "element" ? elements(child) : [])),
];

describe("an element knows its place", () => {
  const all = elements(parseXml(text));
  const source = (name: string) => {
    const { start, openEnd, closeStart, end } = all.find((one) => one.name === name) as XmlElement;
    return [start, openEnd, closeStart, end].map((at) => text.slice(at, at + 4));
  };

  it.each([
    ["g", ["<g o", "🚣<o", "</g>", "\r\n<s"]],
    ["blade", ["<o:b", "<!--", "<!--", "<!--"]],
    ["style", ["<sty", "<![C", "</st", "</sv"]],
  ])("%s", (name, places) => expect(source(name)).toEqual(places));

  it("by line and column", () =>
    expect(all.map(({ name, line, column }) => `${name} ${line}:${column}`)).toEqual([
      "svg 2:1",
      "g 3:3",
      "blade 3:21",
      "style 4:1",
    ]));

  it("with its namespace, its attributes as written, and its parent", () => {
    const blade = all[2];
    expect(blade.namespace).toBe("urn:oars");
    expect(blade.attributes).toEqual({ a: "1>0" });
    expect(blade.parent?.attributes).toEqual({ "o:stroke": "4" });
    expect(blade.selfClosing).toBe(true);
  });

  it("keeps text and CDATA", () => {
    expect(all[1].children[0]).toEqual({ type: "text", text: "🚣" });
    expect(all[3].children[0]).toEqual({ type: "text", text: "a>b{}" });
  });
});
