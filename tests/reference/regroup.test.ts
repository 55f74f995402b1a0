/**
 * Colour blocks and strands of the chosen order against an exact integer programme solved by HiGHS (Huangfu and
 * Hall 2018; npm package `highs`), on 100 random small designs (seeded), and precedence against overlaps found
 * by jsts (a port of the JTS Topology Suite).
 *
 * The programme places pieces at positions. A block ends where a colour stands at one position and not at the
 * next. A strand goes on from i to j where they touch, or where a chain of touching pieces leads from one to the
 * other and every piece of the chain comes later than j.
 */
import highsModule from "highs";
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import OverlayOp from "jsts/org/locationtech/jts/operation/overlay/OverlayOp.js";
import { describe, expect, test } from "vitest";
import type { Piece } from "../../core/artwork/types.ts";
import { offset } from "../../core/geometry/region.ts";
import type { Point } from "../../core/geometry/types.ts";
import { hasBit } from "../../core/sequence/bits.ts";
import { fewestBlocks } from "../../core/sequence/colour-blocks.ts";
import { precedenceOf } from "../../core/sequence/precedence.ts";
import { regroup } from "../../core/sequence/regroup.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { jstsPolygon } from "../support/jsts-cover.ts";
import { area, CREAM, NAVY, REED } from "../support/pieces.ts";
import { seeded } from "../support/sewing.ts";

const COLOURS = [NAVY, REED, CREAM];
const GROW_MM = DEFAULT_SETTINGS.pullMm;
const THRESHOLD_MM = DEFAULT_SETTINGS.jumpThresholdMm;

function randomDesign(seed: number, count: number): Piece[] {
  const random = seeded(seed);
  return Array.from({ length: count }, (_, k) => {
    const [cx, cy] = [5 + random() * 26, 5 + random() * 20];
    const [rx, ry] = [2 + random() * 4, 2 + random() * 4];
    const turn = random() * Math.PI;
    const ring = Array.from({ length: 5 }, (_, c): Point => {
      const angle = turn + (c * 2 * Math.PI) / 5;
      return [cx + rx * Math.cos(angle), cy + ry * Math.sin(angle)];
    });
    return area(`petal-${k}`, ring, COLOURS[Math.floor(random() * COLOURS.length)]);
  });
}

/** Distances by jsts; `null` where a gap lies so near to nothing or to the threshold that it proves nothing. */
function gaps(pieces: readonly Piece[]): number[][] | null {
  const shapes = pieces.map((piece) => jstsPolygon(piece.region[0]));
  const table = shapes.map((a) => shapes.map((b) => DistanceOp.distance(a, b) as number));
  const unsure = table.flat().some((mm) => (mm > 0 && mm < 0.1) || (mm > 0.1 && mm < THRESHOLD_MM));
  return unsure ? null : table;
}

function overlapPairs(pieces: readonly Piece[]): [number, number][] {
  const grown = pieces.map((piece) => jstsPolygon(offset(piece.region, GROW_MM)[0]));
  const pairs: [number, number][] = [];
  for (let b = 0; b < pieces.length; b++) {
    for (let a = 0; a < b; a++) {
      const common = OverlayOp.intersection(grown[a], grown[b]);
      if (common.getArea() > 0.02) pairs.push([a, b]);
    }
  }
  return pairs;
}

/** Every chain of touching pieces between i and j, shortest first, as lists of what lies between. */
function chains(
  touch: readonly boolean[][],
  i: number,
  j: number,
  between: readonly number[] = [],
): number[][] {
  const at = between.length === 0 ? i : between[between.length - 1];
  const found: number[][] = [];
  if (between.length > 0 && touch[at][j]) found.push([...between]);
  for (let k = 0; k < touch.length; k++) {
    if (k === i || k === j || between.includes(k) || !touch[at][k]) continue;
    found.push(...chains(touch, i, j, [...between, k]));
  }
  return found;
}

interface Solver {
  solve(model: string): { readonly ObjectiveValue: number };
}

/** The package's types describe a namespace; what it exports is a function. */
const loadHighs = highsModule as unknown as () => Promise<Solver>;

/** Fewest blocks and, among orders with so many, fewest strands. */
function optimum(
  highs: Solver,
  pieces: readonly Piece[],
  table: readonly number[][],
): { blocks: number; strands: number } {
  const all = pieces.map((_, k) => k);
  const x = (k: number, p: number) => `x_${k}_${p}`;
  const rows: string[] = [];
  const binaries: string[] = all.flatMap((k) => all.map((p) => x(k, p)));
  for (const k of all) {
    rows.push(`${all.map((p) => x(k, p)).join(" + ")} = 1`);
    rows.push(`${all.map((p) => x(p, k)).join(" + ")} = 1`);
  }
  for (const [a, b] of overlapPairs(pieces)) {
    const place = (k: number, sign: string) =>
      all
        .slice(1)
        .map((p) => `${sign} ${p} ${x(k, p)}`)
        .join(" ");
    rows.push(`${place(b, "+")} ${place(a, "-")} >= 1`);
  }
  const steps = all.slice(1);
  for (const p of steps) {
    binaries.push(`change_${p}`, `cut_${p}`);
    for (const colour of COLOURS) {
      const own = all.filter((k) => pieces[k].colour === colour);
      if (own.length === 0) continue;
      rows.push(`change_${p} ${own.map((k) => `- ${x(k, p - 1)} + ${x(k, p)}`).join(" ")} >= 0`);
    }
    rows.push(`cut_${p} - change_${p} >= 0`);
  }
  const touch = table.map((row) => row.map((mm) => mm === 0));
  for (const i of all) {
    for (const j of all) {
      if (i === j || pieces[i].colour !== pieces[j].colour || touch[i][j]) continue;
      const ways = chains(touch, i, j);
      for (const p of steps) {
        const open = ways.map((_, w) => `way_${i}_${j}_${p}_${w}`);
        binaries.push(...open);
        for (const [w, way] of ways.entries()) {
          for (const k of way) {
            const later = all.filter((q) => q > p).map((q) => `- ${x(k, q)}`);
            rows.push(`${open[w]} ${later.join(" ")} <= 0`);
          }
        }
        rows.push(
          `cut_${p} ${open.map((name) => `+ ${name}`).join(" ")} - ${x(i, p - 1)} - ${x(j, p)} >= -1`,
        );
      }
    }
  }
  const objective = steps.map((p) => `100 change_${p} + cut_${p}`).join(" + ");
  const model = `Minimize\n obj: ${objective}\nSubject To\n${rows.map((row, n) => ` r${n}: ${row}`).join("\n")}\nBinary\n ${binaries.join(" ")}\nEnd\n`;
  const cost = Math.round(highs.solve(model).ObjectiveValue);
  return { blocks: 1 + Math.floor(cost / 100), strands: 1 + (cost % 100) };
}

/** Blocks and strands of an order, counted by the definition on jsts' distances. */
function count(pieces: readonly Piece[], order: readonly number[], table: readonly number[][]) {
  let [blocks, strands] = [1, 1];
  const touch = table.map((row) => row.map((mm) => mm === 0));
  for (let p = 1; p < order.length; p++) {
    const [i, j] = [order[p - 1], order[p]];
    if (pieces[i].colour !== pieces[j].colour) {
      blocks++;
      strands++;
      continue;
    }
    const later = new Set(order.slice(p + 1));
    if (!touch[i][j] && !chains(touch, i, j).some((way) => way.every((k) => later.has(k)))) strands++;
  }
  return { blocks, strands };
}

describe("the chosen order", () => {
  test("has as few blocks, and then as few strands, as the integer programme finds, on 100 random designs", async () => {
    const highs = await loadHighs();
    let compared = 0;
    for (let seed = 1; compared < 100; seed++) {
      const pieces = randomDesign(seed, 5 + (seed % 2));
      const table = gaps(pieces);
      if (table === null) continue;
      const chosen = regroup(pieces, DEFAULT_SETTINGS);
      const order = chosen.pieces.map((piece) => pieces.indexOf(piece));
      const best = optimum(highs, pieces, table);
      expect({ seed, ...count(pieces, order, table) }).toEqual({ seed, ...best });
      expect([chosen.blocksLowerBound, chosen.strandsLowerBound]).toEqual([best.blocks, best.strands]);
      compared++;
    }
  }, 120_000);
});

describe("precedence", () => {
  test("is what overlaps by jsts ask for, directly or by way of others, on 60 random designs", () => {
    for (let seed = 1; seed <= 60; seed++) {
      const pieces = randomDesign(seed, 9);
      const { before, pairs } = precedenceOf(pieces, GROW_MM);
      const asked = overlapPairs(pieces);
      for (const [a, b] of asked) expect(hasBit(before[b], a)).toBe(true);
      for (const [a, b] of pairs) expect(asked.some(([c, d]) => a === c && b === d)).toBe(true);
    }
  });
});

describe("fewest blocks", () => {
  test("its bound never exceeds what it finds, and both meet on all but hard designs", () => {
    let met = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const pieces = randomDesign(seed, 30);
      const colours = pieces.map(({ colour }) => COLOURS.indexOf(colour));
      const { blocks, lowerBound } = fewestBlocks(colours, precedenceOf(pieces, GROW_MM));
      expect(lowerBound).toBeLessThanOrEqual(blocks);
      if (lowerBound === blocks) met++;
    }
    expect(met).toBeGreaterThanOrEqual(57);
  });
});
