/**
 * `npm run corpus -- machine [--set emoji] [--every N]`: every drawing's machine file, decoded by the second reader
 * and held against its plan, in one table.
 */
import { machineFile } from "../../core/output/machine.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { readDrawing } from "../support/drawing-sets.ts";
import { checkMachineFile } from "../support/machine-faults.ts";
import { textTable } from "../support/statistics.ts";

/** @returns whether every file is sound */
export function checkMachineFiles(set: string, names: readonly string[], widthMm: number): boolean {
  const unsound: string[] = [];
  let [farthestMm, longestUnits, stitches] = [0, 0, 0];
  for (const name of names) {
    const plan = makePlan(readDrawing(set, name).text, name, { ...DEFAULT_SETTINGS, widthMm });
    const check = checkMachineFile(plan, machineFile(plan));
    farthestMm = Math.max(farthestMm, check.farthestMm);
    longestUnits = Math.max(longestUnits, check.longestUnits);
    stitches += plan.metrics.stitches;
    unsound.push(...check.faults.map((fault) => `${name}: ${fault}`));
  }
  console.log(`\nMachine files of ${names.length} drawings of the set ${set} at ${widthMm} mm\n`);
  console.log(
    textTable([
      ["measure", "value", "bar"],
      ["files decoded", String(names.length), ""],
      ["stitches", String(stitches), ""],
      ["farthest from the plan, along an axis", `${farthestMm.toFixed(5)} mm`, "<= 0.05 mm"],
      ["longest record", `${longestUnits} units`, "<= 121"],
      ["files with a fault (path, record or header)", String(unsound.length), "0"],
    ]),
  );
  for (const line of unsound.slice(0, 40)) console.log(`  ${line}`);
  return unsound.length === 0;
}
