/**
 * Reads sequential ordering problems as TSPLIB writes them (G. Reinelt, «TSPLIB 95», Heidelberg, 1995): header
 * lines «NAME: …», then a section with the number of nodes and a square matrix. −1 in row i, column j means that
 * j must precede i. The first node starts and the last ends the order, which the −1 in the matrix already say.
 */
import { readFileSync } from "node:fs";
import { basename } from "node:path";

export interface SopProblem {
  readonly name: string;
  readonly costs: readonly (readonly number[])[];
  readonly precedence: readonly (readonly [before: number, after: number])[];
}

/** A problem from its matrix, row by row, numbers apart by white space; throws if it is not square. */
export function sopFromMatrix(name: string, matrix: string): SopProblem {
  const numbers = matrix.trim().split(/\s+/).map(Number);
  const size = Math.sqrt(numbers.length);
  if (!Number.isInteger(size) || numbers.some(Number.isNaN)) {
    throw new Error(`${name}: ${numbers.length} numbers make no square matrix.`);
  }
  const rows = Array.from({ length: size }, (_, i) => numbers.slice(i * size, (i + 1) * size));
  return {
    name,
    costs: rows.map((row) => row.map((cost) => (cost === -1 ? Number.POSITIVE_INFINITY : cost))),
    precedence: rows.flatMap((row, i) => row.flatMap((cost, j) => (cost === -1 ? [[j, i] as const] : []))),
  };
}

/** A problem from the text of a file; throws with a line that says what is missing. */
export function sopFromText(text: string, fileName = "problem"): SopProblem {
  const name = /^NAME\s*:\s*(\S+)/m.exec(text)?.[1] ?? fileName;
  const section = /EDGE_WEIGHT_SECTION\s+(\d+)\s+([-\d\s]+)/.exec(text);
  if (section === null) throw new Error(`${name}: no EDGE_WEIGHT_SECTION with a full matrix.`);
  const problem = sopFromMatrix(name, section[2]);
  if (problem.costs.length !== Number(section[1])) {
    throw new Error(`${name}: ${section[1]} nodes announced, ${problem.costs.length} found.`);
  }
  return problem;
}

export const readSopFile = (path: string): SopProblem =>
  sopFromText(readFileSync(path, "utf8"), basename(path));
