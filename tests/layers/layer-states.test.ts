/** Which layers are written and seen, as the artist chose it, through planning again. */
import { describe, expect, it } from "vitest";
import { parseXml } from "../../core/artwork/xml.ts";
import { readLayerStates } from "../../core/layers/layer-states.ts";
import { strip } from "../../core/layers/strip.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { type DomElement, parseDom } from "../support/dom.ts";
import { tinyArtwork, tinyPlan } from "../support/tiny-plan.ts";

const SODIPODI = "http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd";

const layerOf = (svgText: string, role: string): DomElement | null =>
  parseDom(svgText).querySelector(`[data-tuck-role="${role}"]`);

describe("layers that are asked for", () => {
  it("writes all of them, seen, where nothing else is said", () => {
    const planned = writeLayers(tinyArtwork(), tinyPlan());
    expect(readLayerStates(parseXml(planned))).toEqual({
      stitches: "shown",
      connectors: "shown",
      points: "shown",
      findings: "shown",
    });
  });

  it("hides some and leaves some out, and planning again keeps to that", () => {
    const states = { stitches: "hidden", findings: "left-out" } as const;
    const planned = writeLayers(tinyArtwork(), tinyPlan(), states);
    expect(layerOf(planned, "stitches")?.getAttribute("style")).toMatch(/^display:none;/);
    expect(layerOf(planned, "findings")).toBeNull();
    expect(layerOf(planned, "points")?.getAttribute("style")).not.toContain("display");
    expect(writeLayers(planned, tinyPlan())).toBe(planned);
    expect(writeLayers(planned, tinyPlan(), { stitches: "shown", findings: "shown" })).toBe(
      writeLayers(tinyArtwork(), tinyPlan()),
    );
    expect(strip(planned)).toBe(tinyArtwork());
  });

  it("keeps hidden what an editor hid, in whichever way it says so", () => {
    const shown = writeLayers(tinyArtwork(), tinyPlan());
    const inBrowser = shown.replace('data-tuck-role="points"', 'data-tuck-role="points" display="none"');
    const onDesktop = shown.replace(/(data-tuck-role="points"[^>]*style=")/, "$1display:none;");
    const hidden = writeLayers(tinyArtwork(), tinyPlan(), { points: "hidden" });
    expect(writeLayers(inBrowser, tinyPlan())).toBe(hidden);
    expect(writeLayers(onDesktop, tinyPlan())).toBe(hidden);
  });

  it("writes a layer anew that was deleted by hand", () => {
    const planned = writeLayers(tinyArtwork(), tinyPlan());
    const deleted = planned.replace(/<g class="layer" data-tuck-role="findings".*<\/g>(?=<\/svg>)/s, "");
    expect(layerOf(deleted, "findings")).toBeNull();
    expect(writeLayers(deleted, tinyPlan())).toBe(planned);
  });

  it("locks what is not moved by hand, and leaves markers and connectors free", () => {
    const planned = writeLayers(tinyArtwork(), tinyPlan());
    const isLocked = (role: string) => layerOf(planned, role)?.getAttributeNS(SODIPODI, "insensitive");
    expect(isLocked("stitches")).toBe("true");
    expect(isLocked("findings")).toBe("true");
    expect(isLocked("points")).toBeNull();
    expect(isLocked("connectors")).toBeNull();
  });
});
