/** The likeness of a sew-out to its drawing, on drawings whose figures can be worked out by hand. */
import { describe, expect, test } from "vitest";
import { paintSewOut } from "../../core/plan/sew-out.ts";
import { measureLikeness, stepColours } from "../../core/plan/sew-out-measures.ts";
import type { SewingStep } from "../../core/plan/types.ts";
import { drawnLike } from "../support/drawn.ts";
import { planOf } from "../support/plans.ts";
import { filledSquare } from "../support/sewing.ts";

const RED = "#a3293d";
const size = { widthMm: 30, heightMm: 20 };
const drawing = (content: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 30 20">${content}</svg>`;
const pennant = (colour: string) => drawing(`<rect x="5" y="5" width="10" height="10" fill="${colour}"/>`);

/** A square sewn by piece-1, drawn by @resvg/resvg-js. */
function likeness(svg: string, sewing: readonly SewingStep[]) {
  const owned = sewing.map(
    (step): SewingStep => ("piece" in step ? step : ({ ...step, piece: "piece-1" } as SewingStep)),
  );
  const sewOut = paintSewOut(owned, size);
  return measureLikeness(planOf(owned, [RED], size), sewOut, drawnLike(svg, sewOut));
}

describe("a square pennant of 10 mm", () => {
  test("sewn in its colour is its own throughout", () => {
    const seen = likeness(pennant(RED), [filledSquare(5, 5, 10)]);
    // One pixel of 0.1 mm is left out all round: its neighbourhood is not uniform.
    expect(seen.insideMm2).toBeCloseTo(9.8 ** 2, 0);
    expect(seen.ownColourMm2 / seen.insideMm2).toBeGreaterThan(0.999);
    expect(seen.paintedMm2).toBeCloseTo(100, 6);
    expect(seen.outsideMm2).toBe(0);
  });

  test("a colour within 48 in all is the same, beyond it is another", () => {
    expect(likeness(pennant("#b3394d"), [filledSquare(5, 5, 10)]).otherColourMm2).toBe(0);
    const other = likeness(pennant("#b3394f"), [filledSquare(5, 5, 10)]);
    expect(other.ownColourMm2).toBe(0);
    expect(other.otherColourMm2).toBeCloseTo(9.8 ** 2, 0);
  });

  test("half sewn is half bare", () => {
    const wide = drawing(`<rect x="5" y="5" width="20" height="10" fill="${RED}"/>`);
    const { bareMm2, insideMm2 } = likeness(wide, [filledSquare(5, 5, 10)]);
    expect(bareMm2 / insideMm2).toBeCloseTo(0.5, 1);
  });

  test("thread that strays 2 mm beside it lies outside but for 0.3 mm", () => {
    const { outsideMm2 } = likeness(pennant(RED), [filledSquare(7, 5, 10)]);
    expect(outsideMm2).toBeGreaterThan(10 * 1.6);
    expect(outsideMm2).toBeLessThan(10.5 * 2.1);
  });

  test("a drawing of another size is refused", () => {
    const sewing = [filledSquare(5, 5, 10)];
    const sewOut = paintSewOut(sewing, size);
    const small = { width: 10, height: 10, rgba: new Uint8Array(400) };
    expect(() => measureLikeness(planOf(sewing, [RED], size), sewOut, small)).toThrow(RangeError);
  });
});

test("connectors have the colour of their block", () => {
  const step = (role: "cover" | "connector", block: number, piece?: string): SewingStep => ({
    role,
    block,
    strand: block,
    points: Float64Array.of(0, 0, 1, 0),
    ...(piece === undefined ? {} : { piece }),
  });
  const sewing = [step("cover", 0, "piece-1"), step("connector", 0), step("cover", 1, "piece-2")];
  expect([...stepColours(planOf(sewing, ["#0000ff", "#00ff00"]))]).toEqual([0xff, 0xff, 0xff00]);
});
