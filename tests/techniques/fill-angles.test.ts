import { describe, expect, it } from "vitest";
import type { Piece } from "../../core/artwork/types.ts";
import { rotate } from "../../core/geometry/point.ts";
import { regionFromRings, ringsOf } from "../../core/geometry/region.ts";
import type { Point, Region } from "../../core/geometry/types.ts";
import { longDirection } from "../../core/techniques/fill.ts";
import { chooseAngles } from "../../core/techniques/fill-angles.ts";

// What looks good is common practice, no source.
const NAVY = "#14213d";

const shape = (...ring: Point[]): Region => regionFromRings([ring], "nonzero");
const bar = (x: number, y: number, width: number, height: number): Region =>
  shape([x, y], [x + width, y], [x + width, y + height], [x, y + height]);
const disc = (cx: number, cy: number, r: number): Region =>
  shape(
    ...Array.from({ length: 64 }, (_, i): Point => {
      const t = (2 * Math.PI * i) / 64;
      return [cx + r * Math.cos(t), cy + r * Math.sin(t)];
    }),
  );
const turned = (region: Region, angleRad: number): Region =>
  region.map(({ outer, holes }) => ({ outer: outer.map((p) => rotate(p, angleRad)), holes }));

const filled = (id: string, region: Region, rest: Partial<Piece> = {}): Piece => ({
  id,
  element: id,
  paint: "fill",
  colour: NAVY,
  region,
  technique: "fill",
  overrides: {},
  ...rest,
});

const angleOf = (region: Region): number => chooseAngles([filled("one", region)]).get("one") as number;

/** Between two directions, 0 to 90. */
const apart = (a: number, b: number): number => {
  const difference = Math.abs(a - b) % 180;
  return Math.min(difference, 180 - difference);
};

describe("the angle of rows", () => {
  it("follows the long direction of an oar, however it lies", () => {
    for (const degrees of [0, 20, 77, 90, 135, 171]) {
      const oar = turned(bar(-20, -2, 40, 4), (-degrees * Math.PI) / 180);
      expect(apart(angleOf(oar), degrees)).toBeLessThan(0.5);
    }
  });

  it("leaves no short rows in a square: they run straight across it", () => {
    expect(angleOf(bar(0, 0, 12, 12)) % 90).toBeCloseTo(0, 6);
  });

  it("slants across the fabric's threads where all directions are alike", () => {
    expect(angleOf(disc(0, 0, 8))).toBe(45);
  });

  it("lies along an oar blade's straight sides, though its slanting ends turn its long direction", () => {
    const blade = shape([0, 0], [8, -8], [8, -38], [0, -30]);
    expect(apart((longDirection(ringsOf(blade)) * 180) / Math.PI, 90)).toBeGreaterThan(3);
    expect(angleOf(blade)).toBeCloseTo(90, 6);
  });

  it("makes no saw of either side of a pennant: of all edges it meets, none at a narrow angle", () => {
    for (const half of [10, 20, 30]) {
      const pennant = shape([-half, 0], [0, -45], [half, 0]);
      const side = (Math.atan2(45, half) * 180) / Math.PI;
      const angle = angleOf(pennant);
      const narrow = [0, side, 180 - side].filter(
        (edge) => apart(edge, angle) > 1.5 && apart(edge, angle) < 12,
      );
      expect(narrow, `rows at ${angle}°`).toEqual([]);
    }
  });

  it("is what the artist set, and nothing where no rows are sewn", () => {
    const angles = chooseAngles([
      filled("set", bar(0, 0, 40, 4), { overrides: { angleDeg: 63 } }),
      filled("satin", bar(0, 9, 40, 4), { technique: "satin" }),
    ]);
    expect([...angles]).toEqual([["set", 63]]);
  });
});

describe("neighbours of one colour", () => {
  const feathers = [0, 1, 2, 3].map((k) => filled(`feather-${k}`, bar(0, 5 * k, 30, 5)));

  it("that abut differ by 25° or more, each still with few rows", () => {
    const angles = chooseAngles(feathers);
    for (let k = 1; k < feathers.length; k++)
      expect(
        apart(angles.get(`feather-${k}`) as number, angles.get(`feather-${k - 1}`) as number),
      ).toBeGreaterThanOrEqual(25);
    expect(angles.get("feather-0")).toBe(0);
    expect(angles.get("feather-2")).toBe(0);
  });

  it("that overlap differ too", () => {
    const angles = chooseAngles([filled("wide", disc(0, 0, 10)), filled("small", disc(3, 0, 4))]);
    expect(apart(angles.get("wide") as number, angles.get("small") as number)).toBeGreaterThanOrEqual(25);
  });

  it("may be alike where they lie apart, or where another colour tells them from each other", () => {
    const apartThey = feathers.map((piece, k) => ({ ...piece, region: bar(0, 7 * k, 30, 5) }));
    expect(new Set(chooseAngles(apartThey).values())).toEqual(new Set([0]));
    const others = feathers.map((piece, k) => ({ ...piece, colour: k % 2 === 0 ? NAVY : "#fca311" }));
    expect(new Set(chooseAngles(others).values())).toEqual(new Set([0]));
  });
});

describe("pieces of one colour that read as one shape", () => {
  /** A wing from its root to the right, with a round end that lies on the body. */
  const arm = shape(
    ...Array.from({ length: 33 }, (_, i): Point => {
      const t = Math.PI / 2 + (Math.PI * i) / 32;
      return [6 * Math.cos(t), 6 * Math.sin(t)];
    }),
    [30, -6],
    [30, 6],
  );
  /** A body whose right side is as high as the arm, so that their outlines run on into each other. */
  const body = shape([-30, -30], [-12, -30], [-8, -6], [4, -6], [4, 6], [-8, 6], [-12, 30], [-30, 30]);
  const both = (first: Region, second: Region, rest: Partial<Piece> = {}) => [
    ...chooseAngles([filled("first", first, rest), filled("second", second)]).values(),
  ];

  it("lie at one angle: the drawing shows no edge where one goes under the other", () => {
    for (const [first, second] of [
      [body, arm],
      [arm, body],
    ]) {
      const [a, b] = both(first, second);
      expect(b).toBe(a);
    }
    // Each alone is sewn otherwise.
    expect(apart(angleOf(arm), angleOf(body))).toBeGreaterThan(25);
  });

  it("follow the angle that the artist has set for one of them", () => {
    expect(both(body, arm, { overrides: { angleDeg: 63 } })).toEqual([63, 63]);
  });

  it("are not those with a notch between them, as feathers, nor a detail on the other", () => {
    const feather = (x: number): Region => disc(x, 0, 8);
    const [a, b] = both(feather(0), feather(11));
    expect(apart(a, b)).toBeGreaterThanOrEqual(25);
    const [whole, detail] = both(body, disc(-20, 0, 4));
    expect(apart(whole, detail)).toBeGreaterThanOrEqual(25);
  });
});
