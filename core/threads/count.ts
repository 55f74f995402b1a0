/**
 * How thick a thread is, by weight and length: its count.
 *
 * Direct counts grow with thickness: tex is grams in 1,000 m, denier grams in 9,000 m. Indirect counts shrink
 * with it: Nm is kilometres in a kilogram, Ne (cotton) hanks of 840 yards in a pound. A ticket number is three
 * times the indirect count of the thread as it is plied (metric tickets by Nm, cotton tickets by Ne).
 * Definitions: ISO 1144 (tex), ISO 2947 (the rest); tickets: common practice of the thread trade.
 */

const GRAMS_IN_POUND = 453.59237;
const METRES_IN_HANK = 840 * 0.9144;
/** tex × Ne: 590.541… */
const TEX_NE = (1000 * GRAMS_IN_POUND) / METRES_IN_HANK;
const TICKETS_IN_COUNT = 3;

/** Direct: `tex = count / perTex`. Indirect: `tex = product / count`. */
const COUNTS = {
  tex: { kind: "direct", perTex: 1 },
  denier: { kind: "direct", perTex: 9 },
  Nm: { kind: "indirect", product: 1000 },
  Ne: { kind: "indirect", product: TEX_NE },
  "metric ticket": { kind: "indirect", product: TICKETS_IN_COUNT * 1000 },
  "cotton ticket": { kind: "indirect", product: TICKETS_IN_COUNT * TEX_NE },
} as const;

/** A way of saying how thick a thread is. */
export type Count = keyof typeof COUNTS;

/**
 * The same thickness in another count: `convertCount(60, "Nm", "tex")` is 16.67.
 *
 * @param value above 0
 */
export function convertCount(value: number, from: Count, to: Count): number {
  requirePositive(value);
  const source = COUNTS[from];
  const target = COUNTS[to];
  const tex = source.kind === "direct" ? value / source.perTex : source.product / value;
  return target.kind === "direct" ? tex * target.perTex : target.product / tex;
}

/**
 * The count of a thread plied from equal yarns: `resultantCount(80, 2, "Nm")`, written Nm 80/2, is 40. The
 * little that twist shortens it is left out.
 *
 * @param single count of one yarn, above 0
 * @param plies how many, above 0
 */
export function resultantCount(single: number, plies: number, count: "tex" | "denier" | "Nm" | "Ne"): number {
  requirePositive(single);
  requirePositive(plies);
  return COUNTS[count].kind === "direct" ? single * plies : single / plies;
}

function requirePositive(value: number): void {
  if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`a count is above 0, not ${value}`);
}
