/**
 * The demo drawings hold what they are meant to show: sizes, threads, blocks, overlaps and gaps. Overlaps and
 * distances are measured by jsts, a polygon library that the core does not use.
 */
import { readdirSync } from "node:fs";
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import OverlayOp from "jsts/org/locationtech/jts/operation/overlay/OverlayOp.js";
import { describe, expect, it } from "vitest";
import { readArtwork } from "../core/artwork/read.ts";
import type { Artwork, Piece } from "../core/artwork/types.ts";
import { paintSewOut, visibleShare } from "../core/plan/sew-out.ts";
import { DEFAULT_SETTINGS } from "../core/settings.ts";
import { fixtureText, fixturePlan as plan } from "./support/fixture-plans.ts";
import { jstsPolygon } from "./support/jsts-cover.ts";
import { needlePathFaults } from "./support/plan-checks.ts";

const read = (name: string): Artwork => readArtwork(fixtureText(name), `${name}.svg`, DEFAULT_SETTINGS);

const shape = (piece: Piece) => jstsPolygon(piece.region[0]);
const gapMm = (a: Piece, b: Piece): number => DistanceOp.distance(shape(a), shape(b));
const overlapMm2 = (a: Piece, b: Piece): number => OverlayOp.intersection(shape(a), shape(b)).getArea();
const byId = ({ pieces }: Artwork, id: string): Piece => {
  const piece = pieces.find((candidate) => candidate.id === id);
  if (!piece) throw new Error(`no piece ${id}`);
  return piece;
};

/** Runs of one colour in paint order, as `colour first…last (count)`. */
function blocksOf({ pieces }: Artwork): string[] {
  const blocks: Piece[][] = [];
  for (const piece of pieces) {
    const block = blocks.at(-1);
    if (block?.[0].colour === piece.colour) block.push(piece);
    else blocks.push([piece]);
  }
  return blocks.map(
    (block) => `${block[0].colour} ${block[0].element}…${block[block.length - 1].element} (${block.length})`,
  );
}

/** Groups of pieces that touch or overlap, by their sizes, largest first. */
function islandSizes(pieces: readonly Piece[]): number[] {
  const island = pieces.map((_, k) => k);
  const find = (k: number): number => (island[k] === k ? k : find(island[k]));
  for (let i = 0; i < pieces.length; i++)
    for (let j = 0; j < i; j++) if (gapMm(pieces[i], pieces[j]) === 0) island[find(i)] = find(j);
  const sizes = new Map<number, number>();
  for (const k of island.keys()) sizes.set(find(k), (sizes.get(find(k)) ?? 0) + 1);
  return [...sizes.values()].sort((a, b) => b - a);
}

describe("heron-crest", () => {
  const artwork = read("heron-crest");

  it("is 90 × 100 mm, 70 pieces in 7 threads, and reads without a finding", () => {
    expect(artwork.size.widthMm).toBeCloseTo(90, 9);
    expect(artwork.size.heightMm).toBeCloseTo(100, 9);
    expect(artwork.pieces).toHaveLength(70);
    expect(new Set(artwork.pieces.map(({ colour }) => colour)).size).toBe(7);
    expect(artwork.findings).toEqual([]);
  });

  it("falls into 14 blocks", () => {
    expect(blocksOf(artwork)).toEqual([
      "#b23a3f blade-1…blade-2 (4)",
      "#d9a441 shaft-1…shaft-2 (2)",
      "#1c3347 ground…ground (1)",
      "#b23a3f sun-disc…sun-disc (1)",
      "#d9a441 bulrush-1…beak-upper (7)",
      "#2f7f92 wave-1…wave-2 (2)",
      "#6f8f4a reed-1…reed-7 (10)",
      "#2f7f92 wave-3…wave-6 (4)",
      "#7391a8 plume-1…tail-2 (4)",
      "#f1ead8 hackle-1…head (7)",
      "#7391a8 feather-1…feather-12 (12)",
      "#1c3347 eye…vane-6 (14)",
      "#d9a441 rim…rim (1)",
      "#1c3347 rim-line…rim-line (1)",
    ]);
  });

  it("uses every technique: fills, satin for rim and stems, running stitch for the line work", () => {
    expect(byId(artwork, "ground").technique).toBe("fill");
    expect(byId(artwork, "rim.stroke").technique).toBe("satin");
    expect(byId(artwork, "stem-2.stroke").technique).toBe("satin");
    expect(byId(artwork, "vane-3.stroke").technique).toBe("run");
    expect(byId(artwork, "rim-line.stroke").technique).toBe("run");
  });

  it("lays each of the twelve feathers over the one before", () => {
    const feathers = artwork.pieces.filter(({ id }) => id.startsWith("feather-"));
    expect(feathers.map(({ id }) => id)).toEqual(Array.from({ length: 12 }, (_, k) => `feather-${k + 1}`));
    for (let k = 1; k < feathers.length; k++)
      expect(overlapMm2(feathers[k - 1], feathers[k])).toBeGreaterThan(1);
  });

  it("joins the line work end to end, so that it needs no connector", () => {
    const lines = artwork.pieces.filter(
      ({ colour, technique }) => colour === "#1c3347" && technique === "run",
    );
    const chain = lines.filter(({ id }) => id !== "rim-line.stroke");
    expect(chain).toHaveLength(13);
    for (let k = 1; k < chain.length; k++) expect(gapMm(chain[k - 1], chain[k]), chain[k].id).toBe(0);
  });

  it("is planned in one strand a block, with next to nothing of connectors and travel to be seen", () => {
    const planned = plan("heron-crest");
    expect(needlePathFaults(planned)).toEqual([]);
    expect(planned.metrics.blocks).toBe(14);
    expect(planned.metrics.strandsLowerBound).toBe(14);
    expect(planned.metrics.strands).toBe(14);
    const sewOut = paintSewOut(planned.sewing, planned.size);
    expect(visibleShare(sewOut, planned.sewing)).toBeLessThanOrEqual(0.01);
  }, 60_000);
});

describe("forty-scales", () => {
  const artwork = read("forty-scales");

  it("is one thread in forty pieces: islands of 22 and 18, more than 6 mm apart", () => {
    expect(artwork.pieces).toHaveLength(40);
    expect(new Set(artwork.pieces.map(({ colour }) => colour)).size).toBe(1);
    expect(islandSizes(artwork.pieces)).toEqual([22, 18]);
    const [large, small] = [artwork.pieces.slice(0, 22), artwork.pieces.slice(22)];
    const gaps = large.flatMap((a) => small.map((b) => gapMm(a, b)));
    expect(Math.min(...gaps)).toBeGreaterThan(6);
  });

  it("takes two strands, no more and no fewer, and the break between them has its reason", () => {
    const planned = plan("forty-scales");
    expect(needlePathFaults(planned)).toEqual([]);
    expect(planned.metrics.strands).toBe(2);
    expect(planned.metrics.strandsLowerBound).toBe(2);
    const jumps = planned.connectors.filter(({ kind }) => kind === "jump");
    expect(jumps.map(({ from, to }) => [from, to])).toEqual([["scale-22", "scale-23"]]);
    expect(jumps[0].reason).toMatch(/\d/);
  });
});

describe("every-feature", () => {
  const artwork = read("every-feature");
  const colourOf = (id: string) => byId(artwork, id).colour;

  it("is 12 cm wide and 90 mm high", () => {
    expect(artwork.size.widthMm).toBeCloseTo(120, 9);
    expect(artwork.size.heightMm).toBeCloseTo(90, 9);
  });

  it("takes each colour from where the cascade finds it", () => {
    expect(colourOf("hill-far")).toBe("#8b8f5a"); // type selector
    expect(colourOf("door")).toBe("#7a4c2c"); // id and class before class
    expect(colourOf("roof")).toBe("#a3293d"); // attribute selector before type selector
    expect(colourOf("reed-1.stroke")).toBe("#2e8b57"); // seagreen, by descendant selector
    expect(colourOf("reed-2.stroke")).toBe("#2e8b57"); // a sheet before a presentation attribute
    expect(colourOf("reed-3.stroke")).toBe("#3c6e47"); // style attribute before a sheet
    expect(colourOf("pennant")).toBe("#a3293d"); // currentColor, inherited from the root
    expect(colourOf("lantern")).toBe("#ffd700"); // gold; visible within what is hidden
    expect(byId(artwork, "reed-1.stroke").widthMm).toBeCloseTo(5 / 4, 9); // four user units make a millimetre
  });

  it("leaves out what does not show, without a word", () => {
    const ids = new Set(artwork.pieces.map(({ element }) => element));
    for (const id of ["store", "ghost", "sail", "sail-never-2", "glass", "clear", "faded"])
      expect(ids).not.toContain(id);
    expect(artwork.pieces.some(({ colour }) => colour === "#ff00ff")).toBe(false);
  });

  it("paints in paint-order: the truck's stroke lies under its fill", () => {
    const truck = artwork.pieces.filter(({ element }) => element === "truck").map(({ paint }) => paint);
    expect(truck).toEqual(["stroke", "fill"]);
    const pennant = artwork.pieces.filter(({ element }) => element === "pennant").map(({ paint }) => paint);
    expect(pennant).toEqual(["fill", "stroke"]);
  });

  it("measures posts in px, pt, pc, in, em and Q", () => {
    const width = (id: string) => {
      const xs = byId(artwork, id).region[0].outer.map(([x]) => x);
      return Math.max(...xs) - Math.min(...xs);
    };
    // CSS Values and Units 3, section 6.2: 1in = 96px = 2.54cm, 1pc = 16px, 1pt = 4/3 px, 1Q = 1/40 cm.
    // Here a px is a user unit, and four of them are sewn as one millimetre.
    expect(width("post-px")).toBeCloseTo(8 / 4, 3);
    expect(width("post-pt")).toBeCloseTo(8 / 4, 3);
    expect(width("post-pc")).toBeCloseTo(8 / 4, 3);
    expect(width("post-in")).toBeCloseTo((0.08 * 96) / 4, 3);
    expect(width("post-em")).toBeCloseTo((0.6 * 14) / 4, 3);
    expect(width("post-q")).toBeCloseTo((8 * 96) / 101.6 / 4, 3);
  });

  it("reports what cannot be sewn, each element by its name", () => {
    const about = (id: string) => artwork.findings.filter(({ piece }) => piece === id);
    for (const id of ["sign", "photo", "mist", "shade", "dusk-sky", "sun", "rack", "jetty"]) {
      expect(about(id), id).not.toHaveLength(0);
      expect(about(id)[0].remedy).not.toBe("");
    }
  });

  it("is planned without a fault", () => {
    expect(needlePathFaults(plan("every-feature"))).toEqual([]);
  });
});

describe("cases", () => {
  const gapBetween = (name: string) => {
    const [a, b] = read(`cases/${name}`).pieces;
    return gapMm(a, b);
  };

  it("gaps measure what their names say", () => {
    expect(gapBetween("gap-1.9")).toBeCloseTo(1.9, 4);
    expect(gapBetween("gap-2.1")).toBeCloseTo(2.1, 4);
    expect(gapBetween("touching")).toBe(0);
  });

  it("eye-in-wing: a small piece wholly inside a big one of its colour", () => {
    const { pieces } = read("cases/eye-in-wing");
    const [wing, eye] = pieces;
    expect(pieces.map(({ colour }) => colour)).toEqual(["#5f7f95", "#5f7f95"]);
    expect(overlapMm2(wing, eye)).toBeCloseTo(shape(eye).getArea(), 3);
  });

  it("bridge-later and dark-under-light: two pieces far apart, and a later one across both", () => {
    for (const name of ["bridge-later", "dark-under-light"]) {
      const [a, b, across] = read(`cases/${name}`).pieces;
      expect(a.colour).toBe(b.colour);
      expect(across.colour).not.toBe(a.colour);
      expect(gapMm(a, b)).toBeGreaterThan(10);
      expect(overlapMm2(a, across)).toBeGreaterThan(10);
      expect(overlapMm2(b, across)).toBeGreaterThan(10);
    }
  });

  // Common practice, no source: below 2 mm the machine hops, from 2 mm on it trims.
  it.each([
    ["gap-1.9", 1, ["hop"]],
    ["gap-2.1", 2, ["jump"]],
    ["touching", 1, []],
    ["eye-in-wing", 1, []],
    ["bridge-later", 2, ["tucked"]],
    ["dark-under-light", 2, ["tucked"]],
    ["two-colours", 2, []],
  ] as const)("%s is planned in %i strands", (name, strands, kinds) => {
    const planned = plan(`cases/${name}`);
    expect(needlePathFaults(planned)).toEqual([]);
    expect(planned.metrics.strands).toBe(strands);
    const kindsFound = planned.connectors.map(({ kind }) => kind);
    if (kinds.length > 0) expect(kindsFound).toEqual(kinds);
    else expect(kindsFound.every((kind) => kind === "tucked")).toBe(true);
  });

  it("are small: no more than a screenful each", () => {
    for (const file of readdirSync(new URL("../fixtures/cases/", import.meta.url)))
      expect(fixtureText(`cases/${file.replace(/\.svg$/, "")}`).split("\n").length, file).toBeLessThan(40);
  });
});
