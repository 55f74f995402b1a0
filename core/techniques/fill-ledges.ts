/**
 * Ledges of a row: stretches of outline along it that no row end reaches (`fill-rows.ts`). One where the next row
 * starts at its other end is the step to that row; any other is sewn with its row.
 */
import type { Point } from "../geometry/types.ts";
import type { Ledge, Span } from "./fill-rows.ts";
import type { SewnRow } from "./fill-turns.ts";

/** The end of a step may lie this far from the end of the ledge that it goes along. */
const LEDGE_REACH_MM = 1;

/** A shorter piece of a ledge is left out. */
const LEAST_LEDGE_MM = 0.6;

/** The ledge along which the step from the end of one row to the start of the next may go, in that direction. */
export function ledgeBetween(row: SewnRow, next: SewnRow): { ledge: Ledge; line: readonly Point[] } | null {
  const goesDown = next.span.y > row.span.y;
  for (const [{ span }, side] of [
    [row, goesDown ? "below" : "above"],
    [next, goesDown ? "above" : "below"],
  ] as const)
    for (const ledge of span.ledges) {
      if (ledge.side !== side) continue;
      const left = ledge.line[0][0];
      const right = ledge.line[ledge.line.length - 1][0];
      const isNear = (a: number, b: number): boolean => Math.abs(a - b) < LEDGE_REACH_MM;
      if (isNear(left, row.endX) && isNear(right, next.startX)) return { ledge, line: ledge.line };
      if (isNear(right, row.endX) && isNear(left, next.startX))
        return { ledge, line: [...ledge.line].reverse() };
    }
  return null;
}

/** The ledges of a span, less those sewn otherwise, as far as they lie beside what is sewn from one x to another. */
export function ledgesBeside(
  { ledges }: Span,
  from: number,
  to: number,
  done: readonly (Ledge | undefined)[],
): Point[][] {
  const low = Math.min(from, to);
  const high = Math.max(from, to);
  const lines: Point[][] = [];
  for (const ledge of ledges) {
    if (done.includes(ledge)) continue;
    const line = clipToX(ledge.line, low, high);
    if (line.length < 2 || line[line.length - 1][0] - line[0][0] < LEAST_LEDGE_MM) continue;
    lines.push(from <= to ? line : line.reverse());
  }
  return lines.sort((a, b) => (from <= to ? a[0][0] - b[0][0] : b[0][0] - a[0][0]));
}

/** What of a line that runs from left to right lies between two x. */
function clipToX(line: readonly Point[], low: number, high: number): Point[] {
  const clipped: Point[] = [];
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    if (b[0] <= low || a[0] >= high) continue;
    const at = (x: number): Point => [x, a[1] + ((b[1] - a[1]) * (x - a[0])) / (b[0] - a[0])];
    if (clipped.length === 0) clipped.push(a[0] < low ? at(low) : a);
    clipped.push(b[0] > high ? at(high) : b);
  }
  return clipped;
}
