/** What the artist drew on one of our layers, because the editor draws where the last click was, is artwork. */
import { describe, expect, it } from "vitest";
import { strip } from "../../core/layers/strip.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { all, edited, one, parseDom, SVG_NAMESPACE } from "../support/dom.ts";
import { CREST } from "../support/editor-crest.ts";
import { svgToPixels } from "../support/png.ts";

const plan = (svg: string) => writeLayers(svg, makePlan(svg, "heron.svg", DEFAULT_SETTINGS));
const PLANNED = plan(CREST);

/** The planned crest with a sun that was drawn on a layer of ours, which may have been moved. */
const drawnOn = (role: string, attributes: Readonly<Record<string, string>> = {}): string =>
  edited(PLANNED, (document) => {
    const layer = one(document, `[data-tuck-role="${role}"]`);
    for (const name in attributes) layer.setAttribute(name, attributes[name]);
    const sun = document.createElementNS(SVG_NAMESPACE, "circle");
    for (const [name, value] of Object.entries({
      id: "sun",
      cx: "50",
      cy: "30",
      r: "6",
      style: "fill:#d9a441",
    }))
      sun.setAttribute(name, value);
    layer.append(sun);
  });

const pieceIds = (svg: string) => makePlan(svg, "heron.svg", DEFAULT_SETTINGS).pieces.map(({ id }) => id);

describe("a shape that was drawn on a layer of Tuckline's", () => {
  it.each(["stitches", "connectors", "points", "findings"])(
    "on %s: is sewn, and kept when planned again",
    (role) => {
      const drawn = drawnOn(role);
      expect(pieceIds(drawn)).toContain("sun");
      const again = plan(drawn);
      expect(all(parseDom(again).documentElement, "[data-tuck-role] #sun")).toHaveLength(0);
      expect(all(parseDom(again).documentElement, "#sun")).toHaveLength(1);
      expect(plan(again)).toBe(again);
    },
  );

  it("is the only thing that stripping keeps of the layer", () => {
    const stripped = parseDom(strip(drawnOn("points"))).documentElement;
    expect(all(stripped, "[data-tuck-role], [data-tuck-point]")).toHaveLength(0);
    const group = one(stripped, "#sun").parentElement;
    expect(group?.getAttribute("class")).toBeNull();
    expect(group?.children.length).toBe(1);
    expect(strip(PLANNED)).toBe(CREST);
  });

  it("stays where it was, though the layer had been moved", () => {
    const drawn = drawnOn("points", { transform: "translate(-20,0)" });
    const sun = makePlan(drawn, "heron.svg", DEFAULT_SETTINGS).pieces.find(({ id }) => id === "sun");
    expect(sun?.entry[0]).toBeLessThan(37);
    // Drawn by resvg: without all that is ours in both, the pictures are the same.
    const onlyArtwork = edited(drawn, (document) => {
      for (const ours of all(
        document.documentElement,
        "[data-tuck-block], [data-tuck-point], [data-tuck-from], [data-tuck-part], [data-tuck-code]",
      ))
        ours.remove();
    });
    const pixels = (svg: string) => Buffer.from(svgToPixels(svg, 600).rgba);
    expect(pixels(strip(drawn)).equals(pixels(onlyArtwork))).toBe(true);
  });

  it("can be set and marked as any other", () => {
    const drawn = drawnOn("points").replace('id="sun"', 'id="sun" data-tuck-entry="50 24"');
    const sun = makePlan(drawn, "heron.svg", DEFAULT_SETTINGS).pieces.find(({ id }) => id === "sun");
    expect(sun?.entryPinned).toBe(true);
  });
});
