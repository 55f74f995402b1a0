/**
 * Numbers as lines, so that they show wherever the drawing is opened, with or without fonts. The figures are
 * angular, as painted with a stencil on an oar's blade; each stands on a grid of our own, 6 units high.
 */
import type { Point, Polyline } from "../geometry/types.ts";

const GRID_HEIGHT = 6;
const GAP = 2.2;

interface Figure {
  readonly width: number;
  readonly line: readonly Point[];
}

/** From 0 to 9, each one stroke; x right, y down from the figure's top left corner. */
const FIGURES: readonly Figure[] = [
  figure(4, "1,0 3,0 4,1 4,5 3,6 1,6 0,5 0,1 1,0"),
  figure(1.5, "0,1.2 1.5,0 1.5,6"),
  figure(4, "0,1 1,0 3,0 4,1 4,2.2 0,6 4,6"),
  figure(4, "0,0 4,0 1.8,2.4 3,2.4 4,3.4 4,5 3,6 1,6 0,5"),
  figure(4, "3,6 3,0 0,4.2 4,4.2"),
  figure(4, "4,0 0.4,0 0,2.6 3,2.6 4,3.6 4,5 3,6 1,6 0,5.2"),
  figure(4, "3.4,0 1.6,0.8 0,3.4 0,5 1,6 3,6 4,5 4,3.8 3,2.9 0.4,2.9"),
  figure(4, "0,0 4,0 1.4,6"),
  figure(4, "1,2.9 0,2 0,1 1,0 3,0 4,1 4,2 3,2.9 1,2.9 0,3.9 0,5 1,6 3,6 4,5 4,3.9 3,2.9"),
  figure(4, "3.6,3.1 1,3.1 0,2.2 0,1 1,0 3,0 4,1 4,2.6 2.4,5.2 0.6,6"),
];

function figure(width: number, points: string): Figure {
  const line = points.split(" ").map((pair): Point => {
    const [x, y] = pair.split(",").map(Number);
    return [x, y];
  });
  return { width, line };
}

/** A whole number, not negative, as lines `heightMm` high whose middle is at `centre`. */
export function numberLines(value: number, centre: Point, heightMm: number): Polyline[] {
  const unit = heightMm / GRID_HEIGHT;
  const figures = Array.from(String(value), (digit) => FIGURES[Number(digit)]);
  const width = figures.reduce((sum, { width }) => sum + width, 0) + GAP * (figures.length - 1);
  let left = centre[0] - (width * unit) / 2;
  const top = centre[1] - heightMm / 2;
  return figures.map(({ width, line }) => {
    const placed = line.map(([x, y]): Point => [left + x * unit, top + y * unit]);
    left += (width + GAP) * unit;
    return placed;
  });
}
