/**
 * Shapes at the edges of geometry, as path data within 100 by 100: curves that fill the plane, outlines of endless
 * detail, combs, stars that cross themselves. Constructions from mathematics, each with its source; from memory.
 */
import type { Point } from "../../core/geometry/types.ts";

const numbers = (value: number): string => String(Number(value.toFixed(4)));

/** Path data through points; closed unless said otherwise. */
export const pathThrough = (points: readonly Point[], isClosed = true): string =>
  `M${points.map((p) => p.map(numbers).join(" ")).join("L")}${isClosed ? "z" : ""}`;

const polar = (radius: number, angleRad: number): Point => [
  50 + radius * Math.cos(angleRad),
  50 + radius * Math.sin(angleRad),
];

/** What a turtle draws: `F` a step forward, `+` and `−` turns; fitted into the page. */
function drawn(commands: string, turnRad: number): Point[] {
  const points: Point[] = [[0, 0]];
  let angle = 0;
  for (const command of commands) {
    const [x, y] = points[points.length - 1];
    if (command === "F") points.push([x + Math.cos(angle), y + Math.sin(angle)]);
    else if (command === "+") angle += turnRad;
    else if (command === "-") angle -= turnRad;
  }
  return fitted(points);
}

/** Moved and scaled to lie within 5 to 95 both ways. */
function fitted(points: readonly Point[]): Point[] {
  const range = (axis: 0 | 1) => {
    const values = points.map((p) => p[axis]);
    const least = values.reduce((a, b) => Math.min(a, b));
    return [least, values.reduce((a, b) => Math.max(a, b)) - least];
  };
  const [[minX, width], [minY, height]] = [range(0), range(1)];
  const scale = 90 / Math.max(width, height);
  return points.map(([x, y]): Point => [5 + (x - minX) * scale, 5 + (y - minY) * scale]);
}

/** Rules applied to every letter at once, again and again (Lindenmayer 1968). */
function grown(axiom: string, rules: Readonly<Record<string, string>>, times: number): string {
  let word = axiom;
  for (let n = 0; n < times; n++) word = [...word].map((letter) => rules[letter] ?? letter).join("");
  return word;
}

/** The snowflake of von Koch (1904): each edge gets a smaller triangle, so many times. */
export const snowflake = (times: number): Point[] =>
  drawn(grown("F++F++F", { F: "F-F++F-F" }, times), Math.PI / 3);

/** Hilbert's curve (1891), a line through all cells of a square. */
export const hilbertLine = (times: number): Point[] =>
  drawn(grown("A", { A: "+BF-AFA-FB+", B: "-AF+BFB+FA-" }, times), Math.PI / 2);

/** The dragon curve (Heighway 1966): as a closed outline it touches itself at most of its corners. */
export const dragon = (times: number): Point[] =>
  drawn(grown("FX", { X: "X+YF+", Y: "-FX-Y" }, times), Math.PI / 2);

/** A band that winds inwards (Archimedes), so wide and so far from itself. */
export function spiralBand(turns: number, widthShare: number): Point[] {
  const pitch = 42 / turns;
  const edge = (offset: number): Point[] =>
    Array.from({ length: turns * 48 + 1 }, (_, k) => {
      const turn = k / 48;
      return polar(3 + pitch * turn + offset, turn * 2 * Math.PI);
    });
  return [...edge(0), ...edge(pitch * widthShare).reverse()];
}

/** A bar with so many teeth, each as wide as the gap beside it. */
export function comb(teeth: number): Point[] {
  const step = 90 / (2 * teeth);
  const points: Point[] = [[5, 30]];
  for (let k = 0; k < teeth; k++) {
    const x = 5 + 2 * k * step;
    points.push([x, 70], [x + step, 70], [x + step, 32], [x + 2 * step, 32]);
  }
  return [...points, [95, 30]];
}

/** The star polygon {points/step} (Schläfli): every edge crosses others. */
export const star = (points: number, step: number, radius = 45): Point[] =>
  Array.from({ length: points }, (_, k) => polar(radius, ((k * step) / points) * 2 * Math.PI));

/** Rings in one another, so many, alternately filled by the even-odd rule. */
export const nestedRings = (count: number): string =>
  Array.from({ length: count }, (_, k) => pathThrough(star(40, 1, 45 * (1 - k / count)))).join("");
