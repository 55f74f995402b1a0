/**
 * Machine files of real plans, read back by a second reader (tests/support/stitch-file.ts) that was written from
 * the facts of the format: known from memory and common practice, no published standard. Drawings: the fixtures,
 * and 40 emoji of `@twemoji/svg` (art under CC BY 4.0) at 80 mm.
 */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { machineFile } from "../../core/output/machine.ts";
import { readMachineFile } from "../../core/output/machine-reader.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { readDrawing, spreadNames } from "../support/emoji.ts";
import { headerNumber, readStitchFile, type StitchFile } from "../support/stitch-file.ts";

const fixture = (path: string) => ({
  name: path,
  text: readFileSync(new URL(`../../fixtures/${path}`, import.meta.url), "utf8"),
  widthMm: null,
});
const cases = readdirSync(new URL("../../fixtures/cases", import.meta.url)).map((name) => `cases/${name}`);
const drawings = [
  ...["heron-crest.svg", "every-feature.svg", ...cases].map(fixture),
  ...spreadNames("emoji", 40).map((name) => ({ ...readDrawing("emoji", name), widthMm: 80 })),
];

const files = drawings.map(({ name, text, widthMm }) => {
  const plan = makePlan(text, name, { ...DEFAULT_SETTINGS, widthMm });
  const bytes = machineFile(plan);
  return { name, plan, bytes, file: readStitchFile(bytes) };
});

const faulty = (check: (plan: Plan, file: StitchFile, bytes: Uint8Array) => string | undefined) =>
  files.flatMap(({ name, plan, file, bytes }) => {
    const fault = check(plan, file, bytes);
    return fault === undefined ? [] : [`${name}: ${fault}`];
  });

/** Needle points in millimetres from the middle of them all, y up; the points of a strand once each. */
function needlePoints({ sewing }: Plan): [x: number, y: number][] {
  const points: [number, number][] = [];
  let strand = -1;
  for (const step of sewing.filter(isSewn)) {
    for (let k = step.strand === strand ? 2 : 0; k < step.points.length; k += 2)
      points.push([step.points[k], -step.points[k + 1]]);
    strand = step.strand;
  }
  const middle = [0, 1].map((axis) => {
    const values = points.map((point) => point[axis]);
    const [least, most] = [values.reduce((a, b) => Math.min(a, b)), values.reduce((a, b) => Math.max(a, b))];
    return (least + most) / 2;
  });
  return points.map(([x, y]) => [x - middle[0], y - middle[1]]);
}

/** Half a unit of the file, and the arithmetic's noise. */
const TOLERANCE_MM = 0.05 + 1e-9;

describe(`${files.length} machine files`, () => {
  test("put the needle within 0.05 mm of every needle point of the plan, along both axes, and nowhere else", () => {
    const faults = faulty((plan, file) => {
      const holes = file.stitches.filter(({ what }) => what === "stitch").map(({ x, y }) => [x / 10, y / 10]);
      let at = -1;
      const reaches = (hole: number[] | undefined, [x, y]: [number, number]) =>
        hole !== undefined && Math.abs(hole[0] - x) <= TOLERANCE_MM && Math.abs(hole[1] - y) <= TOLERANCE_MM;
      for (const [k, point] of needlePoints(plan).entries()) {
        if (reaches(holes[at + 1], point)) at++;
        // Two needle points in one hole are one stitch in the file.
        else if (!reaches(holes[at], point))
          return `stitch ${k + 1} is off: ${point} against ${holes[at + 1]}`;
      }
      return at === holes.length - 1 ? undefined : `${holes.length - 1 - at} stitches are not in the plan`;
    });
    expect(faults).toEqual([]);
  });

  test("move at most 121 units a record along either axis", () => {
    const longest = files.flatMap(({ file }) =>
      file.stitches.map(({ dx, dy }) => Math.max(Math.abs(dx), Math.abs(dy))),
    );
    expect(longest.reduce((a, b) => Math.max(a, b))).toBeLessThanOrEqual(121);
  });

  test("say the truth in the header: records, colour changes, extents, end", () => {
    const faults = faulty((plan, file) => {
      const reach = (pick: (stitch: { x: number; y: number }) => number) =>
        file.stitches.reduce((most, stitch) => Math.max(most, pick(stitch)), 0);
      const said = ["ST", "CO", "+X", "-X", "+Y", "-Y", "AX", "AY"].map((name) => headerNumber(file, name));
      const last = file.stitches[file.stitches.length - 1];
      const found = [
        file.stitches.length,
        plan.sewing.filter(({ role }) => role === "colour-change").length,
        reach(({ x }) => x),
        reach(({ x }) => -x),
        reach(({ y }) => y),
        reach(({ y }) => -y),
        last.x,
        last.y,
      ].map((value) => value + 0);
      return said.join() === found.join() ? undefined : `${said} against ${found}`;
    });
    expect(faults).toEqual([]);
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
