/** Patches as they are sewn. The order of sewing is common practice, no source. */
import { Ajv2020 } from "ajv/dist/2020.js";
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import { describe, expect, it } from "vitest";
import { ArtworkError } from "../../core/errors.ts";
import { distance } from "../../core/geometry/point.ts";
import { closeRing, nearestOnPolyline } from "../../core/geometry/polyline.ts";
import {
  intersect,
  offset,
  regionArea,
  regionBox,
  regionContains,
  union,
} from "../../core/geometry/region.ts";
import type { Point, Ring } from "../../core/geometry/types.ts";
import { strip } from "../../core/layers/strip.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { serialisePlan } from "../../core/output/json.ts";
import { PLAN_SCHEMA } from "../../core/output/plan-schema.ts";
import { makePlan, readDrawing, sequenceOf } from "../../core/plan/make-plan.ts";
import { paintSewOut, visibleThread } from "../../core/plan/sew-out.ts";
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { BADGE } from "../support/badge.ts";
import { all, parseDom } from "../support/dom.ts";
import { jstsPolygon } from "../support/jsts-cover.ts";
import { needlePathFaults } from "../support/plan-checks.ts";

const SHAPES = ["silhouette", "circle", "rounded", "shield", "outline"] as const;
const GROUND = "#e8e2d0";

const settings = (others: Partial<Settings>): Settings => ({ ...DEFAULT_SETTINGS, ...others });
const artworkOf = (others: Partial<Settings>) => readDrawing(BADGE, "badge.svg", settings(others)).artwork;
const known = new Map<string, Plan>();
/** Plans of the badge, each made once. */
function planOf(others: Partial<Settings>): Plan {
  const key = JSON.stringify(others);
  const plan = known.get(key) ?? makePlan(BADGE, "badge.svg", settings(others));
  known.set(key, plan);
  return plan;
}
const ids = (plan: Plan) => [...plan.pieces].sort((a, b) => a.order - b.order).map(({ id }) => id);
const ring = (outer: Ring) => [{ outer, holes: [] }];

describe("a patch", () => {
  it("is sewn from the placement line to the edge, the artwork in between as before", () => {
    const bare = ids(planOf({}));
    const plan = planOf({ patch: "circle", patchGround: GROUND });
    expect(ids(plan)).toEqual(["patch-placement", "patch-tack-down", "patch-ground", ...bare, "patch-edge"]);
    expect(ids(planOf({ patch: "circle" }))).toEqual([
      "patch-placement",
      "patch-tack-down",
      ...bare,
      "patch-edge",
    ]);
  });

  it("says when the fabric goes on", () => {
    const { findings } = planOf({ patch: "circle", patchGround: GROUND });
    expect(findings.filter(({ code }) => code === "lay-fabric")).toHaveLength(1);
    expect(planOf({}).findings.map(({ code }) => code)).not.toContain("lay-fabric");
  });

  it("keeps its frame in place where the artwork is regrouped", () => {
    const order = ids(planOf({ patch: "outline", order: "regroup", patchEdgeColour: "#b23a3f" }));
    expect(order.slice(0, 2)).toEqual(["patch-placement", "patch-tack-down"]);
    expect(order.at(-1)).toBe("patch-edge");
  });

  it("stops the machine between placement line and tack-down, so that the fabric can be laid on", () => {
    for (const others of [{}, { patchEdgeColour: "#2f7f92" }, { patchGround: "#1c3347" }]) {
      const { pieces } = artworkOf({ patch: "circle", ...others });
      expect(pieces[0].colour, JSON.stringify(others)).not.toBe(pieces[1].colour);
    }
    const oneColour = BADGE.replace(/#[0-9a-f]{6}/g, "#1c3347");
    const { pieces } = readDrawing(oneColour, "badge.svg", settings({ patch: "circle" })).artwork;
    expect(pieces[0].colour).not.toBe(pieces[1].colour);
  });

  it.each(SHAPES)("%s: is as wide as asked for, whatever its edge and margin take", (patch) => {
    for (const widthMm of [35, 60]) {
      const { pieces, size } = artworkOf({ patch, widthMm });
      const box = regionBox(pieces.find(({ id }) => id === "patch-edge")!.region);
      expect(box.maxX - box.minX).toBeCloseTo(widthMm, 1);
      expect(size.widthMm).toBeCloseTo(widthMm + 1, 1);
    }
  });

  it.each(SHAPES)("%s: sews without a fault, in as few strands as can be", (patch) => {
    const plan = planOf({ patch, widthMm: 45, patchGround: GROUND });
    expect(needlePathFaults(plan)).toEqual([]);
    expect(plan.metrics.strands).toBe(plan.metrics.strandsLowerBound);
    expect(plan.pieces.find(({ id }) => id === "patch-edge")?.technique).toBe("satin");
  });

  it.each(SHAPES)("%s: placement line and tack-down end up under the edge", (patch) => {
    const plan = planOf({ patch, widthMm: 45, patchGround: GROUND });
    const sewOut = paintSewOut(plan.sewing, plan.size);
    for (const [index, step] of plan.sewing.entries()) {
      if (!isSewn(step) || step.role !== "cover") continue;
      if (step.piece !== "patch-placement" && step.piece !== "patch-tack-down") continue;
      const { lengthMm, visibleMm } = visibleThread(sewOut, step, index);
      expect(visibleMm / lengthMm, step.piece).toBeLessThan(0.005);
    }
    const { pieces } = artworkOf({ patch, widthMm: 45 });
    const edge = pieces.find(({ id }) => id === "patch-edge")!;
    for (const { line } of pieces.slice(0, 2))
      for (const p of line!) expect(regionContains(edge.region, p)).toBe(true);
  });

  it("silhouette: the edge covers the artwork's own edge wherever the artwork is broad", () => {
    const plan = planOf({ patch: "silhouette", widthMm: 60 });
    const sewOut = paintSewOut(plan.sewing, plan.size);
    const { pieces } = artworkOf({ patch: "silhouette", widthMm: 60 });
    const [placement, tackDown, ...artwork] = pieces.slice(0, -1);
    expect([placement.id, tackDown.id]).toEqual(["patch-placement", "patch-tack-down"]);
    const painted = union(artwork.map(({ region }) => region));
    const broad = offset(offset(painted, -2.2, "round"), 2.2, "round");
    const edge = pieces.at(-1)!.region;
    let looked = 0;
    for (const p of broad.flatMap(({ outer }) => outer)) {
      // Bays of the artwork lie inside; there is its own fabric.
      if (nearestOnPolyline(p, closeRing(edge[0].outer)).distance > 2.6) continue;
      const [x, y] = p.map((mm) => Math.floor(mm * sewOut.pxPerMm));
      const step = plan.sewing[sewOut.top[y * sewOut.width + x]];
      expect(step && isSewn(step) ? step.piece : step?.role, `${p}`).toBe("patch-edge");
      looked++;
    }
    expect(looked).toBeGreaterThan(30);
  });

  it("circle: the edge goes once round and on over its own beginning", () => {
    const plan = planOf({ patch: "circle", widthMm: 45, patchGround: GROUND });
    const centre: Point = [plan.size.widthMm / 2, plan.size.heightMm / 2];
    let turned = 0;
    for (const step of plan.sewing) {
      if (!isSewn(step) || step.piece !== "patch-edge" || step.role !== "cover") continue;
      for (let i = 2; i < step.points.length; i += 2) {
        const [a, b] = [i - 2, i].map((k) =>
          Math.atan2(step.points[k + 1] - centre[1], step.points[k] - centre[0]),
        );
        turned += ((b - a + 3 * Math.PI) % (2 * Math.PI)) - Math.PI;
      }
    }
    const beyondMm = (Math.abs(turned) - 2 * Math.PI) * (45 / 2 - DEFAULT_SETTINGS.patchEdgeMm / 2);
    expect(beyondMm).toBeGreaterThan(0.5);
    expect(beyondMm).toBeLessThan(3);
  });

  it("leaves no fabric bare inside its edge where it has a ground", () => {
    const plan = planOf({ patch: "circle", widthMm: 45, patchGround: GROUND });
    const { width, height, pxPerMm, top } = paintSewOut(plan.sewing, plan.size);
    let bare = 0;
    let inside = 0;
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const p: Point = [(x + 0.5) / pxPerMm, (y + 0.5) / pxPerMm];
        if (distance(p, [plan.size.widthMm / 2, plan.size.heightMm / 2]) > 45 / 2 - 0.3) continue;
        inside++;
        if (top[y * width + x] < 0) bare++;
      }
    expect(bare / inside).toBeLessThan(0.01);
  });

  it("leaves out of the ground what the artwork hides, but for the underlap", () => {
    const pond = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 50" width="60mm" height="50mm"><path id="pond" fill="#2f7f92" d="M10 10H40V40H10Z"/></svg>`;
    const wanted = settings({ patch: "outline", patchGround: GROUND });
    const { artwork } = readDrawing(pond, "pond.svg", wanted);
    const groundIn = (list: readonly (typeof artwork.pieces)[number][]) =>
      list.find(({ id }) => id === "patch-ground")!.region;
    const water = artwork.pieces.find(({ id }) => id === "pond")!.region;
    const sewn = groundIn(sequenceOf(artwork, wanted).sequence.pieces);
    const under = regionArea(intersect(sewn, offset(water, -wanted.underlapMm - 0.3)));
    expect(regionArea(intersect(groundIn(artwork.pieces), water))).toBeCloseTo(regionArea(water), 0);
    expect(under).toBeLessThan(0.02 * regionArea(water));
    expect(regionArea(intersect(sewn, water))).toBeGreaterThan(0.1 * regionArea(water));
  });

  it("takes the artwork's darkest colour for its edge, or the thread that is nearest to the colour asked for", () => {
    const edgeOf = (others: Partial<Settings>, threads?: Parameters<typeof readDrawing>[3]) =>
      readDrawing(BADGE, "badge.svg", settings({ patch: "circle", ...others }), threads).artwork.pieces.at(
        -1,
      )!;
    expect(edgeOf({}).colour).toBe("#1c3347");
    expect(edgeOf({ patchEdgeColour: "#B23A3F" }).colour).toBe("#b23a3f");
    const threads = [
      { name: "Reed", code: "12", hex: "#6f8f4a" },
      { name: "Blade", code: "7", hex: "#aa3333" },
    ];
    expect(edgeOf({ patchEdgeColour: "#b23a3f" }, threads)).toMatchObject({
      colour: "#aa3333",
      thread: { name: "Blade", code: "7" },
    });
  });

  it("refuses a width that its edge alone takes up", () => {
    expect(() => artworkOf({ patch: "circle", widthMm: 10 })).toThrow(ArtworkError);
    expect(() => artworkOf({ patch: "circle", widthMm: 10 })).toThrow(/no room for artwork/);
  });

  it("does not take the name of a piece that the artist drew", () => {
    const taken = BADGE.replace('id="stone"', 'id="patch-edge"');
    const { pieces } = readDrawing(taken, "badge.svg", settings({ patch: "circle" })).artwork;
    expect(new Set(pieces.map(({ id }) => id)).size).toBe(pieces.length);
  });

  it("of a drawing in which nothing is sewn is that drawing", () => {
    const empty = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 50" width="60mm" height="50mm"/>`;
    const { artwork } = readDrawing(
      empty,
      "empty.svg",
      settings({ patch: "circle", widthMm: 40, sheetOf: "2x2" }),
    );
    expect(artwork).toMatchObject({ pieces: [], size: { widthMm: 40 } });
  });
});

describe("the cut line", () => {
  it.each(SHAPES)("%s: keeps half a millimetre from the edge, all round and on the page", (patch) => {
    const { pieces, cutLine, size } = artworkOf({ patch, widthMm: 45 });
    const [line] = cutLine!;
    const edge = jstsPolygon(pieces.at(-1)!.region[0]);
    for (const p of line) {
      const away = DistanceOp.distance(edge, jstsPolygon({ outer: [p, [p[0] + 1e-6, p[1]], p], holes: [] }));
      expect(Math.abs((away as number) - 0.5)).toBeLessThan(0.08);
      expect(Math.min(p[0], p[1], size.widthMm - p[0], size.heightMm - p[1])).toBeGreaterThan(-1e-6);
    }
    expect(
      pieces.every(({ region }) => regionArea(intersect(region, ring(line))) > 0.999 * regionArea(region)),
    ).toBe(true);
  });

  it("is a layer of the planned drawing, which strip takes out again, and planning again changes nothing", () => {
    for (const widthMm of [null, 45]) {
      const plan = planOf({ patch: "shield", widthMm });
      const planned = writeLayers(BADGE, plan);
      const paths = all(parseDom(planned), '[data-tuck-role="cut-line"] path');
      expect(paths.length).toBe(2);
      expect(paths.at(-1)?.getAttribute("d")).toMatch(/^M[^M]*Z$/);
      expect(strip(planned)).toBe(BADGE);
      const again = makePlan(planned, "badge.svg", settings({ patch: "shield", widthMm }));
      expect(serialisePlan(again)).toBe(serialisePlan(plan));
      // Its own size is that of the drawing: without the patch it is planned as large as in it.
      expect(again.drawnSize!.widthMm).toBeCloseTo(
        makePlan(planned, "badge.svg", settings({})).size.widthMm,
        5,
      );
    }
  });

  it("is in the plan's JSON, closed, and only where there is a patch", () => {
    const valid = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(PLAN_SCHEMA);
    const { cutLine, ...rest } = JSON.parse(
      serialisePlan(planOf({ patch: "circle", widthMm: 45, patchGround: GROUND })),
    );
    expect(valid({ cutLine, ...rest }), JSON.stringify(valid.errors)).toBe(true);
    expect(cutLine).toHaveLength(1);
    expect(cutLine[0][0]).toEqual(cutLine[0].at(-1));
    expect(JSON.parse(serialisePlan(planOf({})))).not.toHaveProperty("cutLine");
  });
});
