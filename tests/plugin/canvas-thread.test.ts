/** Thread painted on the canvas: it looks like the picture of the sew-out, and the player may go anywhere in it. */
import { expect, it } from "vitest";
import { pictureSvg } from "../../core/output/picture.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { type NeedleTrack, trackOf } from "../../plugin/canvas/needle-track.ts";
import { PixelSheet } from "../../plugin/canvas/pixel-sheet.ts";
import { Swath } from "../../plugin/canvas/swath.ts";
import { lineBrush } from "../../plugin/canvas/thread-brush.ts";
import type { SheetView } from "../../plugin/canvas/thread-layer.ts";
import { ThreadPainter } from "../../plugin/canvas/thread-painter.ts";
import { outlineSheet, threadLayer } from "../../plugin/canvas/thread-scene.ts";
import { svgToPixels } from "../support/png.ts";
import { svg } from "../support/read.ts";

/** A dark reed before the water, and a run of reed stems upon both. */
const POND = svg(`
  <path id="water" fill="#2f7f92" d="M4 12C10 8 16 16 26 11V24H4Z"/>
  <path id="reed" fill="#6f8f4a" d="M9 2L12 2L14 20L8 20Z"/>
  <path id="stem" fill="none" stroke="#1c3347" stroke-width="0.4" d="M20 4L18 22"/>`);

const plan = makePlan(POND, "pond.svg", DEFAULT_SETTINGS);
const track = trackOf(plan);
const ALL_AT_ONCE = () => true;

const same = (a: Uint8ClampedArray, b: Uint8ClampedArray): boolean =>
  Buffer.from(a.buffer).equals(Buffer.from(b.buffer));

const viewAt = (pxPerMm: number, left = 0, top = 0, width = 300, height = 260): SheetView => ({
  width,
  height,
  toPx: [pxPerMm, 0, 0, pxPerMm, -left * pxPerMm, -top * pxPerMm],
  pxPerCssPx: 1,
});

function painted(view: SheetView, upTo: number, name: "sew-out" | "stitches" = "sew-out"): Uint8ClampedArray {
  const layer = threadLayer(track, view, name);
  layer.paint(upTo, false, ALL_AT_ONCE);
  return layer.sheet.data;
}

it("paints what resvg draws of the same plan's picture", () => {
  // Source: resvg, a rasteriser that shares nothing with ours, drawing the picture that core/output writes. Oars
  // in every direction that do not touch: where threads cross, the two lay light and dark in another order.
  const oars = svg(
    Array.from({ length: 6 }, (_, k) => {
      const angle = (Math.PI * k) / 6;
      const [x, y] = [15 + 30 * (k % 3), 25 + 40 * Math.floor(k / 3)];
      const [dx, dy] = [Math.cos(angle) * 12, Math.sin(angle) * 12];
      return `<path id="oar-${k}" fill="none" stroke="#d9a441" stroke-width="0.4" d="M${x - dx} ${y - dy}L${x + dx} ${y + dy}"/>`;
    }).join(""),
  );
  const oarPlan = makePlan(oars, "oars.svg", { ...DEFAULT_SETTINGS, tieCount: 0 });
  const layer = threadLayer(trackOf(oarPlan), viewAt(20, 0, 0, 2000, 2000), "sew-out");
  layer.paint(trackOf(oarPlan).count, false, ALL_AT_ONCE);
  const ours = layer.sheet.data;
  const { rgba } = svgToPixels(pictureSvg(oarPlan, { fabricColour: "#ffffff" }), 2000);
  let difference = 0;
  let sewn = 0;
  for (let i = 0; i < rgba.length; i += 4) {
    if (ours[i + 3] < 255) continue;
    sewn++;
    for (let c = 0; c < 3; c++) difference += Math.abs(ours[i + c] - rgba[i + c]) / 3;
  }
  expect(sewn).toBeGreaterThan(20_000);
  expect(difference / sewn).toBeLessThan(5);
});

it("leaves the same picture whichever way the player came to a place", () => {
  const view = viewAt(9);
  const layer = threadLayer(track, view, "sew-out");
  for (const place of [track.count, 40, 300, 0, 120, 119, track.count]) {
    layer.paint(place, true, ALL_AT_ONCE);
    expect(same(layer.sheet.data, painted(view, place))).toBe(true);
  }
});

it("paints in slices what it would paint at once", () => {
  const view = viewAt(9);
  const layer = threadLayer(track, view, "stitches");
  let looks = 0;
  while (!layer.paint(track.count, false, () => false)) looks++;
  expect(looks).toBeGreaterThan(2);
  expect(same(layer.sheet.data, painted(view, track.count, "stitches"))).toBe(true);
});

it("tells which part of the sheet a few stitches touched", () => {
  const view = viewAt(9);
  const layer = threadLayer(track, view, "sew-out");
  layer.paint(100, true, ALL_AT_ONCE);
  layer.sheet.takeTouched();
  const before = layer.sheet.copy();
  layer.paint(104, true, ALL_AT_ONCE);
  const box = layer.sheet.takeTouched()!;
  const { data, width, height } = layer.sheet;
  let changedOutside = 0;
  for (let i = 0; i < data.length; i += 4) {
    const [x, y] = [(i / 4) % width, Math.floor(i / 4 / width)];
    const isInside = x >= box.left && x < box.right && y >= box.top && y < box.bottom;
    if (!isInside && (data[i] !== before[i] || data[i + 3] !== before[i + 3])) changedOutside++;
  }
  expect(changedOutside).toBe(0);
  expect((box.right - box.left) * (box.bottom - box.top)).toBeLessThan((width * height) / 10);
});

it("covers as much as a line of that width and length does", () => {
  // Source: geometry. A capsule of width w and length l has the area w·l + π·w²/4.
  for (const [dx, dy] of [
    [40, 0],
    [0, 33],
    [21, -17],
    [-9, 30],
    [0, 0],
  ]) {
    const sheet = new PixelSheet(120, 120);
    lineBrush("#000000", 6)(sheet, 60.3, 59.8, 60.3 + dx, 59.8 + dy);
    let area = 0;
    for (let i = 3; i < sheet.data.length; i += 4) area += sheet.data[i] / 255;
    const exact = 6 * Math.hypot(dx, dy) + (Math.PI * 36) / 4;
    expect(area / exact).toBeCloseTo(1, 1);
  }
});

it("finds every pixel within reach of a stitch, and says rightly how far it is", () => {
  const swath = new Swath();
  const [x0, y0, x1, y1, reach] = [12.3, 30.1, 41.7, 9.4, 5];
  swath.lay(x0, y0, x1, y1, reach, 60, 50);
  const found = new Map<string, number>();
  for (let y = swath.firstRow; y <= swath.lastRow; y++) {
    if (!swath.row(y)) continue;
    for (let x = swath.from; x <= swath.to; x++) {
      const on = x - swath.from;
      found.set(`${x} ${y}`, swath.distance(swath.along + on * swath.ux, swath.across - on * swath.uy));
    }
  }
  let wrong = 0;
  for (let y = 0; y < 50; y++) {
    for (let x = 0; x < 60; x++) {
      const distance = distanceToSegment(x + 0.5, y + 0.5, x0, y0, x1, y1);
      const known = found.get(`${x} ${y}`);
      if (known === undefined ? distance < reach : Math.abs(known - distance) > 1e-9) wrong++;
    }
  }
  expect(wrong).toBe(0);
  expect(found.size).toBeGreaterThan(2 * reach * Math.hypot(x1 - x0, y1 - y0) * 0.9);
});

it("outlines what is pointed at: ink around it, clear within", () => {
  const water = track.spans.filter(({ piece, role }) => piece === "water" && role === "cover");
  const view = viewAt(9);
  const sheet = outlineSheet(
    track,
    view,
    water.map(({ first, end }) => [first, end] as const),
  );
  const alphaAt = (xMm: number, yMm: number) =>
    sheet.data[4 * (Math.round(yMm * 9) * sheet.width + Math.round(xMm * 9)) + 3];
  expect(alphaAt(20, 20)).toBe(0);
  const row = Array.from({ length: 60 }, (_, i) => alphaAt(24 + i / 9, 18));
  expect(Math.max(...row)).toBe(255);
  expect(row.at(-1)).toBe(0);
});

it("answers the newest scene, and only with what changed", async () => {
  const shown: { layer: string; at: number; isWhole: boolean; serial: number }[] = [];
  const painter = new ThreadPainter({
    now: () => 0,
    turn: async () => {},
    show: async ({ layer, at, isWhole, serial }) => void shown.push({ layer, at, isWhole, serial }),
  });
  await painter.take({ serial: 1, track, view: viewAt(6) });
  expect(shown).toEqual([]);
  await painter.take({ serial: 2, sewOut: 50, isScrubbed: true });
  expect(shown).toEqual([{ layer: "sew-out", at: 50, isWhole: true, serial: 2 }]);
  await painter.take({ serial: 3, sewOut: 54 });
  expect(shown.at(-1)).toEqual({ layer: "sew-out", at: 54, isWhole: false, serial: 3 });
  // Asked again while it works, it goes straight on to the last.
  await Promise.all([4, 5, 6].map((serial) => painter.take({ serial, sewOut: 50 + serial * 10 })));
  expect(shown.at(-1)).toMatchObject({ at: 110, serial: 6 });
  expect(shown.some(({ at }) => at === 100)).toBe(false);
});

it("needs no stitches at all", () => {
  const empty: NeedleTrack = { count: 0, ends: new Float32Array(), spans: [] };
  const layer = threadLayer(empty, viewAt(5), "sew-out");
  expect(layer.paint(0, true, ALL_AT_ONCE)).toBe(true);
  expect(layer.sheet.data.every((v) => v === 0)).toBe(true);
});

function distanceToSegment(x: number, y: number, x0: number, y0: number, x1: number, y1: number): number {
  const [dx, dy] = [x1 - x0, y1 - y0];
  const t = Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(x - x0 - t * dx, y - y0 - t * dy);
}
