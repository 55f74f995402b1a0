/**
 * `sequence` against TSPLIB's sequential ordering problems (G. Reinelt, «TSPLIB 95», Heidelberg, 1995; the ESC
 * problems by L. F. Escudero and N. Ascheuer, br17 by N. Ascheuer). The matrices are TSPLIB's, −1 in row i,
 * column j meaning that j must precede i; the optima are those of the published tables. Each order is checked by
 * hand, independently of the solver: every node once, precedence kept, costs added up.
 */
import { describe, expect, test } from "vitest";
import { EXACT_PIECES, sequence } from "../../core/sequence/sequence.ts";
import { type SopProblem, sopFromMatrix, sopFromText } from "../support/sop-file.ts";

const ESC07 = `
  0 0 0 0 0 0 0 0 1000000
  -1 0 100 200 75 0 300 100 0
  -1 400 0 500 325 400 600 0 0
  -1 700 800 0 550 700 900 800 0
  -1 -1 250 225 0 275 525 250 0
  -1 -1 100 200 -1 0 -1 -1 0
  -1 -1 1100 1200 1075 1000 0 1100 0
  -1 -1 0 500 325 400 600 0 0
  -1 -1 -1 -1 -1 -1 -1 -1 0`;

const ESC11 = `
  0 0 0 0 0 0 0 0 0 0 0 0 1000000
  -1 0 387 440 682 657 584 688 708 362 357 927 0
  -1 -1 0 10 935 439 127 769 498 836 341 956 0
  -1 -1 -1 0 596 865 70 513 512 373 824 220 0
  -1 319 277 439 0 428 212 412 771 620 651 605 0
  -1 -1 -1 60 988 0 326 279 687 295 738 270 0
  -1 312 158 704 881 696 0 277 413 396 268 156 0
  -1 512 939 784 271 432 771 0 279 436 31 444 0
  -1 875 927 364 629 419 788 923 0 858 761 139 0
  -1 365 43 766 924 845 437 395 991 0 980 359 0
  -1 978 839 918 822 885 276 96 537 211 0 608 0
  -1 864 168 211 455 543 904 412 535 954 971 0 0
  -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 0`;

const ESC12 = `
  0 0 0 0 0 0 0 0 0 0 0 0 0 1000000
  -1 0 364 354 287 229 289 68 137 239 135 373 162 0
  -1 364 0 276 352 143 88 395 222 457 332 202 217 0
  -1 354 276 0 527 135 201 412 391 583 481 279 207 0
  -1 287 352 527 0 377 407 285 138 310 200 525 325 0
  -1 229 143 135 377 0 68 287 241 458 356 144 82 0
  -1 -1 -1 -1 -1 68 0 347 277 512 387 132 142 0
  -1 68 395 412 285 287 347 0 167 179 120 431 220 0
  -1 137 222 391 138 241 277 167 0 229 104 395 187 0
  -1 239 457 583 310 458 512 179 229 0 121 630 391 0
  -1 135 332 481 200 356 387 120 104 121 0 505 289 0
  -1 373 202 279 525 144 132 431 395 630 505 0 226 0
  -1 -1 -1 -1 -1 82 -1 -1 -1 391 289 226 0 0
  -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 0`;

const BR17_10 = `
  0 3 5 48 48 8 8 5 5 3 3 0 3 5 8 8 5 1000000
  -1 0 3 48 -1 -1 8 5 5 0 0 3 0 3 8 -1 5 3
  -1 3 0 72 -1 48 48 24 24 3 3 5 3 0 48 -1 24 5
  -1 48 74 0 0 6 6 12 -1 48 48 48 48 74 6 6 12 48
  -1 48 74 0 0 6 6 12 12 48 48 48 48 74 6 6 12 48
  -1 8 50 6 6 0 0 8 8 8 8 8 8 50 0 0 8 8
  -1 8 50 6 6 0 0 8 8 8 8 8 8 50 0 0 8 8
  -1 5 26 12 12 -1 8 0 0 5 5 5 -1 26 8 8 0 5
  -1 5 26 12 12 8 8 0 0 5 5 5 5 26 8 8 0 5
  -1 0 3 48 -1 8 8 5 5 0 0 3 0 3 8 8 5 3
  -1 0 3 48 48 8 8 5 5 0 0 3 0 3 8 8 5 3
  -1 3 5 48 48 8 8 5 5 3 3 0 3 5 8 8 5 0
  -1 0 3 48 48 -1 8 5 5 0 0 3 0 3 8 8 5 3
  -1 3 0 72 -1 48 48 24 24 3 3 5 3 0 48 48 24 5
  -1 8 50 6 6 -1 0 -1 8 8 8 8 -1 50 0 0 8 8
  -1 8 50 6 -1 0 0 8 8 8 8 8 8 50 0 0 8 8
  -1 5 26 12 12 8 8 0 0 5 5 5 5 26 8 8 0 5
  -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 0`;

/** br17.12 is br17.10 with these pairs [before, after] more. */
const BR17_12_PAIRS = [
  [8, 1],
  [8, 2],
  [9, 2],
  [8, 4],
  [8, 9],
  [8, 13],
  [8, 15],
] as const;

const br17 = sopFromMatrix("br17.10", BR17_10);
const PROBLEMS: readonly (SopProblem & { readonly optimum: number })[] = [
  { ...sopFromMatrix("ESC07", ESC07), optimum: 2125 },
  { ...sopFromMatrix("ESC11", ESC11), optimum: 2075 },
  { ...sopFromMatrix("ESC12", ESC12), optimum: 1675 },
  { ...br17, optimum: 55 },
  { ...br17, name: "br17.12", precedence: [...br17.precedence, ...BR17_12_PAIRS], optimum: 55 },
];

const total = ({ costs }: SopProblem, order: readonly number[]): number =>
  order.slice(1).reduce((sum, j, k) => sum + costs[order[k]][j], 0);

describe.each(PROBLEMS)("$name", (problem) => {
  const result = sequence(problem.costs, problem.precedence);

  test(`costs ${problem.optimum}, proven`, () => {
    expect(result).toMatchObject({ cost: problem.optimum, lowerBound: problem.optimum, proven: true });
  });

  test("the order takes every node once, keeps precedence, and costs what it says", () => {
    expect(result.order.toSorted((a, b) => a - b)).toEqual(problem.costs.map((_, i) => i));
    for (const [before, after] of problem.precedence) {
      expect(result.order.indexOf(before)).toBeLessThan(result.order.indexOf(after));
    }
    expect(total(problem, result.order)).toBe(problem.optimum);
  });

  test("turned round, arcs and precedence alike, it costs the same", () => {
    const costs = problem.costs.map((_, i) => problem.costs.map((row) => row[i]));
    const precedence = problem.precedence.map(([before, after]) => [after, before] as const);
    expect(sequence(costs, precedence).cost).toBe(problem.optimum);
  });

  test("least effort proves it too: with few pieces free the search is exact", () => {
    expect(problem.costs.length - 2).toBeLessThanOrEqual(EXACT_PIECES);
    expect(sequence(problem.costs, problem.precedence, { effort: 0 })).toEqual(result);
  });
});

test("a file as TSPLIB writes it gives the same problem", () => {
  const text = `NAME: ESC07.sop\nTYPE: SOP\nDIMENSION: 9\nEDGE_WEIGHT_SECTION\n9 ${ESC07}\nEOF\n`;
  expect(sopFromText(text)).toEqual(sopFromMatrix("ESC07.sop", ESC07));
  expect(() => sopFromText(text.replace("\n9 ", "\n8 "))).toThrow("8 nodes announced, 9 found");
});
