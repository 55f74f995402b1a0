/**
 * Elliptical arcs. The figures are those of the tests of nfroidure/svg-pathdata (MIT: arcannotate and
 * arctocurve) and of the README of zjffun/svg-arc-center-endpoint; the formulas are in SVG 2's implementation
 * notes, which hold no worked example.
 */
import { describe, expect, it } from "vitest";
import { centreOfArc } from "../../core/artwork/arc.ts";
import { flatten } from "../../core/artwork/flatten.ts";
import { IDENTITY } from "../../core/artwork/matrix.ts";
import type { ArcSegment } from "../../core/artwork/outline.ts";
import { readPathData } from "../../core/artwork/path-data.ts";
import { nearestOnPolyline } from "../../core/geometry/polyline.ts";

describe("an arc's centre, radii and angles", () => {
  it.each([
    ["M80 80 A 45 45 0 0 0 125 125", 125, 80, 45, 45, 180, -90],
    ["M230 80 a 45 45 0 1 0 45 45", 230, 125, 45, 45, 270, -270],
    ["M230 80 a 45 45 0 0 1 45 45", 230, 125, 45, 45, 270, 90],
    // Radii too small for the chord.
    [
      "M110 215 A 30 50 0 1 1 162.55 162.45",
      136.275,
      188.725,
      30.64165220741206,
      51.069420345686765,
      149.03624346792648,
      180,
    ],
  ])("%s", (d, cx, cy, rx, ry, startDeg, sweepDeg) => {
    const [{ start, segments }] = readPathData(d).outline;
    const arc = centreOfArc(start, segments[0] as ArcSegment);
    const degrees = (rad = Number.NaN) => (rad * 180) / Math.PI;
    expect(arc?.centre[0]).toBeCloseTo(cx, 6);
    expect(arc?.centre[1]).toBeCloseTo(cy, 6);
    expect(arc?.rx).toBeCloseTo(rx, 6);
    expect(arc?.ry).toBeCloseTo(ry, 6);
    expect((degrees(arc?.startRad) + 360) % 360).toBeCloseTo(startDeg, 5);
    expect(degrees(arc?.sweepRad)).toBeCloseTo(sweepDeg, 5);
  });

  it("of an arc given to three decimals", () => {
    const [{ start, segments }] = readPathData("M143.301 125 A 50 50 0 0 1 100 150").outline;
    const arc = centreOfArc(start, segments[0] as ArcSegment);
    expect(arc?.centre[0]).toBeCloseTo(100, 2);
    expect(arc?.centre[1]).toBeCloseTo(100, 2);
    expect(((arc?.sweepRad ?? 0) * 180) / Math.PI).toBeCloseTo(60, 2);
  });
});

describe("an arc and the Béziers that stand for it run together", () => {
  it.each([
    ["M80 80", "A 45 45 0 0 0 125 125", "C80 104.8528137423857 100.1471862576143 125 125 125"],
    [
      "M230 80",
      "A 45 45 0 1 0 275 125",
      "C205.1471862576143 80 185 100.1471862576143 185 125C185 149.8528137423857 205.1471862576143 170 230 170C254.8528137423857 170 275 149.8528137423857 275 125",
    ],
    ["M50 50", "A 30 30 0 0 1 80 80", "C66.5685424949238 50 80 63.4314575050762 80 80"],
    [
      "M0 0",
      "A 50 50 0 0 1 100 0",
      "C0 -27.6142374915397 22.3857625084603 -50 50 -50C77.6142374915397 -50 100 -27.6142374915397 100 0",
    ],
    [
      "M30 30",
      "A 30 30 90 0 0 30 80",
      "C21.6206442862417 35.5582357774914 16.583123951777 44.9447731434901 16.583123951777 55C16.583123951777 65.0552268565099 21.6206442862417 74.4417642225086 30 80",
    ],
    [
      "M50 50",
      "A 30 15 45 0 1 100 100",
      "C54.465819873852 45.534180126148 63.3573806914169 46.172565470658 73.3253175473055 51.6746824526945C83.2932544031941 57.1767994347311 92.8232005652689 66.7067455968059 98.3253175473055 76.6746824526945C103.827434529342 86.6426193085831 104.465819873852 95.534180126148 100 100",
    ],
  ])("%s %s", (start, arc, cubic) => {
    const points = (d: string) => flatten(readPathData(start + d).outline, IDENTITY, 1e-3)[0].points;
    const [ofArc, ofCubic] = [points(arc), points(cubic)];
    // A cubic strays from its quarter circle by at most 2.73e-4 of the radius (Goldapp 1991; value from memory).
    const allowed = 2.8e-4 * 50 + 2e-3;
    for (const p of ofCubic) expect(nearestOnPolyline(p, ofArc).distance).toBeLessThan(allowed);
    for (const p of ofArc) expect(nearestOnPolyline(p, ofCubic).distance).toBeLessThan(allowed);
  });
});
