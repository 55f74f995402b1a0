import { describe, expect, it } from "vitest";
import { paintSewOut, type SewOut, visibleShare, visibleThread } from "../../core/plan/sew-out.ts";
import type { SewingStep, SewnStep } from "../../core/plan/types.ts";
import { svgToPixels } from "../support/png.ts";
import { filledSquare, seeded, sewn } from "../support/sewing.ts";

const size = { widthMm: 30, heightMm: 20 };
const pixelsOf = ({ top }: SewOut, step: number) => top.filter((owner) => owner === step).length;

describe("one stitch", () => {
  // The area of a capsule, w·l + π·w²/4: plane geometry.
  const lengthMm = 4;
  const widthMm = 0.42;
  const areaMm2 = widthMm * lengthMm + (Math.PI * widthMm ** 2) / 4;

  for (const angleDeg of [0, 17, 45, 90, 123, 180, 270, 301]) {
    it(`covers its capsule's area at ${angleDeg}°`, () => {
      const angle = (angleDeg * Math.PI) / 180;
      const end = [10.03 + lengthMm * Math.cos(angle), 10.07 + lengthMm * Math.sin(angle)] as const;
      const sewOut = paintSewOut([sewn("cover", [[10.03, 10.07], end])], size, {
        pxPerMm: 40,
      });
      expect(Math.abs(pixelsOf(sewOut, 0) / 40 ** 2 / areaMm2 - 1)).toBeLessThan(0.02);
    });
  }

  it("of no length is a dot of the thread's width", () => {
    const dot = sewn("tie-in", [
      [1, 1],
      [1, 1],
    ]);
    const sewOut = paintSewOut([dot], { widthMm: 2, heightMm: 2 }, { pxPerMm: 200 });
    expect(Math.abs(pixelsOf(sewOut, 0) / 200 ** 2 / ((Math.PI * 0.42 ** 2) / 4) - 1)).toBeLessThan(0.02);
  });

  it("is as wide as the thread that was asked for", () => {
    const line = sewn("cover", [
      [5, 5.02],
      [15, 5.02],
    ]);
    const across = ({ top, width, pxPerMm }: SewOut) =>
      Array.from({ length: 20 * pxPerMm }, (_, row) => top[row * width + 10 * pxPerMm]).filter(
        (step) => step === 0,
      ).length;
    expect(across(paintSewOut([line], size, { pxPerMm: 10, threadWidthMm: 0.6 }))).toBe(6);
    expect(across(paintSewOut([line], size, { pxPerMm: 20, threadWidthMm: 1 }))).toBe(20);
  });

  it("is cut off at the artwork's edge, and harms no pixel on the other side", () => {
    const across = sewn("cover", [
      [25, 10.05],
      [40, 10.05],
    ]);
    const sewOut = paintSewOut([across], size);
    const owned = Array.from(sewOut.top.keys()).filter((pixel) => sewOut.top[pixel] === 0);
    expect(Math.min(...owned.map((pixel) => pixel % sewOut.width))).toBeGreaterThanOrEqual(247);
    expect(owned.length).toBeGreaterThan(200);
    const outside = sewn("cover", [
      [-5, -5],
      [-1, 40],
    ]);
    expect(pixelsOf(paintSewOut([outside], size), 0)).toBe(0);
  });
});

describe("what lies on top", () => {
  const connector = sewn("connector", [
    [3, 10],
    [8, 10],
    [13, 10],
  ]);

  it("a later fill hides an earlier connector", () => {
    const sewing = [connector, filledSquare(2, 4, 12)];
    expect(visibleShare(paintSewOut(sewing, size), sewing)).toBe(0);
  });

  it("a connector over a finished fill is seen whole", () => {
    const sewing = [filledSquare(2, 4, 12), connector];
    expect(visibleShare(paintSewOut(sewing, size), sewing)).toBe(1);
  });

  it("a connector that leaves the cover halfway is seen by half", () => {
    const sewing = [connector, filledSquare(8, 4, 12)];
    expect(visibleShare(paintSewOut(sewing, size), sewing)).toBeCloseTo(0.5 - 0.02, 1.5); // the fill's thread reaches half its width over the edge
  });

  it("rows too far apart let it show through between them", () => {
    const sewing = [
      sewn("connector", [
        [8, 4],
        [8, 16],
      ]),
      filledSquare(2, 4, 12, 0, 0.84),
    ];
    expect(visibleShare(paintSewOut(sewing, size), sewing)).toBeCloseTo(0.5, 1);
  });

  it("jumps, trims and colour changes leave no thread", () => {
    const sewing: SewingStep[] = [
      { role: "trim" },
      { role: "jump", points: Float64Array.of(2, 2, 12, 12) },
      { role: "colour-change", colour: "#a3293d" },
      connector,
    ];
    const sewOut = paintSewOut(sewing, size);
    expect(new Set(sewOut.top)).toEqual(new Set([-1, 3]));
  });

  it("counts only the roles that were asked for, and is 0 where there are none", () => {
    const sewing = [filledSquare(2, 4, 12), connector];
    const sewOut = paintSewOut(sewing, size);
    expect(visibleShare(sewOut, sewing, ["travel"])).toBe(0);
    expect(visibleShare(sewOut, sewing, ["connector"])).toBe(1);
    expect(visibleShare(sewOut, sewing, ["cover"])).toBeGreaterThan(0.9);
  });

  it("a stitch under a further stitch of its own step is hidden", () => {
    const outAndBack = sewn("travel", [
      [3, 3],
      [13, 3],
      [13, 8],
      [3, 8],
      [3, 3],
      [13, 3],
    ]);
    const { lengthMm, visibleMm } = visibleThread(paintSewOut([outAndBack], size), outAndBack, 0);
    expect(lengthMm).toBeCloseTo(40, 6);
    expect(visibleMm).toBeCloseTo(30, 0);
  });
});

describe("against an independent rasteriser", () => {
  // @resvg/resvg-js draws the same polylines in the same order, round caps and joins, without antialiasing;
  // each step's index is its colour.
  const drawn = (sewing: readonly SewnStep[], pxPerMm: number, widthMm: number) => {
    const lines = sewing.map(
      ({ points }, index) =>
        `<polyline points="${points.join(" ")}" stroke="#${(index + 1).toString(16).padStart(6, "0")}"/>`,
    );
    return svgToPixels(
      `<svg xmlns="http://www.w3.org/2000/svg" width="30" height="20" viewBox="0 0 30 20"><g fill="none"
      stroke-width="${widthMm}" stroke-linecap="round" stroke-linejoin="round" shape-rendering="crispEdges">${lines.join("")}</g></svg>`,
      30 * pxPerMm,
    );
  };

  for (const pxPerMm of [10, 25]) {
    it(`agrees on at least 99 % of the pixels at ${pxPerMm} px/mm`, () => {
      const random = seeded(7);
      const walk = (length: number) =>
        Array.from({ length }, (): [number, number] => [2 + 26 * random(), 2 + 16 * random()]);
      const sewing = [
        filledSquare(3, 3, 9),
        ...Array.from({ length: 12 }, () => sewn("connector", walk(6))),
        filledSquare(14, 6, 8.3),
        ...Array.from({ length: 8 }, () => sewn("travel", walk(3))),
      ];
      const sewOut = paintSewOut(sewing, size, {
        pxPerMm,
        threadWidthMm: 0.42,
      });
      const { width, height, rgba } = drawn(sewing, pxPerMm, 0.42);
      expect([width, height]).toEqual([sewOut.width, sewOut.height]);

      let agree = 0;
      let covered = 0;
      let agreeCovered = 0;
      sewOut.top.forEach((step, pixel) => {
        const other = rgba[4 * pixel + 3] === 0 ? -1 : ((rgba[4 * pixel + 1] << 8) | rgba[4 * pixel + 2]) - 1;
        if (other === step) agree++;
        if (other === -1 && step === -1) return;
        covered++;
        if (other === step) agreeCovered++;
      });
      expect(agree / sewOut.top.length).toBeGreaterThanOrEqual(0.99);
      expect(agreeCovered / covered).toBeGreaterThanOrEqual(0.98);
    });
  }
});
