/** What must hold for any text whatever: it is planned soundly, or refused with one line that an artist can use. */
import { ArtworkError } from "../../core/errors.ts";
import { strip } from "../../core/layers/strip.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { serialisePlan } from "../../core/output/json.ts";
import { machineFile } from "../../core/output/machine.ts";
import { pictureSvg } from "../../core/output/picture.ts";
import { runSheet } from "../../core/output/run-sheet/page.ts";
import { makePlan, readDrawing, sequenceOf } from "../../core/plan/make-plan.ts";
import type { Plan } from "../../core/plan/types.ts";
import { strayTuckedMm } from "../support/jsts-cover.ts";
import { checkMachineFile } from "../support/machine-faults.ts";
import { needlePathFaults } from "../support/plan-checks.ts";
import type { FuzzCase } from "./mutate.ts";

export interface Verdict {
  readonly kind: "planned" | "refused" | "fault";
  /** In words; empty where all is well. */
  readonly faults: readonly string[];
  readonly ms: number;
}

/** The other library's check takes the square of the pieces: larger plans do without it. */
const MOST_PIECES = 150;
const LONGEST_LINE = 600;

export function judge(fuzzed: FuzzCase): Verdict {
  const start = performance.now();
  const verdict = (kind: Verdict["kind"], faults: readonly string[] = []): Verdict => ({
    kind: faults.length > 0 ? "fault" : kind,
    faults,
    ms: performance.now() - start,
  });
  let plan: Plan;
  try {
    plan = makePlan(fuzzed.text, fuzzed.name, fuzzed.settings);
  } catch (error) {
    return error instanceof ArtworkError
      ? verdict("refused", refusalFaults(error.message))
      : verdict("fault", [stackOf(error)]);
  }
  try {
    return verdict("planned", planFaults(plan, fuzzed));
  } catch (error) {
    return verdict("fault", [`after planning: ${stackOf(error)}`]);
  }
}

const stackOf = (error: unknown): string =>
  error instanceof Error ? (error.stack ?? error.message) : String(error);

const refusalFaults = (message: string): string[] =>
  message.includes("\n") || message.length > LONGEST_LINE || message.trim() === ""
    ? [`refused with ${JSON.stringify(message.slice(0, LONGEST_LINE))}`]
    : [];

function planFaults(plan: Plan, { text, name, settings }: FuzzCase): string[] {
  const { metrics } = plan;
  const faults = [...needlePathFaults(plan)];
  if (metrics.strands < metrics.strandsLowerBound) faults.push("fewer strands than the bound");
  if (metrics.blocks < metrics.blocksLowerBound) faults.push("fewer blocks than the bound");

  const again = makePlan(text, name, settings);
  if (serialisePlan(again) !== serialisePlan(plan)) faults.push("planned again, it comes out otherwise");

  const written = writeLayers(text, plan);
  if (strip(written) !== strip(text)) faults.push("stripped, it is not the artwork");
  const rewritten = writeLayers(written, makePlan(written, name, settings));
  if (rewritten !== written) faults.push("planning the planned drawing changes it");

  if (plan.pieces.length <= MOST_PIECES && settings.patch === "none") {
    const { artwork, marks } = readDrawing(text, name, settings);
    const { sequence } = sequenceOf(artwork, settings, marks);
    const strayMm = strayTuckedMm(plan, sequence.pieces);
    if (strayMm > 0) faults.push(`${strayMm.toFixed(3)} tucked mm lie outside later pieces`);
  }
  if (plan.sewing.length > 0) faults.push(...checkMachineFile(plan, machineFile(plan)).faults);
  for (const page of [runSheet(plan), pictureSvg(plan), written.slice(strip(text).length)]) {
    if (/<script|javascript:|\son\w+\s*=/i.test(page)) faults.push("an output carries a script");
  }
  return faults;
}
