import { describe, expect, it } from "vitest";
import { regionArea, regionBox } from "../../core/geometry/region.ts";
import { codes, read, readContent, svg } from "../support/read.ts";

const boxOf = (content: string, k = 0) => {
  const { minX, minY, maxX, maxY } = regionBox(readContent(content).pieces[k].region);
  return [minX, minY, maxX, maxY].map((mm) => Math.round(mm * 1000) / 1000);
};
const ids = (content: string) => readContent(content).pieces.map(({ id }) => id);

describe("where an element comes to lie", () => {
  it.each([
    [
      "translate, then scale",
      '<rect width="5" height="5" transform="translate(10 20) scale(2)"/>',
      [10, 20, 20, 30],
    ],
    [
      "nested transforms",
      '<g transform="scale(2)"><rect x="5" width="5" height="5" transform="translate(5)"/></g>',
      [20, 0, 30, 10],
    ],
    [
      "rotate about a point",
      '<rect x="10" y="10" width="20" height="10" transform="rotate(90 10 10)"/>',
      [0, 10, 10, 30],
    ],
    ["matrix", '<rect width="10" height="10" transform="matrix(0 1 -1 0 50 5)"/>', [40, 5, 50, 15]],
    ["skew", '<rect width="10" height="10" transform="skewX(45)"/>', [0, 0, 20, 10]],
    [
      "a transform in style",
      '<rect width="10" height="10" style="transform: translate(5px, 1cm)"/>',
      [5, 37.795, 15, 47.795],
    ],
    [
      "a transform's origin",
      '<rect width="10" height="10" style="transform:rotate(180deg);transform-origin:10px 10px"/>',
      [10, 10, 20, 20],
    ],
    [
      "use",
      '<defs><rect id="r" width="5" height="5"/></defs><use href="#r" x="10" y="20"/>',
      [10, 20, 15, 25],
    ],
    [
      "use with its prefix",
      '<defs><rect id="r" width="5" height="5"/></defs><use xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="#r" x="10"/>',
      [10, 0, 15, 5],
    ],
    [
      "symbol in a viewport of use",
      '<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol><use href="#s" x="10" y="10" width="30" height="40"/>',
      [10, 15, 40, 45],
    ],
    [
      "nested svg",
      '<svg x="10" y="20" width="40" height="40" viewBox="0 0 10 10"><rect width="5" height="5"/></svg>',
      [10, 20, 30, 40],
    ],
    [
      "nested svg cuts off what leaves it",
      '<svg x="10" y="20" width="10" height="10"><rect x="-5" width="50" height="5"/></svg>',
      [10, 20, 20, 25],
    ],
    ["percentages of the viewport", '<rect x="10%" y="50%" width="50%" height="25%"/>', [10, 50, 60, 75]],
  ])("%s", (_, content, box) => expect(boxOf(content)).toEqual(box));
});

describe("the page", () => {
  const page = (attributes: string, width: number | null = null) => {
    const { size } = read(
      `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}><rect x="10" y="10" width="40" height="20"/></svg>`,
      { widthMm: width },
    );
    return [size.widthMm, size.heightMm].map((mm) => Math.round(mm * 100) / 100);
  };
  it.each([
    ["width and height in mm", 'width="80mm" height="60mm"', [80, 60]],
    ["in pixels, 96 an inch", 'width="96" height="192px"', [25.4, 50.8]],
    ["the viewBox's size where that is all", 'viewBox="0 0 960 480"', [254, 127]],
    ["the height from the viewBox's shape", 'viewBox="0 0 36 18" width="80mm"', [80, 40]],
    ["the size of what is drawn where there is no other", "", [10.58, 5.29]],
    ["percentages are no size", 'width="100%" height="100%" viewBox="0 0 96 96"', [25.4, 25.4]],
  ])("%s", (_, attributes, size) => expect(page(attributes)).toEqual(size));

  it("is scaled as a whole to the sewn width", () =>
    expect(page('width="96" height="48"', 80)).toEqual([80, 40]));

  it("keeps the sewn width that an earlier plan recorded, unless another is asked for", () => {
    const planned = svg(
      '<metadata data-tuck-role="size" data-tuck-width-mm="60"/><rect width="9" height="9"/>',
    );
    expect(read(planned).size.widthMm).toBe(60);
    expect(read(planned, { widthMm: 90 }).size.widthMm).toBe(90);
  });

  it("maps user units to millimetres from the page's corner", () => {
    const { userToMm } = read(
      '<svg xmlns="http://www.w3.org/2000/svg" viewBox="10 20 50 50" width="100mm" height="100mm"><rect/></svg>',
    );
    expect(userToMm).toEqual([2, 0, 0, 2, -20, -40]);
  });

  it("cuts off what lies outside", () => {
    const { pieces } = readContent(
      '<rect x="90" width="50" height="10"/><rect x="200" width="5" height="5"/>',
    );
    expect(pieces).toHaveLength(1);
    expect(regionArea(pieces[0].region)).toBeCloseTo(100, 3);
  });
});

describe("which elements are drawn", () => {
  it("takes the first child of a switch whose conditions hold", () =>
    expect(
      ids(`<switch><g requiredExtensions="urn:x"><rect id="a" width="9" height="9"/></g>
        <rect id="b" width="9" height="9" systemLanguage="de"/><rect id="c" width="9" height="9" systemLanguage="fr, en-GB"/>
        <rect id="d" width="9" height="9"/></switch>`),
    ).toEqual(["c"]));

  it("passes over what Tuckline added, even where an editor wrapped it, and hashes the bare artwork", () => {
    const bare = svg('<g><rect id="a" width="9" height="9"/></g>');
    const own = '<g data-tuck-role="stitches"><path data-tuck-part="cover" d="M0 0L50 50" stroke="red"/></g>';
    const planned = bare.replace("<g>", `<g>${own}`);
    expect(read(planned).pieces).toEqual(read(bare).pieces);
    expect(read(planned).source.sha256).toBe(read(bare).source.sha256);
  });

  it("reads elements with a namespace prefix, and files that declare none", () => {
    const prefixed =
      '<s:svg xmlns:s="http://www.w3.org/2000/svg" width="9" height="9"><s:rect width="9" height="9"/></s:svg>';
    expect(read(prefixed).pieces).toHaveLength(1);
    const bare = read('<svg width="9" height="9"><rect width="9" height="9"/></svg>');
    expect(bare.pieces).toHaveLength(1);
    expect(codes(bare)).toEqual(["no-namespace"]);
  });

  it("ignores scripts and event attributes", () =>
    expect(ids('<script>alert(1)</script><rect id="a" onclick="x()" width="9" height="9"/>')).toEqual(["a"]));
});

describe("the names of pieces", () => {
  const heron = `<defs><g id="wing"><path d="M0 0H9V9z"/></g></defs>
    <path d="M0 0h9v9h-9zM20 0h9v9h-9z" stroke="red" stroke-width="2"/><use id="left" href="#wing"/><use href="#wing"/>`;

  it("are ids, else tag and number; use goes before, stroke and islands after", () =>
    expect(ids(heron)).toEqual([
      "path-2",
      "path-2.2",
      "path-2.stroke",
      "path-2.stroke.2",
      "left/path-1",
      "use-2/path-1",
    ]));

  it("never collide", () => {
    const tricky = `<rect id="rect-2" width="9" height="9"/><rect width="9" height="9"/><rect id="rect-2" width="9" height="9"/>
      <path id="rect-2.stroke" d="M0 0h9v9z"/><rect id="x" width="9" height="9"/>`;
    const names = ids(tricky);
    expect(new Set(names).size).toBe(names.length);
    expect(names[0]).toBe("rect-2");
  });

  it("name the element that the document holds", () =>
    expect(
      readContent(heron)
        .pieces.map(({ element }) => element)
        .at(-1),
    ).toBe("path-1"));
});

describe("clips", () => {
  const area = (content: string) =>
    readContent(content).pieces.reduce((sum, { region }) => sum + regionArea(region), 0);
  const RECT = '<rect width="40" height="40" clip-path="url(#c)"/>';
  it.each([
    [
      "keep what lies within",
      `<clipPath id="c"><rect x="30" y="30" width="40" height="40"/></clipPath>${RECT}`,
      100,
    ],
    [
      "are the union of their shapes",
      `<clipPath id="c"><rect width="10" height="10"/><rect x="5" width="10" height="10"/></clipPath>${RECT}`,
      150,
    ],
    [
      "obey clip-rule",
      `<clipPath id="c"><path clip-rule="evenodd" d="M0 0h20v20h-20zM5 5h10v10h-10z"/></clipPath>${RECT}`,
      300,
    ],
    [
      "may be in parts of the element's box",
      `<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width=".5" height=".25"/></clipPath>${RECT}`,
      200,
    ],
    [
      "of a group, in parts of its content's box",
      `<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width=".5" height="1"/></clipPath><g clip-path="url(#c)"><rect width="10" height="10"/><rect x="30" width="10" height="10"/></g>`,
      100,
    ],
    [
      "may be clipped themselves",
      `<clipPath id="d"><rect width="10" height="10"/></clipPath><clipPath id="c" clip-path="url(#d)"><rect x="5" width="40" height="40"/></clipPath>${RECT}`,
      50,
    ],
    [
      "nest",
      `<clipPath id="c"><rect width="20" height="20"/></clipPath><g clip-path="url(#c)" transform="translate(10)">${RECT}</g>`,
      400,
    ],
    ["without shapes leave nothing", `<clipPath id="c"/>${RECT}`, 0],
    ["that are not there clip nothing", RECT, 1600],
  ])("%s", (_, content, expected) => expect(area(content)).toBeCloseTo(expected, 2));
});
