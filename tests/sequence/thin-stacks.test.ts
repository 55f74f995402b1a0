/** Stacks of more than four layers are thinned. Amounts are common practice, no source; areas are checked with jsts. */
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import OverlayOp from "jsts/org/locationtech/jts/operation/overlay/OverlayOp.js";
import { describe, expect, test } from "vitest";
import type { Piece } from "../../core/artwork/types.ts";
import { regionBox, regionContains } from "../../core/geometry/region.ts";
import { NO_MEMORY } from "../../core/memory.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { countLayers, mostLayers, singleLines } from "../../core/plan/stitch-measures.ts";
import { MOST_LAYERS, thinStacks } from "../../core/sequence/thin-stacks.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { chooseTechniques } from "../../core/techniques/choose-techniques.ts";
import { readDrawing } from "../support/drawing-sets.ts";
import { jstsPolygon } from "../support/jsts-cover.ts";
import { box, CREAM, NAVY, REED } from "../support/pieces.ts";
import { readContent } from "../support/read.ts";

const thinned = (pieces: readonly Piece[]) => thinStacks(pieces, DEFAULT_SETTINGS);

/** The most regions that lie over any point of a grid. */
function deepest(pieces: readonly Piece[]): number {
  const most = pieces.flatMap(({ region }) => {
    const { minX, minY, maxX, maxY } = regionBox(region);
    return [minX, minY, maxX, maxY];
  });
  const [low, high] = [Math.min(...most), Math.max(...most)];
  let deep = 0;
  for (let y = low + 0.17; y < high; y += 0.5)
    for (let x = low + 0.17; x < high; x += 0.5)
      deep = Math.max(deep, pieces.filter(({ region }) => regionContains(region, [x, y])).length);
  return deep;
}

/** Pennants hung one over the other, each a little further along the line. */
const pennants = (count: number): Piece[] =>
  Array.from({ length: count }, (_, k) =>
    box(`pennant-${k + 1}`, 5 * k, 2 * k, 30, 30, [NAVY, CREAM, REED][k % 3]),
  );

describe("seven pennants over each other", () => {
  const drawn = pennants(7);
  const rest = thinned(drawn).filter((piece) => piece !== null);

  test("come to four layers at most, as single polygons, the topmost whole", () => {
    expect(deepest(drawn)).toBeGreaterThan(MOST_LAYERS);
    expect(deepest(rest)).toBeLessThanOrEqual(MOST_LAYERS);
    expect(rest.map(({ region }) => region.length)).toEqual(drawn.map(() => 1));
    expect(rest.at(-1)).toBe(drawn.at(-1));
  });

  test("lose only what lies under later ones and keep an underlap, by jsts", () => {
    for (const [k, { region }] of rest.entries()) {
      const lost = OverlayOp.difference(jstsPolygon(drawn[k].region[0]), jstsPolygon(region[0]));
      if (lost.getArea() < 0.01) continue;
      const later = rest
        .slice(k + 1)
        .map((piece) => jstsPolygon(piece.region[0]))
        .reduce((all, one) => OverlayOp.union(all, one));
      expect(OverlayOp.difference(lost, later).getArea()).toBeLessThan(0.01);
      const seen = OverlayOp.difference(jstsPolygon(drawn[k].region[0]), later);
      expect(DistanceOp.distance(lost, seen)).toBeGreaterThan(0.4 * DEFAULT_SETTINGS.underlapMm);
    }
  });
});

describe("a jetty that runs to the horizon, with planks across", () => {
  /** Four lanes inside each other, half as wide at the horizon as told, and planks, the first half as wide as told. */
  const drawing = (lanesMm: readonly number[], plankMm: number): string => {
    const lanes = lanesMm.map(
      (half, k) =>
        `<path d="M${50 - half} 53H${50 + half}L${[94, 89, 81, 74][k]} 100H${[6, 11, 19, 26][k]}z" fill="${
          [NAVY, CREAM, "#333c44", "#777777"][k]
        }"/>`,
    );
    const planks = [0, 5, 11, 20].map((y, k) => {
      const half = plankMm + 2 * k;
      return `<rect x="${50 - half}" y="${53 + y}" width="${2 * half}" height="${2 + k / 2}" fill="#aaaaaa"/>`;
    });
    return `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">
      <rect width="100" height="100" fill="#88bbdd"/><rect y="53" width="100" height="47" fill="${REED}"/>
      ${lanes.join("")}${planks.join("")}</svg>`;
  };

  test.each([
    [[14.5, 12.9, 10.3, 7.7], 7.4],
    [[13.3, 11.7, 8.8, 6.1], 5.9],
    [[14.1, 11.4, 9.4, 6.7], 6],
  ])(
    "is sewn in four layers at the horizon, where all its lanes are held together: %s mm",
    (lanes, plank) => {
      const { sewing, size } = makePlan(drawing(lanes, plank), "jetty.svg", DEFAULT_SETTINGS);
      expect(mostLayers(countLayers(sewing, size))).toBeLessThanOrEqual(MOST_LAYERS);
    },
  );
});

describe("drawings that nobody here drew", () => {
  // Twemoji (see drawing-sets.ts), 100 mm wide: crests, faces and seats where five small columns met on a square or two.
  test.each(["1f1e8-1f1f7", "1f3c4-200d-2640-fe0f", "1f926", "1f9a7", "1fa99"])(
    "%s has no spot under more than four of fill and satin",
    (name) => {
      const { text } = readDrawing("emoji", `${name}.svg`);
      const { sewing, size, pieces } = makePlan(text, `${name}.svg`, { ...DEFAULT_SETTINGS, widthMm: 100 });
      const layers = countLayers(sewing, size, 2, NO_MEMORY, singleLines(pieces));
      expect(mostLayers(layers)).toBeLessThanOrEqual(MOST_LAYERS);
    },
  );
});

describe("columns in a stack", () => {
  /** An oar whose handle ends far under four squares of cloth. */
  const oar = (attributes = "") =>
    chooseTechniques(
      readContent(
        `<rect id="oar" x="0" y="8" width="60" height="4" fill="${NAVY}" ${attributes}/>${[0, 1, 2, 3]
          .map((k) => `<rect x="${30 - k}" y="${-k}" width="40" height="20" fill="${k % 2 ? REED : CREAM}"/>`)
          .join("")}`,
      ),
      DEFAULT_SETTINGS,
    ).pieces;

  test("end a little way in under the stack, and are columns still", () => {
    const pieces = oar();
    const [rest] = thinned(pieces);
    expect(pieces[0].technique).toBe("satin");
    expect(rest?.technique).toBe("satin");
    const { maxX } = regionBox(rest?.region ?? []);
    expect(maxX).toBeGreaterThan(27 + DEFAULT_SETTINGS.underlapMm - 0.1);
    expect(maxX).toBeLessThan(36);
  });

  test("stay whole where the artist asks for satin", () => {
    const pieces = oar(`data-tuck-technique="satin"`);
    expect(thinned(pieces)[0]).toBe(pieces[0]);
  });
});

describe("what is left alone", () => {
  test("four layers", () => {
    const pieces = pennants(7).slice(0, MOST_LAYERS);
    expect(thinned(pieces)).toBe(pieces);
  });

  test("five pieces that nowhere lie over one another", () => {
    const pieces = [0, 1, 2, 3, 4].map((k) => box(`flag-${k}`, 12 * k, 0, 10, 10));
    expect(thinned(pieces)).toBe(pieces);
  });
});

describe("a piece in a stack of which nothing is seen", () => {
  const under = (overrides = {}) => [
    box("badge", 10, 10, 8, 8, CREAM, overrides),
    ...[0, 1, 2, 3].map((k) => box(`cloth-${k}`, 10, 10, 8 + k, 8 + k, k % 2 ? REED : NAVY)),
  ];

  test("is left out", () => {
    expect(thinned(under())[0]).toBeNull();
  });

  test("is left out however deep it lies", () => {
    const heap = Array.from({ length: 300 }, (_, k) =>
      box(`cloth-${k}`, 10, 10, 8 + k / 20, 8 + k / 20, NAVY),
    );
    expect(thinned(heap).filter((piece) => piece !== null).length).toBeLessThanOrEqual(MOST_LAYERS);
  });

  test("is sewn where the artist named it for a strand", () => {
    expect(thinned(under({ strand: "badges" }))[0]).not.toBeNull();
  });
});
