/** The contract of the layers, attribute by attribute, as a browser's DOM sees it. */
import { describe, expect, it } from "vitest";
import { writeLayers } from "../../core/layers/write.ts";
import { all, type DomElement, one, parseDom, SVG_NAMESPACE } from "../support/dom.ts";
import { svgToPixels } from "../support/png.ts";
import { scaledToMm, tinyArtwork, tinyPlan } from "../support/tiny-plan.ts";

const INKSCAPE = "http://www.inkscape.org/namespaces/inkscape";

const planned = (unitMm = 1) =>
  parseDom(writeLayers(tinyArtwork(unitMm), tinyPlan({ userToMm: scaledToMm(unitMm) })));
const PLANNED = planned();
const layerOf = (role: string) => one(PLANNED, `[data-tuck-role="${role}"]`);
const attributes = (element: DomElement, ...names: string[]) =>
  names.map((name) => element.getAttribute(name));
const numbers = (text: string | null) => (text ?? "").match(/-?[\d.]+/g)?.map(Number) ?? [];

describe("the layers of a plan", () => {
  it("stand after the artwork, as groups of class layer with a title", () => {
    const root = planned().documentElement;
    const added = Array.from(root.children).slice(4);
    expect(added.map((layer) => attributes(layer, "data-tuck-role", "class"))).toEqual([
      ["size", null],
      ["stitches", "layer"],
      ["connectors", "layer"],
      ["points", "layer"],
      ["findings", "layer"],
    ]);
    for (const layer of added.slice(1)) {
      expect(layer.namespaceURI).toBe(SVG_NAMESPACE);
      expect(layer.children[0].localName).toBe("title");
      expect(layer.getAttributeNS(INKSCAPE, "groupmode")).toBe("layer");
      expect(layer.getAttributeNS(INKSCAPE, "label")).toBe(layer.children[0].textContent);
    }
  });

  it("carry the sewn size on a metadata element", () => {
    expect(attributes(layerOf("size"), "data-tuck-width-mm", "data-tuck-height-mm")).toEqual(["40", "32"]);
    expect(layerOf("size").localName).toBe("metadata");
  });

  it("take the name prefix of the root", () => {
    const artwork = '<svg:svg xmlns:svg="http://www.w3.org/2000/svg" width="40mm" height="32mm"></svg:svg>';
    const root = parseDom(writeLayers(artwork, tinyPlan())).documentElement;
    const elements = all(root, "*");
    expect(elements.length).toBeGreaterThan(40);
    for (const element of elements) expect(element.namespaceURI).toBe(SVG_NAMESPACE);
  });

  it("are replaced, not added to, when a planned drawing is planned again", () => {
    const once = writeLayers(tinyArtwork(), tinyPlan());
    expect(writeLayers(once, tinyPlan())).toBe(once);
    const fewer = writeLayers(once, tinyPlan({ findings: [], connectors: [] }));
    expect(fewer).toBe(writeLayers(tinyArtwork(), tinyPlan({ findings: [], connectors: [] })));
  });

  it("are plain ASCII, so that they suit whatever encoding the file declares", () => {
    const [feather, ...others] = tinyPlan().pieces;
    const id = 'plume d’été "1" <a> & \u{1fab6}';
    const text = writeLayers(
      tinyArtwork(),
      tinyPlan({
        pieces: [{ ...feather, id }, ...others],
        sewing: tinyPlan().sewing.map((step) =>
          "piece" in step && step.piece === feather.id ? { ...step, piece: id } : step,
        ),
      }),
    );
    expect(text).toMatch(/^[\n -~]*$/);
    const marker = one(parseDom(text), '[data-tuck-point="entry"]');
    expect(marker.getAttribute("data-tuck-piece")).toBe(id);
  });
});

describe("the layer of stitches", () => {
  it("has a group per block, in it a group per piece in sewing order", () => {
    const blocks = all(layerOf("stitches"), "[data-tuck-block]");
    expect(blocks.map((block) => block.getAttribute("data-tuck-colour"))).toEqual(["#4a6274", "#c8403a"]);
    expect(
      blocks.map((block) =>
        all(block, "[data-tuck-piece]").map((piece) =>
          attributes(piece, "data-tuck-piece", "data-tuck-order"),
        ),
      ),
    ).toEqual([
      [
        ["feather-1", "1"],
        ["feather-2", "2"],
        ["feather-3", "3"],
      ],
      [["pennant", "4"]],
    ]);
  });

  it("has a polyline for each part of a piece, its ties included, in needle order", () => {
    const parts = (id: string) =>
      all(one(layerOf("stitches"), `[data-tuck-piece="${id}"]`), "polyline").map((line) =>
        line.getAttribute("data-tuck-part"),
      );
    expect(parts("feather-1")).toEqual(["tie", "underlay", "cover"]);
    expect(parts("feather-2")).toEqual(["travel", "cover", "tie"]);
    expect(parts("pennant")).toEqual(["cover"]);
  });

  it("draws every needle point of a part", () => {
    const underlay = one(layerOf("stitches"), '[data-tuck-part="underlay"]');
    expect(underlay.getAttribute("points")).toBe("4,4 8,8 4,4");
  });
});

describe("the layer of connectors", () => {
  const connector = (kind: string) => one(layerOf("connectors"), `[data-tuck-kind="${kind}"]`);
  const NAMES = ["data-tuck-from", "data-tuck-to", "data-tuck-tucked-mm", "data-tuck-exposed-mm"];

  it("has one path for each, with what it joins and how much of it is tucked", () => {
    expect(all(layerOf("connectors"), "[data-tuck-from]").length).toBe(2);
    expect(attributes(connector("tucked"), ...NAMES, "d")).toEqual([
      "feather-1",
      "feather-2",
      "4.308",
      "0",
      "M4 11.6L6 12.4L8 11.6",
    ]);
    expect(attributes(connector("jump"), ...NAMES)).toEqual(["feather-2", "feather-3", "0", "14"]);
  });

  it("gives the reason of a jump, and of nothing else", () => {
    expect(connector("jump").getAttribute("data-tuck-reason")).toMatch(/6 mm are bare/);
    expect(connector("tucked").hasAttribute("data-tuck-reason")).toBe(false);
  });

  it("tells the kinds apart by their dashes, not by colour", () => {
    const [tucked, jump] = tinyPlan().connectors;
    const hop = { ...jump, id: "hop", kind: "hop" as const };
    const root = parseDom(writeLayers(tinyArtwork(), tinyPlan({ connectors: [tucked, hop, jump] })));
    const styles = all(root, "[data-tuck-from]").map((path) => path.getAttribute("style") ?? "");
    expect(new Set(styles.map((style) => /stroke-dasharray:[^;]*/.exec(style)?.[0])).size).toBe(3);
    expect(new Set(styles.map((style) => /stroke:[^;]*/.exec(style)?.[0])).size).toBe(1);
  });
});

describe("the layer of markers", () => {
  it("has an entry and an exit for each piece, in sewing order", () => {
    const markers = all(layerOf("points"), "[data-tuck-point]");
    expect(
      markers.map((marker) => attributes(marker, "data-tuck-piece", "data-tuck-point", "data-tuck-at")),
    ).toEqual([
      ["feather-1", "entry", "4 4"],
      ["feather-1", "exit", "4 11.6"],
      ["feather-2", "entry", "8 11.6"],
      ["feather-2", "exit", "8 19.2"],
      ["feather-3", "entry", "22 19.2"],
      ["feather-3", "exit", "22 26.8"],
      ["pennant", "entry", "22 4"],
      ["pennant", "exit", "22 11.6"],
    ]);
  });

  it("begins every path of a marker at the very point that it marks", () => {
    for (const marker of all(layerOf("points"), "[data-tuck-point]"))
      for (const path of all(marker, "path"))
        expect(numbers(path.getAttribute("d")).slice(0, 2)).toEqual(
          numbers(marker.getAttribute("data-tuck-at")),
        );
  });

  it("says which points the artist had pinned", () => {
    const pinned = all(layerOf("points"), '[data-tuck-pinned="yes"]');
    expect(pinned.map((marker) => attributes(marker, "data-tuck-piece", "data-tuck-point"))).toEqual([
      ["feather-2", "entry"],
    ]);
    expect(all(layerOf("points"), "[data-tuck-pinned]").length).toBe(1);
  });

  it("points the chevron of an entry along the first stitch, and lays the bar of an exit across the last", () => {
    const lines = (piece: string, point: string) =>
      numbers(
        one(layerOf("points"), `[data-tuck-piece="${piece}"][data-tuck-point="${point}"] path`).getAttribute(
          "d",
        ),
      );
    // The pennant's first row runs to the right: both arms of the chevron end to the left of its tip at (22, 4).
    const [tipX, tipY, armX, armY, , , otherX, otherY] = lines("pennant", "entry");
    expect([tipX, tipY]).toEqual([22, 4]);
    expect(armX).toBeLessThan(tipX);
    expect(otherX).toBe(armX);
    expect(armY + otherY).toBeCloseTo(2 * tipY, 9);
    // Its last row runs to the left: the bar at (22, 11.6) is upright.
    const [exitX, exitY, endX, endY, farX, farY] = lines("pennant", "exit");
    expect([exitX, endX, farX]).toEqual([22, 22, 22]);
    expect(Math.abs(farY - endY)).toBeCloseTo(1.6, 9);
    expect(endY + farY).toBeCloseTo(2 * exitY, 9);
  });

  it("writes the numbers of an exit and an entry that share one point on different sides", () => {
    // Feather-1 is left where feather-2 is entered, in each of eight directions.
    for (let eighth = 0; eighth < 8; eighth++) {
      const [dx, dy] = [Math.cos((eighth * Math.PI) / 4), Math.sin((eighth * Math.PI) / 4)];
      const stitch = (piece: string, from: number) => ({
        role: "cover" as const,
        block: 0,
        strand: 0,
        piece,
        points: Float64Array.of(20 + dx * from, 16 + dy * from, 20 + dx * (from + 9), 16 + dy * (from + 9)),
      });
      const [feather, two] = tinyPlan().pieces;
      const root = parseDom(
        writeLayers(
          tinyArtwork(),
          tinyPlan({
            pieces: [
              { ...feather, exit: [20, 16] },
              { ...two, entry: [20, 16] },
            ],
            sewing: [stitch("feather-1", -9), stitch("feather-2", 0)],
          }),
        ),
      );
      const heights = (piece: string, point: string) => {
        const d = one(root, `[data-tuck-piece="${piece}"][data-tuck-point="${point}"] path`).getAttribute(
          "d",
        );
        return (d ?? "")
          .split("M")
          .filter(Boolean)
          .map((line) => numbers(line).filter((_, i) => i % 2 === 1));
      };
      const [bar, below] = heights("feather-1", "exit");
      const [chevron, above] = heights("feather-2", "entry");
      expect(Math.min(...below)).toBeGreaterThan(Math.max(...bar, ...chevron) + 0.2);
      expect(Math.max(...above)).toBeLessThan(Math.min(...bar, ...chevron) - 0.2);
    }
  });

  it("draws numbers as lines, so that they show without fonts", () => {
    expect(all(planned(), "text").length).toBe(0);
  });

  it("keeps a marker's size in millimetres, whatever the drawing's units are", () => {
    const spanMm = (unitMm: number) => {
      const bar = one(planned(unitMm), '[data-tuck-point="exit"] path').getAttribute("d");
      const [, , x1, y1, x2, y2] = numbers(bar);
      return Math.hypot(x2 - x1, y2 - y1) * unitMm;
    };
    for (const unitMm of [0.01, 25.4 / 96, 1, 40]) expect(spanMm(unitMm)).toBeCloseTo(1.6, 2);
  });

  it("shows ink on a pale halo over any artwork", () => {
    // The tip of the chevron at (22, 4) is ink; 0.25 mm above the upper arm's middle is halo, not the night sky.
    const dark = `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="32mm" viewBox="0 0 40 32"><rect width="40" height="32" fill="#101820"/></svg>`;
    const image = svgToPixels(writeLayers(dark, tinyPlan()), 1600);
    const pixel = (x: number, y: number) => {
      const i = (Math.round(y * 40) * image.width + Math.round(x * 40)) * 4;
      return `#${Array.from(image.rgba.slice(i, i + 3), (v) => v.toString(16).padStart(2, "0")).join("")}`;
    };
    expect(pixel(22 - 0.55, 4 - 0.4)).toBe("#1d2733");
    expect(pixel(22 - 0.55 + 0.11, 4 - 0.4 - 0.16)).toBe("#fdfcf7");
    expect(pixel(22 - 0.55 + 0.3, 4 - 0.4 - 0.42)).toBe("#101820");
  });
});

describe("the layer of findings", () => {
  it("has a mark at each place, with the message as its title", () => {
    const marks = all(layerOf("findings"), "[data-tuck-code]");
    expect(
      marks.map((mark) =>
        attributes(mark, "data-tuck-code", "data-tuck-severity", "data-tuck-piece", "data-tuck-at"),
      ),
    ).toEqual([["bare-gap", "warning", "feather-3", "15 19.2"]]);
    expect(marks[0].children[0].textContent).toBe(
      "The thread is cut between feather-2 & feather-3. Let them overlap, or let a later piece bridge <6 mm>.",
    );
  });

  it("fans out the marks of findings that share a place", () => {
    const [finding] = tinyPlan().findings;
    const root = parseDom(writeLayers(tinyArtwork(), tinyPlan({ findings: [finding, finding, finding] })));
    const leaders = all(root, "[data-tuck-code]").map((mark) =>
      numbers(one(mark, "path").getAttribute("d")).slice(0, 4),
    );
    expect(leaders.map(([x, y]) => [x, y])).toEqual([
      [15, 19.2],
      [15, 19.2],
      [15, 19.2],
    ]);
    expect(new Set(leaders.map((leader) => leader.slice(2).join())).size).toBe(3);
  });
});

describe("an artist's style sheet", () => {
  it("does not restyle the layers", () => {
    const rules =
      "<style>path, polyline, g { fill: #ff00ff; stroke: #ff00ff; stroke-width: 9; stroke-dasharray: 1 }</style>";
    const picture = (style: string) =>
      svgToPixels(
        writeLayers(tinyArtwork().replace("<!-- feathers", `${style}<!-- feathers`), tinyPlan()),
        400,
      );
    const isMagenta = ({ rgba }: { rgba: Uint8Array }) => {
      for (let i = 0; i < rgba.length; i += 4)
        if (rgba[i] > 230 && rgba[i + 1] < 40 && rgba[i + 2] > 230) return true;
      return false;
    };
    expect(isMagenta(picture(rules))).toBe(false);
  });
});
