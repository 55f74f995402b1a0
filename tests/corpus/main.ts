/**
 * `npm run corpus`: plans whole drawing sets at 80 mm and prints one table of what must hold.
 *
 *     npm run corpus                       both sets
 *     npm run corpus -- --set emoji        one set
 *     npm run corpus -- --every 20         every twentieth drawing
 */
import { parseArgs } from "node:util";
import { readArtwork } from "../../core/artwork/read.ts";
import { ArtworkError } from "../../core/errors.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { paintSewOut, visibleThread } from "../../core/plan/sew-out.ts";
import { isSewn } from "../../core/plan/steps.ts";
import type { Plan } from "../../core/plan/types.ts";
import { orderPieces } from "../../core/sequence/order-pieces.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { DRAWING_SETS, drawingNames, readDrawing } from "../support/emoji.ts";
import { strayTuckedMm } from "../support/jsts-cover.ts";
import { needlePathFaults, shortStitches } from "../support/plan-checks.ts";
import { median, quantile, textTable } from "../support/statistics.ts";

const settings = { ...DEFAULT_SETTINGS, widthMm: 80 };

interface Outcome {
  readonly name: string;
  readonly ms: number;
  readonly refused?: string;
  readonly crashed?: string;
  /** What is kept of the plan: whole plans of a whole set would fill the memory. */
  readonly plan?: Pick<Plan, "metrics" | "connectors"> & { readonly pieceCount: number };
  readonly faults: readonly string[];
  readonly strayMm: number;
  readonly hiddenMm: number;
  readonly shownMm: number;
  readonly short: number;
  readonly stitches: number;
}

function tryDrawing(set: string, name: string): Outcome {
  const { text } = readDrawing(set, name);
  const blank = { name, faults: [], strayMm: 0, hiddenMm: 0, shownMm: 0, short: 0, stitches: 0 };
  const start = performance.now();
  try {
    const plan = makePlan(text, name, settings);
    const ms = performance.now() - start;
    const { sequence } = orderPieces(readArtwork(text, name, settings));
    const { visibleMm, lengthMm } = hiddenThread(plan);
    const { short, all } = shortStitches(plan, settings.minStitchMm - 1e-6);
    return {
      ...blank,
      ms,
      plan: { metrics: plan.metrics, connectors: plan.connectors, pieceCount: plan.pieces.length },
      faults: needlePathFaults(plan),
      strayMm: strayTuckedMm(plan, sequence.pieces),
      shownMm: visibleMm,
      hiddenMm: lengthMm - visibleMm,
      short,
      stitches: all,
    };
  } catch (error) {
    const ms = performance.now() - start;
    const message = error instanceof Error ? error.message : String(error);
    return error instanceof ArtworkError
      ? { ...blank, ms, refused: message }
      : { ...blank, ms, crashed: error instanceof Error ? (error.stack ?? message) : message };
  }
}

/** What shows of all connectors and travel, on the sew-out raster. */
function hiddenThread({ sewing, size }: Plan): { visibleMm: number; lengthMm: number } {
  const sewOut = paintSewOut(sewing, size);
  let [visibleMm, lengthMm] = [0, 0];
  for (const [index, step] of sewing.entries()) {
    if (!isSewn(step) || (step.role !== "connector" && step.role !== "travel")) continue;
    const seen = visibleThread(sewOut, step, index);
    visibleMm += seen.visibleMm;
    lengthMm += seen.lengthMm;
  }
  return { visibleMm, lengthMm };
}

function report(set: string, outcomes: readonly Outcome[]): void {
  const planned = outcomes.filter((outcome) => outcome.plan);
  const count = (test: (outcome: Outcome) => boolean) => String(outcomes.filter(test).length);
  const sum = (pick: (outcome: Outcome) => number) => planned.reduce((total, o) => total + pick(o), 0);
  const atBound = planned.filter((o) => o.plan!.metrics.strands === o.plan!.metrics.strandsLowerBound).length;
  const times = planned.map((o) => o.ms);
  const tuckedExposed = sum((o) =>
    o.plan!.connectors.reduce((mm, c) => mm + (c.kind === "tucked" ? c.exposedMm : 0), 0),
  );
  const travelMm = sum((o) => o.hiddenMm + o.shownMm);
  const plainTrims = sum((o) => o.plan!.metrics.untucked.strands - o.plan!.metrics.untucked.blocks);
  const trims = sum((o) => o.plan!.metrics.strands - o.plan!.metrics.blocks);
  const percent = (part: number, whole: number) => `${((100 * part) / Math.max(whole, 1e-12)).toFixed(2)} %`;
  console.log(`\nSet ${set}: ${outcomes.length} drawings at ${settings.widthMm} mm\n`);
  console.log(
    textTable([
      ["measure", "value"],
      ["planned", String(planned.length)],
      ["refused with one clear line", count((o) => o.refused !== undefined)],
      ["crashed", count((o) => o.crashed !== undefined)],
      ["drawings with a needle path fault", count((o) => o.faults.length > 0)],
      ["exposed mm of tucked connectors", tuckedExposed.toFixed(3)],
      ["tucked mm outside later pieces, by jsts", sum((o) => o.strayMm).toFixed(3)],
      ["strands equal to the lower bound", `${atBound} (${percent(atBound, planned.length)})`],
      [
        "trims inside blocks, plain -> planned",
        `${plainTrims} -> ${trims} (${percent(plainTrims - trims, plainTrims)} gone)`,
      ],
      [
        "connector and travel that shows",
        percent(
          sum((o) => o.shownMm),
          travelMm,
        ),
      ],
      ["  worst drawing (over 20 mm of it)", percent(...worstShown(planned))],
      [
        "stitches under 0.4 mm, ties apart",
        percent(
          sum((o) => o.short),
          sum((o) => o.stitches),
        ),
      ],
      ["stitches", String(sum((o) => o.plan!.metrics.stitches))],
      ["time, median", `${median(times).toFixed(1)} ms`],
      ["time, 95th percentile", `${quantile(times, 0.95).toFixed(1)} ms`],
      ["time, worst", `${Math.max(...times).toFixed(0)} ms`],
      ["peak memory", `${Math.round(process.resourceUsage().maxRSS / 1024)} MB`],
    ]),
  );
  list("crashed", outcomes, (o) => o.crashed && [o.crashed.split("\n").slice(0, 4).join(" | ")]);
  list("refused", outcomes, (o) => o.refused && [o.refused]);
  list("faults", outcomes, (o) => o.faults);
  list("stray", outcomes, (o) => (o.strayMm > 0 ? [`${o.strayMm.toFixed(2)} mm outside`] : []));
  list("strands above the bound", planned, (o) => {
    const { strands, strandsLowerBound } = o.plan!.metrics;
    if (strands === strandsLowerBound) return [];
    const reasons = o.plan!.connectors.filter((c) => c.kind === "jump").map((c) => c.reason!);
    return [`${strands} strands, bound ${strandsLowerBound}: ${reasons.slice(0, 2).join("; ")}`];
  });
  const shown = planned.filter((o) => o.shownMm > 1).sort((a, b) => b.shownMm - a.shownMm);
  list("most thread that shows", shown.slice(0, 10), (o) => [
    `${o.shownMm.toFixed(1)} of ${(o.shownMm + o.hiddenMm).toFixed(0)} mm`,
  ]);
  const slow = [...planned].sort((a, b) => b.ms - a.ms).slice(0, 10);
  list("slowest", slow, (o) => [`${o.ms.toFixed(0)} ms, ${o.plan!.pieceCount} pieces`]);
}

/** Visible and whole length of the drawing where the largest share shows. */
function worstShown(planned: readonly Outcome[]): [number, number] {
  let worst: [number, number] = [0, 1];
  for (const { shownMm, hiddenMm } of planned) {
    const whole = shownMm + hiddenMm;
    if (whole > 20 && shownMm / whole > worst[0] / worst[1]) worst = [shownMm, whole];
  }
  return worst;
}

function list(
  title: string,
  outcomes: readonly Outcome[],
  lines: (outcome: Outcome) => readonly string[] | undefined | "",
): void {
  const found = outcomes.flatMap((o) => (lines(o) || []).map((line) => `  ${o.name}: ${line}`));
  if (found.length === 0) return;
  console.log(`\n${title} (${found.length})`);
  for (const line of found.slice(0, 40)) console.log(line);
}

const { values } = parseArgs({ options: { set: { type: "string" }, every: { type: "string" } } });
const every = Math.max(1, Number(values.every ?? 1));
let failed = false;
for (const set of values.set ? [values.set] : Object.keys(DRAWING_SETS)) {
  if (!(set in DRAWING_SETS))
    throw new Error(`no set ${set}; there are ${Object.keys(DRAWING_SETS).join(", ")}`);
  const names = drawingNames(set).filter((_, k) => k % every === 0);
  const outcomes = names.map((name) => tryDrawing(set, name));
  report(set, outcomes);
  failed ||= outcomes.some((o) => o.crashed !== undefined || o.faults.length > 0 || o.strayMm > 0);
}
process.exitCode = failed ? 1 : 0;
