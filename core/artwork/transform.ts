/**
 * The `transform` attribute, and what is simple of the CSS property: a list of functions, applied from the
 * right (SVG 2, 8.5; CSS Transforms 1). Lengths may carry px and other absolute units, angles deg, grad, rad
 * and turn; without a unit they are user units and degrees.
 */
import type { Matrix } from "../geometry/types.ts";
import { absoluteLength } from "./lengths.ts";
import { IDENTITY, multiply, scaling, translation } from "./matrix.ts";

const FUNCTION = /\s*,?\s*([a-zA-Z]+)\s*\(([^)]*)\)/y;
const DEGREES: Readonly<Record<string, number>> = {
  deg: 1,
  grad: 0.9,
  rad: 180 / Math.PI,
  turn: 360,
};

/** The matrix of a transform list, or `null` where the list is in error (then SVG ignores the whole of it). */
export function parseTransform(text: string): Matrix | null {
  const list = text.trim();
  if (list === "" || list === "none") return IDENTITY;
  let matrix = IDENTITY;
  FUNCTION.lastIndex = 0;
  let at = 0;
  while (at < list.length) {
    FUNCTION.lastIndex = at;
    const found = FUNCTION.exec(list);
    if (found === null) return null;
    at = FUNCTION.lastIndex;
    const step = oneTransform(found[1], found[2].trim() === "" ? [] : found[2].trim().split(/\s*,\s*|\s+/));
    if (step === null) return null;
    matrix = multiply(matrix, step);
  }
  return matrix;
}

function oneTransform(name: string, args: readonly string[]): Matrix | null {
  const lengths = args.map((arg) => absoluteLength(arg) ?? Number.NaN);
  const [x, y, z] = lengths;
  const count = (...allowed: number[]) => allowed.includes(args.length);
  const angle = degrees(args[0] ?? "");
  const wholeName = name.toLowerCase();
  switch (wholeName) {
    case "matrix":
      return count(6) && lengths.every((n) => !Number.isNaN(n)) ? (lengths as unknown as Matrix) : null;
    case "translate":
      return count(1, 2) ? valid(translation(x, y ?? 0)) : null;
    case "translatex":
      return count(1) ? valid(translation(x, 0)) : null;
    case "translatey":
      return count(1) ? valid(translation(0, x)) : null;
    case "scale":
      return count(1, 2) ? valid(scaling(x, y ?? x)) : null;
    case "scalex":
      return count(1) ? valid(scaling(x, 1)) : null;
    case "scaley":
      return count(1) ? valid(scaling(1, x)) : null;
    case "rotate":
      if (count(1)) return valid(rotation(angle));
      return count(3)
        ? valid(multiply(translation(y, z), multiply(rotation(angle), translation(-y, -z))))
        : null;
    case "skewx":
      return count(1) ? valid([1, 0, Math.tan(radians(angle)), 1, 0, 0]) : null;
    case "skewy":
      return count(1) ? valid([1, Math.tan(radians(angle)), 0, 1, 0, 0]) : null;
    default:
      return null;
  }
}

const valid = (m: Matrix): Matrix | null => (m.some(Number.isNaN) ? null : m);

const radians = (angleDeg: number): number => (angleDeg * Math.PI) / 180;

/** Quarter turns come out exact, so that an upright rectangle stays upright. */
function rotation(angleDeg: number): Matrix {
  const quarters = angleDeg / 90;
  const exact = Number.isInteger(quarters);
  const cos = exact ? [1, 0, -1, 0][((quarters % 4) + 4) % 4] : Math.cos(radians(angleDeg));
  const sin = exact ? [0, 1, 0, -1][((quarters % 4) + 4) % 4] : Math.sin(radians(angleDeg));
  return [cos, sin, -sin, cos, 0, 0];
}

function degrees(text: string): number {
  const found = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)(deg|grad|rad|turn)?$/i.exec(text);
  return found === null ? Number.NaN : Number(found[1]) * (DEGREES[found[2]?.toLowerCase() ?? "deg"] ?? 1);
}
