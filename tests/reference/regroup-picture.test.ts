/**
 * Regrouped, a drawing looks as in paint order. Source: drawings of @twemoji/svg, those in which the most would differ if
 * stitches told where a piece was begun (shoes, straps, a notebook's rings, a flag's ornament); a flag with an emblem of
 * 190 islands, in which strands could be saved by thread in sight elsewhere, and others like it, one with lines that are
 * sewn as networks; and those in which rows would lie elsewhere, since less or more of a piece is hidden.
 */
import { describe, expect, test } from "vitest";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { shareDifferent } from "../support/colour-picture.ts";
import { readDrawing } from "../support/drawing-sets.ts";

describe("the sew-out under regroup", () => {
  const shoes = ["1f9a8", "1f392", "1f3a1", "1f4d3", "1f93e", "1f1e6-1f1f4", "1f1e6-1f1eb"];
  const rows = ["2697", "1f382", "1f6e9"];
  const hops = ["1f9cb", "1fa7b", "1f1fb-1f1ec", "1f1f0-1f1ff"];
  test.each([...shoes, ...rows, ...hops])(
    "differs from paint order's in a thousandth of the pixels at most: %s",
    (name) => {
      const { text } = readDrawing("emoji", `${name}.svg`);
      const settings = { ...DEFAULT_SETTINGS, widthMm: 80 };
      const paint = makePlan(text, name, settings);
      const regrouped = makePlan(text, name, { ...settings, order: "regroup" });
      expect(shareDifferent(paint, regrouped)).toBeLessThanOrEqual(0.001);
      expect(regrouped.metrics.blocks).toBeLessThanOrEqual(paint.metrics.blocks);
      expect(regrouped.metrics.strands).toBeLessThanOrEqual(paint.metrics.strands);
    },
  );
});
