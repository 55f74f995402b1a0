/** What each entry of Inkscape's menu makes of a drawing. */
import { describe, expect, it } from "vitest";
import { parseXml } from "../../../core/artwork/xml.ts";
import { strip } from "../../../core/layers/strip.ts";
import { writeLayers } from "../../../core/layers/write.ts";
import { machineFile } from "../../../core/output/machine.ts";
import { makePlan } from "../../../core/plan/make-plan.ts";
import { settingsWith } from "../../../core/settings-schema.ts";
import { artworkById } from "../../../plugin/hosts/inkscape/selection.ts";
import { parseDom } from "../../support/dom.ts";
import { CREST, choose } from "./drawings.ts";

const onElement = (svg: string | undefined, id: string) =>
  artworkById(parseXml(svg ?? "")).get(id)?.attributes;

describe("Plan the drawing", () => {
  it("writes what the command line writes of the same drawing", () => {
    const plan = makePlan(CREST, "heron.svg", settingsWith({}));
    expect(choose("plan").svg).toBe(writeLayers(CREST, plan));
  });

  it("keeps what was chosen in the drawing, and plans with it from then on", () => {
    const { svg } = choose("plan", { recipe: "knit", order: "regroup", width: "90", further: "tieCount=4" });
    const settings = settingsWith({ recipe: "knit", order: "regroup", widthMm: 90, tieCount: 4 });
    const artwork = strip(svg ?? "");
    expect(artwork).toBe(
      CREST.replace(
        'xmlns="http://www.w3.org/2000/svg">',
        '$&<metadata data-tuck-settings="tieCount=4; recipe=knit; order=regroup; widthMm=90"/>',
      ),
    );
    const plan = makePlan(artwork, "heron.svg", settings);
    expect(plan.size.widthMm).toBe(90);
    expect(svg).toBe(writeLayers(artwork, plan));
    expect(choose("plan", {}, { svg: svg ?? "" }).svg).toBe(svg);
  });

  it("writes, hides and leaves out layers as asked", () => {
    const { svg } = choose("plan", { stitches: "hidden", findings: "left-out" });
    const roles = Array.from(parseDom(svg ?? "").querySelectorAll("[data-tuck-role]"), (layer) => [
      layer.getAttribute("data-tuck-role"),
      layer.getAttribute("style")?.includes("display:none"),
    ]);
    expect(roles).toEqual([
      ["size", undefined],
      ["stitches", true],
      ["connectors", false],
      ["points", false],
    ]);
  });

  it("says what is wrong with a setting that is typed", () => {
    expect(() => choose("plan", { further: "tieCount=400" })).toThrow(/tieCount is 400; give a whole number/);
    expect(() => choose("plan", { further: "tie count" })).toThrow(/“tie count” is no setting/);
  });
});

describe("Settings of the selected pieces", () => {
  it("are written on the artist's elements, and taken off again", () => {
    const { svg } = choose(
      "pieces",
      { technique: "satin", angleDeg: "set", angleDegValue: "30", underlay: "none", again: "false" },
      { selection: ["feather-1", "feather-2"] },
    );
    for (const id of ["feather-1", "feather-2"])
      expect(onElement(svg, id)).toMatchObject({
        "data-tuck-technique": "satin",
        "data-tuck-angle": "30",
        "data-tuck-underlay": "none",
      });
    const freed = choose(
      "pieces",
      { technique: "free", angleDeg: "free", underlay: "free" },
      { svg: svg ?? "", selection: ["feather-1", "feather-2"] },
    );
    expect(freed.svg).toBe(CREST);
  });

  it("are left alone where the dialog says so, whatever figure stands beside it", () => {
    expect(choose("pieces", { angleDegValue: "77" }, { selection: ["pennant"] }).svg).toBe(CREST);
  });

  it("reach the element through its stitches and markers, and a planned drawing is planned again", () => {
    const planned = choose("plan").svg ?? "";
    // The editor gives every element an id.
    const withIds = planned.replace('<g data-tuck-point="exit" data-tuck-piece="pennant"', '$& id="g9"');
    const { svg } = choose("pieces", { technique: "skip" }, { svg: withIds, selection: ["g9"] });
    expect(onElement(svg, "pennant")).toMatchObject({ "data-tuck-technique": "skip" });
    expect(svg).not.toContain('data-tuck-piece="pennant"');
  });

  it("take a selection of the artwork", () => {
    expect(() => choose("pieces", { technique: "run" })).toThrow(/Nothing is selected/);
    expect(() => choose("pieces", { technique: "run" }, { selection: ["gone"] })).toThrow(
      /Nothing that is selected/,
    );
  });
});

describe("Make one strand of the selection", () => {
  it("gives the shapes a name to share, new unless one is typed", () => {
    const first = choose("strand", {}, { selection: ["feather-1", "feather-2"] }).svg ?? "";
    expect(onElement(first, "feather-1")?.["data-tuck-strand"]).toBe("strand-1");
    expect(onElement(first, "feather-2")?.["data-tuck-strand"]).toBe("strand-1");
    const second = choose("strand", {}, { svg: first, selection: ["layer1", "pennant"] }).svg ?? "";
    expect(onElement(second, "pennant")?.["data-tuck-strand"]).toBe("strand-2");
    const named = choose("strand", { strand: "wing" }, { selection: ["feather-1", "feather-2"] }).svg ?? "";
    expect(onElement(named, "feather-2")?.["data-tuck-strand"]).toBe("wing");
  });

  it("takes the name off again", () => {
    const made = choose("strand", {}, { selection: ["feather-1", "feather-2"] }).svg ?? "";
    expect(
      choose("strand", { do: "release" }, { svg: made, selection: ["feather-1", "feather-2"] }).svg,
    ).toBe(CREST);
  });

  it("needs two shapes, or a group", () => {
    expect(() => choose("strand", {}, { selection: ["pennant"] })).toThrow(/at least two shapes/);
    const group = choose("strand", {}, { selection: ["layer1"] }).svg;
    expect(onElement(group, "layer1")?.["data-tuck-strand"]).toBe("strand-1");
  });
});

describe("Take Tuckline's layers away", () => {
  it("goes back to the artwork, byte for byte", () => {
    expect(choose("strip", {}, { svg: choose("plan").svg ?? "" }).svg).toBe(CREST);
  });
});

describe("Check", () => {
  it("tells figures and findings, and leaves the drawing alone", () => {
    const outcome = choose(
      "check",
      {},
      { svg: CREST.replace("</svg>", '<text id="name">Willowmere</text></svg>') },
    );
    expect(outcome.svg).toBeUndefined();
    expect(outcome.message).toMatch(
      /^Sewn 60 × 40 mm, in about .+, with .+ m of thread\.\n2 strands instead of \d/,
    );
    expect(outcome.message).toContain(
      "Warning: The text “name” is left out. Convert it to paths in the editor.",
    );
  });
});

describe("Save for the machine", () => {
  it("makes the files that are ticked, by the drawing's name, and leaves the drawing alone", () => {
    const { svg, files } = choose("save", { folder: "sewn", csv: "true" });
    expect(svg).toBeUndefined();
    expect(files?.folder).toBe("sewn");
    expect(files?.files.map(({ name }) => name)).toEqual([
      "heron.dst",
      "heron.csv",
      "heron.html",
      "heron.sewn.svg",
    ]);
    const plan = makePlan(CREST, "heron.svg", settingsWith({}));
    expect(Buffer.from(files?.files[0].bytes ?? [])).toEqual(Buffer.from(machineFile(plan)));
  });

  it("takes a name that stays in its folder", () => {
    const { files } = choose("save", { name: "../club/heron.svg", sheet: "false", picture: "false" });
    expect(files?.files.map(({ name }) => name)).toEqual(["-club-heron.dst"]);
  });

  it("needs something to save", () => {
    expect(() => choose("save", { machine: "false", sheet: "false", picture: "false" })).toThrow(
      /Nothing is ticked/,
    );
  });
});
