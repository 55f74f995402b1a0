import { type Drawing, drawingNames, readDrawing } from "./drawing-sets.ts";

const SETS = ["emoji", "icons"];
const FROM_EACH = 40;

/** A fixed sample of 80 real drawings: 40 of each open set, spread evenly over its sorted list. */
export const sampleFiles = (): Drawing[] =>
  SETS.flatMap((set) => {
    const names = drawingNames(set);
    return Array.from({ length: FROM_EACH }, (_, i) =>
      readDrawing(set, names[Math.floor((i * names.length) / FROM_EACH)]),
    );
  });
