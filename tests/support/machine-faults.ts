/** What must hold for every machine file, read back by the second reader: said once, for tests, corpus and fuzzing alike. */
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan } from "../../core/plan/types.ts";
import { type FileStitch, headerNumber, readStitchFile, type StitchFile } from "./stitch-file.ts";

/** Half a unit of the file, and the arithmetic's noise. */
const TOLERANCE_MM = 0.05 + 1e-9;
/** The most units that a record moves along an axis. Common practice, no source. */
const MOST_UNITS = 121;

export interface MachineCheck {
  /** In words; empty for a sound file. */
  readonly faults: readonly string[];
  /** The farthest that a needle point of the file lies from the plan's, along an axis. */
  readonly farthestMm: number;
  /** The longest record, in units along an axis. */
  readonly longestUnits: number;
}

/** Decodes a plan's machine file and holds it against the plan. */
export function checkMachineFile(plan: Plan, bytes: Uint8Array): MachineCheck {
  const file = readStitchFile(bytes);
  const path = comparePath(plan, file);
  const longestUnits = most(file.stitches, ({ dx, dy }) => Math.max(Math.abs(dx), Math.abs(dy)));
  return {
    farthestMm: path.farthestMm,
    longestUnits,
    faults: [
      ...path.faults,
      ...(longestUnits > MOST_UNITS ? [`a record moves ${longestUnits} units`] : []),
      ...headerFaults(plan, file),
    ],
  };
}

/** The needle goes to every needle point of the plan in turn, and nowhere else. */
function comparePath(plan: Plan, { stitches }: StitchFile): { faults: string[]; farthestMm: number } {
  const holes = stitches.filter(({ what }) => what === "stitch").map(({ x, y }) => [x / 10, y / 10]);
  let at = -1;
  let farthestMm = 0;
  const off = (hole: number[] | undefined, [x, y]: readonly number[]) =>
    hole === undefined ? Number.POSITIVE_INFINITY : Math.max(Math.abs(hole[0] - x), Math.abs(hole[1] - y));
  for (const [k, point] of needlePoints(plan).entries()) {
    const next = off(holes[at + 1], point);
    // Two needle points in one hole are one stitch in the file.
    const offMm = next <= TOLERANCE_MM ? next : off(holes[at], point);
    if (offMm > TOLERANCE_MM)
      return { faults: [`stitch ${k + 1} is off: ${point} against ${holes[at + 1]}`], farthestMm: offMm };
    if (next <= TOLERANCE_MM) at++;
    farthestMm = Math.max(farthestMm, offMm);
  }
  const left = holes.length - 1 - at;
  return { faults: left === 0 ? [] : [`${left} stitches are not in the plan`], farthestMm };
}

/** Needle points in millimetres from the file's origin, y up; the points of a strand once each. */
function needlePoints({ sewing, settings }: Plan): (readonly [x: number, y: number])[] {
  const points: [number, number][] = [];
  let strand = -1;
  for (const step of sewing.filter(isSewn)) {
    for (let k = step.strand === strand ? 2 : 0; k < step.points.length; k += 2)
      points.push([step.points[k], -step.points[k + 1]]);
    strand = step.strand;
  }
  const middle = [0, 1].map((axis) => {
    const values = points.map((point) => point[axis]);
    return (values.reduce((a, b) => Math.min(a, b)) + values.reduce((a, b) => Math.max(a, b))) / 2;
  });
  const origin = settings.origin === "start" ? points[0] : middle;
  return points.map(([x, y]) => [x - origin[0], y - origin[1]]);
}

/** The header says the truth: records, colour changes, extents, end. */
function headerFaults(plan: Plan, file: StitchFile): string[] {
  const { stitches } = file;
  const last = stitches[stitches.length - 1];
  const found: Record<string, number> = {
    ST: stitches.length,
    CO: plan.sewing.filter(({ role }) => role === "colour-change").length,
    "+X": most(stitches, ({ x }) => x),
    "-X": most(stitches, ({ x }) => -x),
    "+Y": most(stitches, ({ y }) => y),
    "-Y": most(stitches, ({ y }) => -y),
    AX: last.x,
    AY: last.y,
  };
  return Object.entries(found)
    .filter(([name, value]) => headerNumber(file, name) !== value + 0)
    .map(([name, value]) => `the header says ${name} ${headerNumber(file, name)}, the file ${value}`);
}

const most = (stitches: readonly FileStitch[], pick: (stitch: FileStitch) => number): number =>
  stitches.reduce((greatest, stitch) => Math.max(greatest, pick(stitch)), 0);
