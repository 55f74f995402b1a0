/** What must hold for every plan, whatever the drawing: said once, for tests and corpus alike. */
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan, SewnStep } from "../../core/plan/types.ts";

const FAR_MM = 1e-6;

const first = (step: SewnStep): [number, number] => [step.points[0], step.points[1]];
const last = (step: SewnStep): [number, number] => [
  step.points[step.points.length - 2],
  step.points[step.points.length - 1],
];
const apart = (a: readonly number[], b: readonly number[]) => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** Every fault in the needle path, in words. Empty for a sound plan. */
export function needlePathFaults(plan: Plan): string[] {
  const faults: string[] = [];
  let previous: SewnStep | null = null;
  let trimmed = true;
  let changed = true;
  for (const [index, step] of plan.sewing.entries()) {
    if (step.role === "trim") trimmed = true;
    else if (step.role === "colour-change") changed = true;
    if (!isSewn(step)) {
      if (step.role === "trim" && previous?.role !== "tie-off")
        faults.push(`step ${index}: trim without a tie-off`);
      continue;
    }
    for (const value of step.points) {
      if (!Number.isFinite(value)) faults.push(`step ${index}: a needle point is not a number`);
    }
    if (previous && previous.strand === step.strand) {
      if (trimmed) faults.push(`step ${index}: trimmed inside strand ${step.strand}`);
      const gap = apart(last(previous), first(step));
      if (gap > FAR_MM)
        faults.push(`step ${index} (${step.role}): ${gap.toFixed(3)} mm from the step before`);
    } else {
      if (previous && previous.role !== "tie-off") faults.push(`step ${index}: strand before not tied off`);
      if (previous && !trimmed) faults.push(`step ${index}: new strand without a trim`);
      if (previous && previous.block !== step.block && !changed)
        faults.push(`step ${index}: no colour change`);
      if (step.role !== "tie-in") faults.push(`step ${index}: strand begins without a tie-in`);
    }
    const longest = longestMoveMm(step.points);
    if (longest > plan.settings.maxMoveMm + FAR_MM)
      faults.push(`step ${index} (${step.role}): moves ${longest.toFixed(2)} mm along an axis`);
    trimmed = false;
    changed = false;
    previous = step;
  }
  if (previous && previous.role !== "tie-off") faults.push("the last strand is not tied off");
  // A strand that the artist asked for is kept over any gap, with a word on it.
  const isWished = ({ from }: Plan["connectors"][number]): boolean =>
    plan.findings.some(({ code, piece }) => code === "strand-exposed" && piece === from);
  for (const connector of plan.connectors) {
    if (connector.kind === "tucked" && connector.exposedMm !== 0)
      faults.push(`${connector.id}: tucked, yet ${connector.exposedMm} mm exposed`);
    if (
      connector.kind === "hop" &&
      connector.exposedMm >= plan.settings.jumpThresholdMm &&
      !isWished(connector)
    )
      faults.push(`${connector.id}: hops over ${connector.exposedMm.toFixed(2)} mm`);
  }
  return faults;
}

function longestMoveMm(points: Float64Array): number {
  let longest = 0;
  for (let i = 2; i < points.length; i += 2) {
    longest = Math.max(longest, Math.abs(points[i] - points[i - 2]), Math.abs(points[i + 1] - points[i - 1]));
  }
  return longest;
}

/** How many stitches are shorter than `mm`, ties apart, and how many there are. */
export function shortStitches(plan: Plan, mm: number): { short: number; all: number } {
  let short = 0;
  let all = 0;
  for (const step of plan.sewing) {
    if (!isSewn(step) || step.role === "tie-in" || step.role === "tie-off") continue;
    const { points } = step;
    for (let i = 2; i < points.length; i += 2) {
      all++;
      if (Math.hypot(points[i] - points[i - 2], points[i + 1] - points[i - 1]) < mm) short++;
    }
  }
  return { short, all };
}
