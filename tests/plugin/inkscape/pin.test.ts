/** Entries and exits fixed from Inkscape: at a node of a path, or where a marker was put. */
import { describe, expect, it } from "vitest";
import { parseXml } from "../../../core/artwork/xml.ts";
import { makePlan } from "../../../core/plan/make-plan.ts";
import { settingsWith } from "../../../core/settings-schema.ts";
import { artworkById } from "../../../plugin/hosts/inkscape/selection.ts";
import { CREST, choose } from "./drawings.ts";

const attributes = (svg: string | undefined, id: string) =>
  artworkById(parseXml(svg ?? "")).get(id)?.attributes;

const planOf = (svg: string | undefined) => makePlan(svg ?? "", "heron.svg", settingsWith({}));
const pieceOf = (svg: string | undefined, id: string) => planOf(svg).pieces.find((piece) => piece.id === id);

/** The same path as an editor writes it with a live effect: what the artist drew, and what became of it. */
const WITH_EFFECT = CREST.replace(
  'd="m 10,4 h 14 v 10 h -14 z"',
  'inkscape:path-effect="#effect1" inkscape:original-d="m 10,4 h 14 v 10 h -14 z" d="m 11,4 h 12 l 1,1 v 8 l -1,1 h -12 l -1,-1 v -8 z"',
);

describe("a pin at the selected node of a path", () => {
  it.each([
    // On a layer that is moved by (10, 5): the second corner of the feather.
    { node: "feather-1:0:1", element: "feather-1", at: "24 5" },
    // Relative path data, same layer.
    { node: "feather-2:0:2", element: "feather-2", at: "34 19" },
    // On a layer that is turned by a quarter: (14, 40) lands on (60 - 40, 14).
    { node: "pennant:0:1", element: "pennant", at: "20 14" },
  ])("lies at the node, through every transform: $node", ({ node, element, at }) => {
    const { svg } = choose("pin", { again: "false" }, { selection: [element], nodes: [node] });
    expect(svg).toBe(CREST.replace(`id="${element}" />`, `id="${element}" data-tuck-entry="${at}" />`));
  });

  it("is obeyed by the plan: the piece is entered there", () => {
    const { svg } = choose("pin", {}, { nodes: ["feather-2:0:2"] });
    const [x, y] = pieceOf(svg, "feather-2")?.entry ?? [0, 0];
    expect(Math.hypot(x - 34, y - 19)).toBeLessThan(0.5);
  });

  it("can be the exit, and is told from the stroke's", () => {
    const outlined = CREST.replace("fill:#c8403a", "fill:#c8403a;stroke:#1c3347;stroke-width:2");
    const exit = choose("pin", { point: "exit", again: "false" }, { svg: outlined, nodes: ["pennant:0:0"] });
    expect(attributes(exit.svg, "pennant")).toMatchObject({ "data-tuck-exit": "40 10" });
    const stroke = choose(
      "pin",
      { paint: "stroke", again: "false" },
      { svg: outlined, nodes: ["pennant:0:0"] },
    );
    expect(attributes(stroke.svg, "pennant")).toMatchObject({ "data-tuck-entry-stroke": "40 10" });
  });

  it("counts the nodes of the path that a live effect is applied to", () => {
    const { svg } = choose("pin", { again: "false" }, { svg: WITH_EFFECT, nodes: ["feather-2:0:3"] });
    expect(attributes(svg, "feather-2")?.["data-tuck-entry"]).toBe("20 19");
  });

  it("needs one node, and one that can be counted", () => {
    expect(() => choose("pin", {}, { selection: ["pennant"] })).toThrow(/No place is selected/);
    expect(() => choose("pin", {}, { nodes: ["pennant:0:0", "pennant:0:1"] })).toThrow(/More than one node/);
    expect(() => choose("pin", {}, { nodes: ["pennant:0:3"] })).toThrow(/cannot be found/);
    const round = CREST.replace("m 10,20 4,20 8,-18 z", "m 10,20 a 4,4 0 0 1 8,0 l -4,20 z");
    expect(() => choose("pin", {}, { svg: round, nodes: ["pennant:0:1"] })).toThrow(/arcs/);
    const before = choose("pin", { again: "false" }, { svg: round, nodes: ["pennant:0:0"] });
    expect(attributes(before.svg, "pennant")?.["data-tuck-entry"]).toBe("40 10");
  });
});

describe("a pin where a marker was put", () => {
  /** The editor gives every element an id; here, only the marker that is moved gets one. */
  const planned = (choose("plan").svg ?? "").replace(
    '<g data-tuck-point="exit" data-tuck-piece="feather-1"',
    '$& id="marker-1" transform="translate(0,-40)"',
  );

  it("lies on the outline, nearest to the marker; the marker is drawn anew", () => {
    const [x, y] = (pieceOf(CREST, "feather-1")?.exit ?? [0, 0]) as [number, number];
    expect(y).toBeGreaterThan(4);
    const { svg } = choose("pin", {}, { svg: planned, selection: ["marker-1"] });
    const at = attributes(svg, "feather-1")?.["data-tuck-exit"];
    // The feather reaches from (10, 5) to (24, 15); the marker is far above it.
    expect(at).toBe(`${Math.min(24, Math.max(10, Number(x.toFixed(3))))} 5`);
    const exit = pieceOf(svg, "feather-1")?.exit ?? [0, 0];
    expect(Math.abs(exit[1] - 5)).toBeLessThan(0.5);
    expect(svg).not.toContain("marker-1");
    expect(svg).toContain('data-tuck-pinned="element"');
  });

  it("is let go again by its marker, or by its shape", () => {
    const pinned = choose("pin", {}, { svg: planned, selection: ["marker-1"] }).svg ?? "";
    const marker = '<g data-tuck-point="exit" data-tuck-piece="feather-1"';
    const named = pinned.replace(marker, `${marker} id="marker-2"`);
    const byMarker = choose("pin", { do: "release" }, { svg: named, selection: ["marker-2"] }).svg;
    expect(byMarker).toBe(choose("plan").svg);
    const byShape = choose(
      "pin",
      { do: "release", point: "exit" },
      { svg: pinned, selection: ["feather-1"] },
    ).svg;
    expect(byShape).toBe(choose("plan").svg);
  });

  it("lets a marker go that was moved and never pinned otherwise", () => {
    const { svg } = choose("pin", { do: "release" }, { svg: planned, selection: ["marker-1"] });
    expect(svg).toBe(choose("plan").svg);
  });
});

describe("a pin on a clone", () => {
  it("stands on the clone, not on what it is a clone of", () => {
    const cloned = CREST.replace(
      "</svg>",
      '<use id="use1" href="#pennant" transform="translate(-15,0)" /></svg>',
    );
    const planned = (choose("plan", {}, { svg: cloned }).svg ?? "").replace(
      '<g data-tuck-point="entry" data-tuck-piece="use1/pennant"',
      '$& id="marker-1" transform="translate(40,40)"',
    );
    const { svg } = choose("pin", {}, { svg: planned, selection: ["marker-1"] });
    expect(attributes(svg, "pennant")).not.toHaveProperty("data-tuck-entry");
    expect(attributes(svg, "use1")).toHaveProperty("data-tuck-entry");
  });
});
