/** Several copies on one hoop. */
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import { describe, expect, it } from "vitest";
import { boxOf, distance } from "../../core/geometry/point.ts";
import { regionBox } from "../../core/geometry/region.ts";
import { makePlan, readDrawing } from "../../core/plan/make-plan.ts";
import type { Plan } from "../../core/plan/types.ts";
import { blocksOf } from "../../core/sequence/blocks.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { here } from "../cli/here.ts";
import { BADGE } from "../support/badge.ts";
import { jstsPolygon } from "../support/jsts-cover.ts";
import { needlePathFaults } from "../support/plan-checks.ts";

const settings = (others: Partial<Settings>): Settings => ({ ...DEFAULT_SETTINGS, ...others });
const plan = (others: Partial<Settings>): Plan => makePlan(BADGE, "badge.svg", settings(others));
const artworkOf = (others: Partial<Settings>) => readDrawing(BADGE, "badge.svg", settings(others)).artwork;
const changes = ({ sewing }: Plan) => sewing.filter(({ role }) => role === "colour-change").length;
const copyOf = (id: string) => Number(/^copy-(\d+)\//.exec(id)?.[1] ?? 1);

describe("a sheet of patches", () => {
  const patch = { patch: "circle", widthMm: 40 } as const;
  const one = plan(patch);
  const six = plan({ ...patch, sheetOf: "3x2" });

  it("changes thread as often as a single patch, and needs its strands for each", () => {
    expect(changes(six)).toBe(changes(one));
    expect(six.metrics.blocks).toBe(one.metrics.blocks);
    expect(six.metrics.strands).toBe(6 * one.metrics.strands);
    expect(six.metrics.strands).toBe(six.metrics.strandsLowerBound);
    expect(needlePathFaults(six)).toEqual([]);
  });

  it("sews each block on all copies before the next, from one to its neighbour", () => {
    const { pieces } = artworkOf({ ...patch, sheetOf: "3x2" });
    for (const { start, end } of blocksOf(pieces)) {
      const visited = pieces.slice(start, end).map(({ id }) => copyOf(id));
      const inTurn = visited.filter((copy, k) => copy !== visited[k - 1]);
      expect([...inTurn].sort()).toEqual([1, 2, 3, 4, 5, 6]);
      expect([inTurn, [...inTurn].reverse()]).toContainEqual([1, 2, 3, 4, 5, 6]);
    }
    const centres = [1, 2, 3, 4, 5, 6].map((copy) => {
      const edge = pieces.find(({ id }) => id.endsWith("patch-edge") && copyOf(id) === copy)!;
      const { minX, maxX, minY, maxY } = regionBox(edge.region);
      return [(minX + maxX) / 2, (minY + maxY) / 2] as const;
    });
    for (let k = 1; k < 6; k++) expect(distance(centres[k - 1], centres[k])).toBeCloseTo(41 + 8, 1);
  });

  it("keeps the gap between cut lines, on a page that just holds all of them", () => {
    for (const patchGapMm of [8, 3]) {
      const { cutLine = [], size } = artworkOf({ ...patch, sheetOf: "3x2", patchGapMm });
      expect(cutLine).toHaveLength(6);
      const polygons = cutLine.map((outer) => jstsPolygon({ outer, holes: [] }));
      for (const [k, a] of polygons.entries())
        for (const b of polygons.slice(k + 1))
          expect(DistanceOp.distance(a, b)).toBeGreaterThan(patchGapMm - 1e-3);
      expect(DistanceOp.distance(polygons[0], polygons[1])).toBeCloseTo(patchGapMm, 2);
      const { minX, minY, maxX, maxY } = boxOf(cutLine.flat());
      for (const [is, should] of [
        [minX, 0],
        [minY, 0],
        [maxX, size.widthMm],
        [maxY, size.heightMm],
      ])
        expect(is).toBeCloseTo(should, 6);
    }
  });

  it("has copies that are the first one, moved, under names of their own", () => {
    const { pieces } = artworkOf({ ...patch, sheetOf: "1x2" });
    expect(new Set(pieces.map(({ id }) => id)).size).toBe(pieces.length);
    const second = pieces.find(({ id }) => id === "copy-2/pennant")!;
    const first = pieces.find(({ id }) => id === "pennant")!;
    expect(second.colour).toBe(first.colour);
    const [[ax, ay], [bx, by]] = [first.region[0].outer[0], second.region[0].outer[0]];
    for (const [k, [x, y]] of first.region[0].outer.entries()) {
      expect(second.region[0].outer[k][0] - x).toBeCloseTo(bx - ax, 9);
      expect(second.region[0].outer[k][1] - y).toBeCloseTo(by - ay, 9);
    }
  });

  it("says nothing of thread that is cut between copies", () => {
    const breaks = ({ findings }: Plan) => findings.filter(({ code }) => code === "strand-break").length;
    expect(breaks(six)).toBe(6 * breaks(one));
  });
});

describe("a sheet without patches", () => {
  it("holds the artwork alone, each strand of the artist's within its copy", () => {
    const tied = BADGE.replace('id="pole"', 'id="pole" data-tuck-strand="rig"');
    const { artwork } = readDrawing(tied, "badge.svg", settings({ sheetOf: "2x1" }));
    expect(artwork.cutLine).toBeUndefined();
    expect(artwork.pieces.flatMap(({ overrides }) => overrides.strand ?? []).sort()).toEqual([
      "copy-2/rig",
      "rig",
    ]);
    expect(changes(plan({ sheetOf: "2x2" }))).toBe(changes(plan({})));
    expect(changes(plan({ sheetOf: "2x1", order: "regroup" }))).toBe(changes(plan({ order: "regroup" })));
  });

  it("of one by one is no sheet", () => {
    expect(artworkOf({ sheetOf: "1x1" })).toEqual(artworkOf({}));
  });
});

describe("on the command line", () => {
  const folder = here();

  it("plan --patch --sheet-of", async () => {
    await folder.write("badge.svg", BADGE);
    const { code } = await folder.run(
      "plan badge.svg --patch rounded --sheet-of 2x1 --width 40 --json badge.json",
    );
    expect(code).toBe(0);
    const { cutLine, settings: held, size } = JSON.parse(await folder.text("badge.json"));
    expect(cutLine).toHaveLength(2);
    expect(held).toMatchObject({ patch: "rounded", sheetOf: "2x1", widthMm: 40 });
    expect(size.width).toBeCloseTo(2 * 41 + 8, 1);
  });

  it("batch --patch --fit: every patch goes into the box, its copies beside it", async () => {
    await folder.write("badge.svg", BADGE);
    const { code } = await folder.run(
      "batch badge.svg --out sewn --fit 60x30 --patch outline --sheet-of 2x1 --formats json --jobs 1",
    );
    expect(code).toBe(0);
    const { cutLine, settings: held } = JSON.parse(await folder.text("sewn/plans/badge.json"));
    expect(cutLine).toHaveLength(2);
    const { minX, minY, maxX, maxY } = boxOf(cutLine[0]);
    expect(maxY - minY).toBeLessThanOrEqual(30 + 1e-3);
    expect(maxY - minY).toBeGreaterThan(29.5);
    expect(maxX - minX).toBeCloseTo(held.widthMm + 1, 1);
  });

  it.each([
    ["--sheet-of 3", 'sheetOf is "3"; give copies across and down, as 3x4'],
    ["--sheet-of 0x4", 'sheetOf is "0x4"; give copies across and down, as 3x4'],
    ["--set patchEdgeMm=5", "patchEdgeMm is 5; give a number from 3 to 4 mm"],
    ["--set patchGround=navy", 'patchGround is "navy"; give a colour as #rrggbb'],
    ["--patch circle --width 9", "has no room for artwork"],
  ])("refuses %s", async (words, message) => {
    await folder.write("badge.svg", BADGE);
    const { code, stderr } = await folder.run(`plan badge.svg ${words}`);
    expect(code).toBe(2);
    expect(stderr.replace(/\s+/g, " ")).toContain(message);
  });
});
