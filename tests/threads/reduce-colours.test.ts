import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { reduceColours, reductionLoss, type WeightedColour } from "../../core/threads/reduce-colours.ts";

const of = (...pairs: readonly (readonly [colour: string, weight: number])[]): WeightedColour[] =>
  pairs.map(([colour, weight]) => ({ colour, weight }));

const HERON = of(
  ["#1c3347", 4200],
  ["#7391a8", 700],
  ["#6f8ea6", 90],
  ["#f1ead8", 600],
  ["#d9a441", 800],
  ["#b23a3f", 900],
  ["#b0353b", 40],
);

describe("fewer colours", () => {
  it("brings together what looks alike first, and keeps the one with the larger area", () => {
    const choice = reduceColours(HERON, 5);
    expect(choice.get("#6f8ea6")).toBe("#7391a8");
    expect(choice.get("#b0353b")).toBe("#b23a3f");
    expect(new Set(choice.values()).size).toBe(5);
  });

  it("keeps all where there are few enough, and one where one is asked for", () => {
    expect([...reduceColours(HERON, 7)].every(([drawn, used]) => drawn === used)).toBe(true);
    expect(new Set(reduceColours(HERON, 1).values())).toEqual(new Set(["#1c3347"]));
  });

  it("keeps a small accent that is far off rather than two shades of one blue", () => {
    const choice = reduceColours(of(["#2f7f92", 500], ["#35879a", 400], ["#d9a441", 15]), 2);
    expect(choice.get("#d9a441")).toBe("#d9a441");
    expect(choice.get("#35879a")).toBe("#2f7f92");
  });

  it("counts areas of one colour together", () => {
    const choice = reduceColours(of(["#111111", 3], ["#1a1a1a", 2], ["#1a1a1a", 2], ["#ffffff", 9]), 2);
    expect(choice.get("#111111")).toBe("#1a1a1a");
  });

  it("is settled where everything is equal: nothing weighs anything, or all as much", () => {
    const grey = ["#404040", "#505050", "#606060", "#707070"];
    for (const weight of [0, 1]) {
      const colours = grey.map((colour) => ({ colour, weight }));
      const choice = reduceColours(colours, 2);
      expect(new Set(choice.values()).size).toBe(2);
      expect(reduceColours([...colours].reverse(), 2)).toEqual(new Map([...choice].sort()));
    }
  });

  it.each([0, -1, Number.NaN])("refuses to keep %d colours", (most) => {
    expect(() => reduceColours(HERON, most)).toThrow(RangeError);
  });

  it("takes nothing from nothing", () => expect(reduceColours([], 3)).toEqual(new Map()));

  it("brings a traced photograph of 1,200 colours down to 12", () => {
    const colours = Array.from({ length: 1200 }, (_, i) => ({
      colour: `#${((i * 5591) % 0xffffff).toString(16).padStart(6, "0")}`,
      weight: 1 + (i % 17),
    }));
    const choice = reduceColours(colours, 12);
    expect(new Set(choice.values()).size).toBe(12);
    expect(choice.size).toBe(new Set(colours.map(({ colour }) => colour)).size);
  });
});

const channel = fc.integer({ min: 0, max: 255 });
const hex = fc
  .tuple(channel, channel, channel)
  .map((rgb) => `#${rgb.map((value) => value.toString(16).padStart(2, "0")).join("")}`);
const palette = fc.uniqueArray(fc.record({ colour: hex, weight: fc.integer({ min: 1, max: 1000 }) }), {
  minLength: 2,
  maxLength: 8,
  selector: ({ colour }) => colour,
});

/** The least loss of all choices of `most` colours, by trying each. */
function leastLoss(colours: readonly WeightedColour[], most: number): number {
  const choices = Array.from({ length: 2 ** colours.length }, (_, bits) =>
    colours.filter((__, i) => bits & (1 << i)),
  ).filter((kept) => kept.length === most);
  return Math.min(
    ...choices.map((kept) =>
      colours.reduce(
        (sum, one) =>
          sum + Math.min(...kept.map(({ colour }) => reductionLoss([one], new Map([[one.colour, colour]])))),
        0,
      ),
    ),
  );
}

describe("whatever the colours", () => {
  it("at most so many are used, each of them drawn, each standing for itself, and the order does not matter", () => {
    fc.assert(
      fc.property(palette, fc.integer({ min: 1, max: 8 }), (colours, most) => {
        const choice = reduceColours(colours, most);
        const used = new Set(choice.values());
        expect(used.size).toBe(Math.min(most, colours.length));
        for (const one of used) expect(choice.get(one)).toBe(one);
        const turned = reduceColours([...colours].reverse(), most);
        for (const [drawn, stands] of choice) expect(turned.get(drawn)).toBe(stands);
      }),
      { seed: 3, numRuns: 200 },
    );
  });

  it("loses within a tenth of what the best of all choices does, found by trying each, in the mean", () => {
    const ratios: number[] = [];
    fc.assert(
      fc.property(palette, fc.integer({ min: 1, max: 7 }), (colours, most) => {
        if (most >= colours.length) return;
        const best = leastLoss(colours, most);
        const loss = reductionLoss(colours, reduceColours(colours, most));
        expect(loss).toBeGreaterThanOrEqual(best * (1 - 1e-9));
        ratios.push(loss / best);
      }),
      { seed: 4, numRuns: 150 },
    );
    const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
    expect(mean).toBeLessThan(1.1);
  });
});
