/** What is reported of stitches and sizes, each on the smallest case. Limits are common practice, no source. */
import { describe, expect, test } from "vitest";
import type { Piece } from "../../core/artwork/types.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { needlePiles } from "../../core/plan/needle-holes.ts";
import { sizeFindings } from "../../core/plan/size-findings.ts";
import { stitchFindings } from "../../core/plan/stitch-findings.ts";
import { countLayers, countShortStitches, mostLayers } from "../../core/plan/stitch-measures.ts";
import type { SewingStep, SewnRole } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { box, inOrder, runAlong } from "../support/pieces.ts";
import { seeded } from "../support/sewing.ts";

const size = { widthMm: 60, heightMm: 40 };

const sewn = (
  piece: string,
  points: readonly (readonly [number, number])[],
  role: SewnRole = "cover",
): SewingStep => ({
  role,
  block: 0,
  strand: 0,
  piece,
  points: Float64Array.from(points.flat()),
});

/** Rows 0.4 mm apart, `width` by `height`, in stitches of `length`. */
function rows(piece: string, x: number, y: number, width: number, height: number, length = 4): SewingStep {
  const points: [number, number][] = [];
  for (let row = 0; row * 0.4 <= height; row++) {
    const along = Array.from({ length: Math.round(width / length) + 1 }, (_, k): [number, number] => [
      x + k * length,
      y + row * 0.4,
    ]);
    points.push(...(row % 2 === 0 ? along : along.reverse()));
  }
  return sewn(piece, points);
}

const codesOf = (pieces: readonly Piece[], sewing: readonly SewingStep[], settings: Partial<Settings> = {}) =>
  stitchFindings(inOrder(...pieces), sewing, size, { ...DEFAULT_SETTINGS, ...settings }).map(
    ({ code, piece }) => `${code} ${piece}`,
  );

describe("stitches", () => {
  test("good rows have nothing to say", () => {
    expect(codesOf([box("sail", 5, 5, 20, 20)], [rows("sail", 5, 5, 20, 20)])).toEqual([]);
  });

  test("three under 0.4 mm are told of, two are not, ties never", () => {
    const tiny = (count: number) => Array.from({ length: count + 1 }, (_, k) => [5 + 0.3 * k, 5] as const);
    expect(codesOf([], [sewn("oar", tiny(3))])).toEqual(["stitch-too-short oar"]);
    expect(codesOf([], [sewn("oar", tiny(2))])).toEqual([]);
    expect(codesOf([], [sewn("oar", tiny(3), "tie-in")])).toEqual([]);
    expect(countShortStitches([sewn("oar", tiny(3)), sewn("oar", tiny(3), "tie-off")], 0.4)).toEqual({
      short: 3,
      all: 3,
    });
  });

  test("a loose one of 9 mm snags, one of 7 mm does not", () => {
    const one = (mm: number) => [
      sewn("oar", [
        [5, 5],
        [5 + mm, 5],
      ]),
    ];
    expect(codesOf([], one(9))).toEqual(["stitch-too-long oar"]);
    expect(codesOf([], one(7))).toEqual([]);
  });
});

describe("needle holes", () => {
  const star = (tips: number): SewingStep =>
    sewn(
      "star",
      Array.from({ length: 2 * tips + 1 }, (_, k) => {
        const angle = (Math.PI * k) / tips;
        return k % 2 === 0
          ? ([20, 20] as const)
          : ([20 + 5 * Math.cos(angle), 20 + 5 * Math.sin(angle)] as const);
      }),
    );

  test("a star sewn to and from one point piles them up", () => {
    expect(codesOf([], [star(20)])).toContain("needle-holes-piled star");
    expect(codesOf([], [star(8)])).not.toContain("needle-holes-piled star");
  });

  test("counts are those of comparing every pair, whatever the place", () => {
    const random = seeded(11);
    const points = Array.from({ length: 400 }, () => [random() * 6 - 3, random() * 6 - 3] as const);
    const [pile] = needlePiles([sewn("spray", points)], 0);
    const near = (a: readonly number[]) =>
      points.slice(1).filter((b) => Math.hypot(a[0] - b[0], a[1] - b[1]) <= 0.3).length;
    expect(pile.holes).toBe(Math.max(...points.slice(1).map(near)));
  });
});

describe("layers", () => {
  const stack = (count: number) =>
    Array.from({ length: count }, (_, k) => rows(`scale-${k + 1}`, 10, 10, 12, 8));

  test("are counted by piece", () => {
    expect(mostLayers(countLayers(stack(4), size))).toBe(4);
    expect(mostLayers(countLayers(stack(300), size))).toBe(300);
  });

  test("more than three are told of once, with the piece on top", () => {
    expect(codesOf([], stack(3))).toEqual([]);
    expect(codesOf([], stack(5))).toContain("too-many-layers scale-5");
    expect(codesOf([], stack(5)).filter((code) => code.startsWith("too-many-layers"))).toHaveLength(1);
  });

  test("a line of running stitches over three is none more: single thread makes nothing stiff", () => {
    const line = runAlong("eye-stripe", [
      [10, 14],
      [22, 14],
    ]);
    const back = rows("eye-stripe", 10, 14, 12, 1, 2.4);
    expect(codesOf([line], [...stack(3), back])).toEqual([]);
    expect(codesOf([box("eye-stripe", 10, 14, 12, 1)], [...stack(3), back])).toEqual([
      "too-many-layers eye-stripe",
    ]);
  });

  test("as many are told of as lie on a square millimetre, not where edges merely cross", () => {
    const knot = rows("eye", 12, 12, 0.4, 0.4, 0.4);
    const told = (sewing: readonly SewingStep[]) =>
      stitchFindings(inOrder(), sewing, size, DEFAULT_SETTINGS)
        .filter(({ code }) => code === "too-many-layers")
        .map(({ message }) => /up to (\d+) layers/.exec(message)?.[1]);
    expect(told([...stack(4), knot])).toEqual(["4"]);
    expect(told([...stack(4), rows("eye", 12, 12, 4, 4)])).toEqual(["5"]);
  });
});

describe("gaps between neighbours", () => {
  const pair = (gapMm: number) => {
    const left = rows("water", 5, 5, 12, 12);
    const right = rows("sky", 17 + 0.4 + gapMm, 5, 12, 12);
    return codesOf([box("water", 5, 5, 12, 12), box("sky", 17.4 + gapMm, 5, 12, 12)], [left, right]);
  };
  test("0.6 mm are told of, none and 2 mm are not", () => {
    expect(pair(0.6)).toEqual(["gap-between-neighbours water"]);
    expect(pair(-0.3)).toEqual([]);
    expect(pair(2)).toEqual([]);
  });
});

describe("sizes", () => {
  const found = (piece: Piece, settings: Partial<Settings> = {}, sewing: readonly SewingStep[] = []) =>
    sizeFindings(inOrder(piece), sewing, size, { ...DEFAULT_SETTINGS, ...settings });

  test("a hair of 0.2 mm needs the design at twice its width", () => {
    const [finding] = found(box("hair", 5, 5, 10, 0.2));
    expect(finding).toMatchObject({ code: "detail-too-small", piece: "hair" });
    const needed = Number(/at least (\d+) mm/.exec(finding.remedy)?.[1]);
    expect(needed).toBeGreaterThanOrEqual(120);
    expect(needed).toBeLessThan(135);
    expect(found(box("reed", 5, 5, 10, 0.5))).toEqual([]);
  });

  test("a dot of 0.5 mm is a knot", () => {
    expect(found(box("dot", 5, 5, 0.5, 0.5))).toMatchObject([{ code: "detail-too-small" }]);
  });

  test("a satin of 9 mm is too wide", () => {
    const oar: Piece = { ...box("oar", 5, 5, 30, 9), technique: "satin", widthMm: 9 };
    expect(found(oar)).toMatchObject([{ code: "satin-too-wide", piece: "oar" }]);
    expect(found({ ...oar, widthMm: 7 })).toEqual([]);
  });

  test("satin asked for where no columns fill the shape is sewn as fill, and says so", () => {
    const satin = (id: string, path: string) => {
      const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="60mm" viewBox="0 0 60 60">
        <path id="${id}" data-tuck-technique="satin" fill-rule="evenodd" d="${path}"/></svg>`;
      const { pieces, findings } = makePlan(svg, "boat.svg", DEFAULT_SETTINGS);
      return [pieces[0].technique, ...findings.map(({ code, piece }) => `${code} ${piece}`)];
    };
    expect(satin("oar", "M10 10h40v5h-40z")).toEqual(["satin"]);
    const holes = "M10 10h10v10h-10z M30 12h8v8h-8z M15 35h9v9h-9z M40 33h9v9h-9z";
    expect(satin("rack", `M5 5h50v50h-50z ${holes}`)).toEqual(["fill", "satin-unfit rack"]);
  });

  test("a hoop that is too small by one side is an error; turning may help", () => {
    const sewing = [rows("sail", 5, 5, 40, 20)];
    const hoop = (hoopWidthMm: number | null, hoopHeightMm: number | null) =>
      found(box("sail", 5, 5, 40, 20), { hoopWidthMm, hoopHeightMm }, sewing);
    expect(hoop(null, null)).toEqual([]);
    expect(hoop(50, 30)).toEqual([]);
    expect(hoop(30, 50)).toMatchObject([{ code: "larger-than-hoop", severity: "error" }]);
    expect(hoop(30, 50)[0].remedy).toContain("Turn the design by 90°");
    expect(hoop(20, 20)[0].remedy).toContain("50 %");
  });
});
