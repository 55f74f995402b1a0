/**
 * Machine files of real plans, read back by a second reader (tests/support/stitch-file.ts) that was written from
 * the facts of the format: known from memory and common practice, no published standard. Drawings: the fixtures,
 * and 20 emoji of `@twemoji/svg` (art under CC BY 4.0) at 80 mm.
 */
import { readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { machineFile } from "../../core/output/machine.ts";
import { readMachineFile } from "../../core/output/machine-reader.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import type { Plan } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { readDrawing, spreadNames } from "../support/drawing-sets.ts";
import { fixturePlan } from "../support/fixture-plans.ts";
import { checkMachineFile } from "../support/machine-faults.ts";
import { headerNumber, readStitchFile, type StitchFile } from "../support/stitch-file.ts";

const cases = readdirSync(new URL("../../fixtures/cases", import.meta.url)).map(
  (name) => `cases/${name.replace(/\.svg$/, "")}`,
);
const plans = [
  ...["heron-crest", "every-feature", ...cases].map((name) => ({ name, plan: fixturePlan(name) })),
  ...spreadNames("emoji", 20).map((name) => ({
    name,
    plan: makePlan(readDrawing("emoji", name).text, name, { ...DEFAULT_SETTINGS, widthMm: 80 }),
  })),
];

const files = plans.map(({ name, plan }) => {
  const bytes = machineFile(plan);
  return { name, plan, bytes, file: readStitchFile(bytes) };
});

const faulty = (check: (plan: Plan, file: StitchFile, bytes: Uint8Array) => string | undefined) =>
  files.flatMap(({ name, plan, file, bytes }) => {
    const fault = check(plan, file, bytes);
    return fault === undefined ? [] : [`${name}: ${fault}`];
  });

describe(`${files.length} machine files`, () => {
  test("put the needle within 0.05 mm of every needle point of the plan and nowhere else, move at most 121 units a record, and say the truth in the header", () => {
    expect(faulty((plan, _file, bytes) => checkMachineFile(plan, bytes).faults[0])).toEqual([]);
  });

  test("start at the middle: they reach as far right as left, as far up as down", () => {
    const faults = faulty((_plan, file) => {
      const [right, left, up, down] = ["+X", "-X", "+Y", "-Y"].map((name) => headerNumber(file, name));
      return Math.abs(right - left) <= 1 && Math.abs(up - down) <= 1
        ? undefined
        : `${right} ${left} ${up} ${down}`;
    });
    expect(faults).toEqual([]);
  });

  test("have a run of three jumps for every trim of the plan, and only there", () => {
    const faults = faulty((plan, file) => {
      let runs = 0;
      let jumps = 0;
      let sewn = false;
      for (const { what } of file.stitches) {
        if (what === "jump") jumps++;
        else if (what === "stitch") {
          if (sewn && jumps >= 3) runs++;
          [jumps, sewn] = [0, true];
        }
      }
      const trims = plan.sewing.filter(({ role }) => role === "trim").length;
      return runs === trims ? undefined : `${runs} runs for ${trims} trims`;
    });
    expect(faults).toEqual([]);
  });

  test("end with the closing record and nothing after it", () => {
    expect(files.filter(({ file }) => file.tail.join() !== "0,0,243").map(({ name }) => name)).toEqual([]);
  });

  test("are read back as they were written", () => {
    const faults = faulty((plan, file, bytes) => {
      const design = readMachineFile(bytes);
      const holes = file.stitches.filter(({ what }) => what === "stitch").length;
      const read = [design.stitches, design.blocks.length, design.trims, design.faults.length];
      const expected = [holes, plan.metrics.blocks, plan.metrics.trims, 0];
      return read.join() === expected.join() ? undefined : `${read} against ${expected}`;
    });
    expect(faults).toEqual([]);
  });
});
