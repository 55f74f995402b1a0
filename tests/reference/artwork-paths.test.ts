/**
 * Lengths, bounds and points of paths, against two general-purpose path libraries that share nothing with the
 * core: svg-path-properties (lengths and points, by quadrature) and svgpath (absolute commands, transforms).
 */
import { svgPathProperties } from "svg-path-properties";
import svgpath from "svgpath";
import { describe, expect, it } from "vitest";
import { flatten } from "../../core/artwork/flatten.ts";
import { IDENTITY } from "../../core/artwork/matrix.ts";
import { readPathData } from "../../core/artwork/path-data.ts";
import { readShape } from "../../core/artwork/shapes.ts";
import { parseTransform } from "../../core/artwork/transform.ts";
import { boxOf } from "../../core/geometry/point.ts";
import { nearestOnPolyline, polylineLength } from "../../core/geometry/polyline.ts";
import type { Matrix, Point } from "../../core/geometry/types.ts";

const TOLERANCE = 0.01;

/** A small generator of even spread: mulberry32. */
function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const ARGUMENTS: Readonly<Record<string, number>> = { L: 2, H: 1, V: 1, C: 6, S: 4, Q: 4, T: 2 };

/** One subpath of every kind of command, absolute and relative. */
function randomPath(seed: number): string {
  const random = randomFrom(seed);
  const number = (size: number) => ((random() - 0.3) * size).toFixed(2);
  let d = `M${number(100)} ${number(100)}`;
  let last = "M";
  for (let i = 0; i < 8; i++) {
    const drawn = "LHVCSQTA"[Math.floor(random() * 8)];
    // A T that follows no Q begins a chain of mirrored points, which svg-path-properties takes for lines.
    const code = drawn === "T" && !/[QT]/.test(last) ? "Q" : drawn;
    last = code;
    const relative = random() < 0.5;
    const size = relative ? 40 : 100;
    const args =
      code === "A"
        ? [5 + random() * 60, 5 + random() * 60, random() * 180, Math.round(random()), Math.round(random())]
            .map((n) => n.toFixed(2).replace(/\.00$/, ""))
            .concat(number(size), number(size))
        : Array.from({ length: ARGUMENTS[code] }, () => number(size));
    d += (relative ? code.toLowerCase() : code) + args.join(" ");
  }
  return d;
}

const flat = (d: string, matrix: Matrix = IDENTITY): readonly Point[] =>
  flatten(readPathData(d).outline, matrix, TOLERANCE).flatMap(({ points }) => points);

describe("random paths", () => {
  const paths = Array.from({ length: 60 }, (_, seed) => randomPath(seed + 1));

  it("are as long as svg-path-properties says", () => {
    for (const d of paths) {
      const expected = new svgPathProperties(d).getTotalLength();
      expect(Math.abs(polylineLength(flat(d)) / expected - 1), d).toBeLessThan(0.002);
    }
  });

  it("run through its points, within the tolerance", () => {
    for (const d of paths) {
      const other = new svgPathProperties(d);
      const line = flat(d);
      const length = other.getTotalLength();
      for (let k = 0; k <= 40; k++) {
        const { x, y } = other.getPointAtLength((length * k) / 40);
        // Its points come from a numeric inverse of length, right to some thousandths.
        expect(nearestOnPolyline([x, y], line).distance, d).toBeLessThan(TOLERANCE + 0.005);
      }
    }
  });

  it("mean the same once svgpath has made every command absolute and unshortened", () => {
    for (const d of paths) {
      const other = svgpath(d).abs().unshort().toString();
      const [a, b] = [boxOf(flat(d)), boxOf(flat(other))];
      for (const key of ["minX", "minY", "maxX", "maxY"] as const) expect(a[key]).toBeCloseTo(b[key], 6);
    }
  });

  it("come to lie where svgpath's transforms put them", () => {
    const transform = "translate(30, -20) rotate(25 10 10) skewX(15) scale(1.5 -0.7) matrix(1 .2 -.3 1 4 5)";
    const matrix = parseTransform(transform);
    for (const d of paths) {
      const other = svgpath(d).transform(transform).toString();
      const [a, b] = [flat(d, matrix ?? IDENTITY), flat(other)];
      for (let i = 0; i < b.length; i += 7)
        expect(nearestOnPolyline(b[i], a).distance).toBeLessThan(2 * TOLERANCE);
    }
  });
});

/** Figures of the W3C's web-platform-tests, at commits 23f067b9 and 0e796494. */
describe("web-platform-tests", () => {
  it("svg/path/error-handling/bounding.svg: paths with errors are drawn up to them", () => {
    const drawn = [
      { d: "m 0 0 l 3 -4 z # oar v 123", at: [60, 40] },
      { d: "m 0 0 l -9 11 -123 z # oar", at: [40, 60] },
      { d: "# oar", at: [70, 30] },
      { d: "none", at: [80, 20] },
    ];
    const points = drawn.flatMap(({ d, at }) => flat(d, [1, 0, 0, 1, at[0], at[1]]));
    const { minX, minY, maxX, maxY } = boxOf(points);
    expect([minX, minY, maxX - minX, maxY - minY]).toEqual([31, 36, 32, 35]);
  });

  it.each([
    ["path", { d: "M0,0L100,0L100,100" }, 200],
    ["path", { d: 'path("M0,0L100,0L100,100")' }, 200],
    ["rect", { x: "0", y: "0", width: "50", height: "50" }, 200],
    ["polygon", { points: "0,0 50,0 50,50 0,50" }, 200],
    ["polyline", { points: "0,0 50,0 50,50 0,50 0,0" }, 200],
    ["circle", { cx: "0", cy: "0", r: "50" }, 314.159],
    ["ellipse", { cx: "0", cy: "0", rx: "50", ry: "50" }, 314.159],
  ])("svg/types/scripted/SVGGeometryElement.getTotalLength-03.svg: %s %j", (name, properties, length) => {
    const values: Readonly<Record<string, string | undefined>> = properties;
    const lengths = { fontSizePx: 16, viewportWidth: 100, viewportHeight: 100 };
    const { outline } = readShape(name, (key) => values[key], lengths);
    const [{ points, closed }] = flatten(outline, IDENTITY, 1e-4);
    const line = closed ? [...points, points[0]] : points;
    expect(polylineLength(line)).toBeCloseTo(length, length === 200 ? 9 : 2);
  });
});
