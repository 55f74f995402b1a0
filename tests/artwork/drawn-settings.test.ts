/** What a drawing sets itself, and that an element goes before the group around it. */
import { describe, expect, it } from "vitest";
import { drawnSettings } from "../../core/artwork/drawn-settings.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { read, svg } from "../support/read.ts";

const WING = svg(`
  <g id="wing" data-tuck-angle="30" data-tuck-spacing="0.5">
    <rect id="feather-1" x="10" y="10" width="20" height="20" fill="#4a6274"/>
    <rect id="feather-2" x="40" y="10" width="20" height="20" fill="#4a6274" data-tuck-angle="60"/>
    <rect x="70" y="10" width="20" height="20" fill="#4a6274" data-tuck-pull="wide"/>
  </g>
  <path id="oar" d="M10 60H90" stroke="#c8403a" stroke-width="3" data-tuck-technique="run" data-tuck-strand="oars"/>`);

describe("settings in a drawing", () => {
  it("are listed in document order, with what they take the place of", () => {
    const rows = drawnSettings(WING).drawn.map(({ on, element, attribute, value, settings }) =>
      [on, element, attribute, value, ...settings].join(" "),
    );
    expect(rows).toEqual([
      "group wing data-tuck-angle 30 fillAngleDeg",
      "group wing data-tuck-spacing 0.5 fillSpacingMm satinSpacingMm",
      "element feather-2 data-tuck-angle 60 fillAngleDeg",
      "element oar data-tuck-technique run technique",
      "element oar data-tuck-strand oars",
    ]);
  });

  it("hold for the group, and an element's own before them", () => {
    const overrides = read(WING).pieces.map((piece) => piece.overrides);
    expect(overrides.slice(0, 3)).toEqual([
      { angleDeg: 30, spacingMm: 0.5 },
      { angleDeg: 60, spacingMm: 0.5 },
      { angleDeg: 30, spacingMm: 0.5 },
    ]);
  });

  it("are reported where they are ignored", () => {
    expect(drawnSettings(WING).findings).toMatchObject([{ code: "bad-pull", piece: "rect-3" }]);
  });

  it("go before all other settings when the piece is sewn", () => {
    const rowsOf = (drawing: string, fillSpacingMm: number) =>
      makePlan(drawing, "wing.svg", { ...DEFAULT_SETTINGS, fillSpacingMm }).sewing.find(
        (step) => step.role === "cover" && step.piece === "feather-1",
      );
    const without = WING.replace(' data-tuck-spacing="0.5"', "");
    expect(rowsOf(WING, 0.48)).toEqual(rowsOf(WING, 0.4));
    expect(rowsOf(without, 0.48)).not.toEqual(rowsOf(without, 0.4));
  });

  it("are the same once the drawing is planned: Tuckline's own marks are none", () => {
    const planned = writeLayers(WING, makePlan(WING, "wing.svg", DEFAULT_SETTINGS));
    expect(drawnSettings(planned)).toEqual(drawnSettings(WING));
  });
});
