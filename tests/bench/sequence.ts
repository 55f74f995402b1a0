/**
 * `npm run bench -- sequence FILE.sop…`: the ordering solver on sequential ordering problems in TSPLIB's format.
 * For each file the order, its cost, the proven bound, how far apart the two are, and the time on one core.
 */
import { type SequenceResult, sequence } from "../../core/sequence/sequence.ts";
import { readSopFile } from "../support/sop-file.ts";
import { textTable } from "../support/statistics.ts";

/** What a large problem may take: about half a minute. Results don't depend on the machine. */
const EFFORT = 20;

/** Solves each file and prints a table, then the orders. */
export function benchSequence(files: readonly string[]): void {
  const runs = files.map((file) => {
    const { name, costs, precedence } = readSopFile(file);
    const start = performance.now();
    const result = sequence(costs, precedence, { effort: EFFORT });
    return { name, size: costs.length, result, seconds: (performance.now() - start) / 1000 };
  });
  console.log(`\nSequential ordering problems, effort ${EFFORT}\n`);
  console.log(
    textTable([
      ["problem", "nodes", "cost", "bound", "gap", "proven", "seconds"],
      ...runs.map(({ name, size, result, seconds }) => [
        name,
        String(size),
        String(result.cost),
        String(result.lowerBound),
        gap(result),
        result.proven ? "yes" : "no",
        seconds.toFixed(2),
      ]),
    ]),
  );
  for (const { name, result } of runs) console.log(`\n${name}: ${result.order.join(" ")}`);
}

const gap = ({ cost, lowerBound }: SequenceResult): string =>
  cost === lowerBound ? "0 %" : `${((100 * (cost - lowerBound)) / Math.abs(cost)).toFixed(2)} %`;
