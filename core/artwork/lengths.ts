/**
 * Lengths to user units, at 96 dpi (CSS Values 4, 6.2: 1in = 96px, 1pc = 16px, 1pt = 4/3 px). An `ex` or `ch`
 * is taken as half an `em`, which CSS allows where the font is not known.
 */

export interface LengthContext {
  readonly fontSizePx: number;
  readonly viewportWidth: number;
  readonly viewportHeight: number;
}

/** What a percentage is of: the viewport's width, its height, or its diagonal over √2 (SVG 2, 8.9). */
export type Axis = "x" | "y" | "other";

const LENGTH = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)(px|pt|pc|mm|cm|in|q|em|rem|ex|ch|vw|vh|%)?$/i;

export const PX_PER_MM = 96 / 25.4;
const ROOT_FONT_SIZE_PX = 16;

const PX_PER_UNIT: Readonly<Record<string, number>> = {
  "": 1,
  px: 1,
  pt: 96 / 72,
  pc: 16,
  in: 96,
  cm: 96 / 2.54,
  mm: PX_PER_MM,
  q: PX_PER_MM / 4,
};

/** A length without em, ex or %, in user units; `null` where it is none. May be infinite («1e999»). */
export function absoluteLength(text: string): number | null {
  const found = LENGTH.exec(text.trim());
  if (found === null) return null;
  const factor = PX_PER_UNIT[(found[2] ?? "").toLowerCase()];
  return factor === undefined ? null : Number(found[1]) * factor;
}

/** Any length in user units; `null` where the text is none. */
export function lengthToUser(text: string, axis: Axis, context: LengthContext): number | null {
  const found = LENGTH.exec(text.trim());
  if (found === null) return null;
  return Number(found[1]) * userPerUnit((found[2] ?? "").toLowerCase(), axis, context);
}

function userPerUnit(unit: string, axis: Axis, context: LengthContext): number {
  switch (unit) {
    case "em":
      return context.fontSizePx;
    case "ex":
    case "ch":
      return context.fontSizePx / 2;
    case "rem":
      return ROOT_FONT_SIZE_PX;
    case "%":
      return percentBase(axis, context) / 100;
    case "vw":
      return context.viewportWidth / 100;
    case "vh":
      return context.viewportHeight / 100;
    default:
      return PX_PER_UNIT[unit];
  }
}

function percentBase(axis: Axis, { viewportWidth, viewportHeight }: LengthContext): number {
  if (axis === "x") return viewportWidth;
  if (axis === "y") return viewportHeight;
  return Math.hypot(viewportWidth, viewportHeight) / Math.SQRT2;
}

/** Numbers separated by white space and commas, up to the first that is none. */
export function numberList(text: string): { numbers: number[]; rest: string } {
  const numbers: number[] = [];
  const next = /[\s,]*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)/y;
  let at = 0;
  for (let found = next.exec(text); found !== null; found = next.exec(text)) {
    numbers.push(Number(found[1]));
    at = next.lastIndex;
  }
  return { numbers, rest: text.slice(at).trim() };
}
