/**
 * `npm run corpus`: plans whole drawing sets and prints one table of what must hold, beside the bar for it where
 * there is one.
 *
 *     npm run corpus                       all sets, 80 mm wide
 *     npm run corpus -- --set emoji        one set
 *     npm run corpus -- --every 20         every twentieth drawing
 *     npm run corpus -- --width 100        100 mm wide: the bars for the sew-out are meant for this
 *     npm run corpus -- --technique auto   with another setting for the technique
 *     npm run corpus -- --order regroup    the best legal order held against paint order instead
 *     npm run corpus -- machine            machine files held against their plans instead
 */
import { setImmediate } from "node:timers/promises";
import { parseArgs } from "node:util";
import { tuneEngine } from "../../cli/engine.ts";
import { readArtwork } from "../../core/artwork/read.ts";
import { ArtworkError } from "../../core/errors.ts";
import { makePlan, sequenceOf } from "../../core/plan/make-plan.ts";
import { paintSewOut, type SewOut, visibleThread } from "../../core/plan/sew-out.ts";
import { type Likeness, measureLikeness } from "../../core/plan/sew-out-measures.ts";
import { isSewn } from "../../core/plan/steps.ts";
import { countLayers, countShortStitches, mostLayers, singleLines } from "../../core/plan/stitch-measures.ts";
import type { Plan, SewnRole } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS, type Settings } from "../../core/settings.ts";
import { settingFromText, settingsWith } from "../../core/settings-schema.ts";
import { DRAWING_SETS, drawingNames, readDrawing } from "../support/drawing-sets.ts";
import { drawnLike, UNDRAWN } from "../support/drawn.ts";
import { strayTuckedMm } from "../support/jsts-cover.ts";
import { needlePathFaults } from "../support/plan-checks.ts";
import { median, quantile, textTable } from "../support/statistics.ts";
import { checkMachineFiles } from "./machine-files.ts";
import { checkRegroup } from "./regroup.ts";

/** Below this the trade calls a stitch short. Common practice, no source. */
const SHORT_MM = 1;

interface Seen {
  readonly visibleMm: number;
  readonly lengthMm: number;
}

/** What is kept of a plan: whole plans of a whole set would fill the memory. */
interface Kept extends Pick<Plan, "metrics" | "connectors"> {
  readonly pieceCount: number;
  readonly faults: readonly string[];
  readonly strayMm: number;
  readonly seen: Readonly<Record<"connector" | "travel", Seen>>;
  readonly likeness: Likeness;
  readonly tooShort: number;
  readonly short: number;
  readonly stitches: number;
  /** Of fill and satin on one spot. */
  readonly layers: number;
  readonly layersAndLines: number;
}

interface Outcome {
  readonly name: string;
  /** Processor time, so that what else the machine does counts little. */
  readonly ms: number;
  readonly refused?: string;
  readonly crashed?: string;
  readonly plan?: Kept;
}

function tryDrawing(set: string, name: string, settings: Settings): Outcome {
  const { text } = readDrawing(set, name);
  const start = process.cpuUsage();
  const processorMs = () => {
    const { user, system } = process.cpuUsage(start);
    return (user + system) / 1000;
  };
  try {
    const plan = makePlan(text, name, settings);
    const ms = processorMs();
    return { name, ms, plan: kept(plan, text) };
  } catch (error) {
    const ms = processorMs();
    const message = error instanceof Error ? error.message : String(error);
    return error instanceof ArtworkError
      ? { name, ms, refused: message }
      : { name, ms, crashed: error instanceof Error ? (error.stack ?? message) : message };
  }
}

function kept(plan: Plan, text: string): Kept {
  const { metrics, connectors, pieces, sewing, settings, size, source } = plan;
  const { sequence } = sequenceOf(readArtwork(text, source.name, settings), settings);
  const sewOut = paintSewOut(sewing, size);
  const short = countShortStitches(sewing, SHORT_MM - 1e-6);
  return {
    metrics,
    connectors,
    pieceCount: pieces.length,
    faults: needlePathFaults(plan),
    strayMm: strayTuckedMm(plan, sequence.pieces),
    seen: { connector: seenOf(plan, sewOut, "connector"), travel: seenOf(plan, sewOut, "travel") },
    likeness: UNDRAWN.has(source.name) ? UNLIKE : measureLikeness(plan, sewOut, drawnLike(text, sewOut)),
    tooShort: countShortStitches(sewing, settings.minStitchMm - 1e-6).short,
    short: short.short,
    stitches: short.all,
    layers: mostLayers(countLayers(sewing, size, undefined, undefined, singleLines(pieces))),
    layersAndLines: mostLayers(countLayers(sewing, size)),
  };
}

const UNLIKE: Likeness = {
  insideMm2: 0,
  ownColourMm2: 0,
  otherColourMm2: 0,
  bareMm2: 0,
  paintedMm2: 0,
  outsideMm2: 0,
};

/** How much of the thread in one role shows on the sew-out raster. */
function seenOf({ sewing }: Plan, sewOut: SewOut, role: SewnRole): Seen {
  let [visibleMm, lengthMm] = [0, 0];
  for (const [index, step] of sewing.entries()) {
    if (!isSewn(step) || step.role !== role) continue;
    const seen = visibleThread(sewOut, step, index);
    visibleMm += seen.visibleMm;
    lengthMm += seen.lengthMm;
  }
  return { visibleMm, lengthMm };
}

/** A plan with the outcome that it belongs to. */
type Planned = Outcome & { readonly plan: Kept };

function report(set: string, outcomes: readonly Outcome[], settings: Settings): void {
  const planned = outcomes.filter((outcome): outcome is Planned => outcome.plan !== undefined);
  console.log(
    `\nSet ${set} (${DRAWING_SETS[set].about}): ${outcomes.length} drawings at ${settings.widthMm} mm\n`,
  );
  const rows = [...soundness(outcomes, planned), ...craft(planned), ...cost(planned)];
  console.log(
    textTable([["measure", "value", "bar"], ...rows.map(([name, value, bar = ""]) => [name, value, bar])]),
  );
  list("crashed", outcomes, (o) => (o.crashed ? [o.crashed.split("\n").slice(0, 4).join(" | ")] : []));
  list("refused", outcomes, (o) => (o.refused ? [o.refused] : []));
  list("faults", planned, (o) => o.plan.faults);
  list("stray", planned, (o) => (o.plan.strayMm > 0 ? [`${o.plan.strayMm.toFixed(2)} mm outside`] : []));
  list("strands above the bound", planned, (o) => {
    const { strands, strandsLowerBound } = o.plan.metrics;
    if (strands === strandsLowerBound) return [];
    const reasons = o.plan.connectors.filter((c) => c.kind === "jump").map((c) => c.reason!);
    return [`${strands} strands, bound ${strandsLowerBound}: ${reasons.slice(0, 2).join("; ")}`];
  });
  list(
    "least in its own colour",
    worst(planned, (o) => -ownShare(o)),
    (o) => [`${(100 * ownShare(o)).toFixed(1)} %, ${(100 * bareShare(o)).toFixed(1)} % bare`],
  );
  list("most thread outside the drawing", worst(planned, outsideShare), (o) => [percent(outsideShare(o), 1)]);
  list(
    "most layers",
    worst(planned, (o) => o.plan.layers),
    (o) => [`${o.plan.layers}`],
  );
  list(
    "most stitches under 1 mm",
    worst(planned, (o) => o.plan.short / o.plan.stitches),
    (o) => [`${o.plan.short} of ${o.plan.stitches}`],
  );
  list(
    "most thread that shows",
    worst(planned, (o) => hidden(o).visibleMm),
    (o) => [`${hidden(o).visibleMm.toFixed(1)} of ${hidden(o).lengthMm.toFixed(0)} mm`],
  );
  list(
    "slowest",
    worst(planned, (o) => o.ms),
    (o) => [`${o.ms.toFixed(0)} ms, ${o.plan.pieceCount} pieces`],
  );
}

type Row = readonly [measure: string, value: string, bar?: string];

/** What must hold whatever the drawing. */
function soundness(outcomes: readonly Outcome[], planned: readonly Planned[]): Row[] {
  const count = (test: (outcome: Outcome) => boolean) => String(outcomes.filter(test).length);
  const atBound = planned.filter(
    ({ plan: { metrics } }) => metrics.strands === metrics.strandsLowerBound,
  ).length;
  const exposed = (o: Planned) =>
    o.plan.connectors.reduce((mm, c) => mm + (c.kind === "tucked" ? c.exposedMm : 0), 0);
  return [
    ["planned", String(planned.length)],
    ["refused with one clear line", count((o) => o.refused !== undefined)],
    ["crashed", count((o) => o.crashed !== undefined), "0"],
    ["drawings with a needle path fault", count((o) => (o.plan?.faults.length ?? 0) > 0), "0"],
    ["exposed mm of tucked connectors", sum(planned, exposed).toFixed(3), "0"],
    ["tucked mm outside later pieces, by jsts", sum(planned, (o) => o.plan.strayMm).toFixed(3), "0"],
    ["strands equal to the lower bound", `${atBound} (${percent(atBound, planned.length)})`, "100 %"],
    ["strands", String(sum(planned, (o) => o.plan.metrics.strands))],
  ];
}

/** How the sew-out looks and feels. */
function craft(planned: readonly Planned[]): Row[] {
  const share = (part: (o: Planned) => number, whole: (o: Planned) => number) =>
    percent(sum(planned, part), sum(planned, whole));
  const stitches = (o: Planned) => o.plan.stitches;
  const own = planned.filter((o) => o.plan.likeness.insideMm2 > 0).map(ownShare);
  return [
    [
      "area in its own colour, mean",
      percent(
        sum(own, (x) => x),
        own.length,
      ),
      ">= 97 %",
    ],
    ["area in its own colour, 5th percentile", percent(quantile(own, 0.05), 1), ">= 92 %"],
    [
      "bare fabric inside the artwork",
      share(
        (o) => o.plan.likeness.bareMm2,
        (o) => o.plan.likeness.insideMm2,
      ),
      "<= 1 %",
    ],
    [
      "thread more than 0.3 mm outside the artwork",
      share(
        (o) => o.plan.likeness.outsideMm2,
        (o) => o.plan.likeness.paintedMm2,
      ),
      "<= 1 %",
    ],
    [
      "connector that shows",
      share(
        (o) => o.plan.seen.connector.visibleMm,
        (o) => o.plan.seen.connector.lengthMm,
      ),
      "<= 0.5 %",
    ],
    [
      "connector and travel that shows",
      share(
        (o) => hidden(o).visibleMm,
        (o) => hidden(o).lengthMm,
      ),
    ],
    ["  worst drawing (over 20 mm of it)", percent(...worstShown(planned))],
    ["stitches under 0.4 mm, ties apart", share((o) => o.plan.tooShort, stitches), "0 %"],
    ["stitches under 1 mm, ties apart", share((o) => o.plan.short, stitches), "<= 2 %"],
    ["most layers of fill and satin on one spot", most(planned.map((o) => o.plan.layers)), "<= 4"],
    ["drawings with more than four layers", String(planned.filter((o) => o.plan.layers > 4).length), "0"],
    ["  with single lines on top: most", most(planned.map((o) => o.plan.layersAndLines))],
    ["drawings with more than two layers", String(planned.filter((o) => o.plan.layers > 2).length)],
  ];
}

const most = (counts: readonly number[]): string => String(Math.max(...counts));

/** What it takes. */
function cost(planned: readonly Planned[]): Row[] {
  const times = planned.map((o) => o.ms);
  const plainTrims = sum(planned, ({ plan }) => plan.metrics.untucked.strands - plan.metrics.untucked.blocks);
  const trims = sum(planned, ({ plan }) => plan.metrics.strands - plan.metrics.blocks);
  return [
    [
      "trims inside blocks, plain -> planned",
      `${plainTrims} -> ${trims} (${percent(plainTrims - trims, plainTrims)} gone)`,
    ],
    ["stitches", String(sum(planned, (o) => o.plan.metrics.stitches))],
    ["processor time, median", `${median(times).toFixed(1)} ms`],
    ["processor time, 95th percentile", `${quantile(times, 0.95).toFixed(1)} ms`],
    ["processor time, worst", `${Math.max(...times).toFixed(0)} ms`],
    ["peak memory", `${Math.round(process.resourceUsage().maxRSS / 1024)} MB`],
  ];
}

const sum = <T>(items: readonly T[], pick: (item: T) => number): number =>
  items.reduce((total, item) => total + pick(item), 0);

const percent = (part: number, whole: number): string =>
  `${((100 * part) / Math.max(whole, 1e-12)).toFixed(2)} %`;

/** Shares of one drawing; a drawing that is all edge has none of its inside to judge. */
const ownShare = ({ plan: { likeness } }: Planned): number =>
  likeness.insideMm2 === 0 ? 1 : likeness.ownColourMm2 / likeness.insideMm2;
const bareShare = ({ plan: { likeness } }: Planned): number =>
  likeness.insideMm2 === 0 ? 0 : likeness.bareMm2 / likeness.insideMm2;
const outsideShare = ({ plan: { likeness } }: Planned): number =>
  likeness.paintedMm2 === 0 ? 0 : likeness.outsideMm2 / likeness.paintedMm2;

/** Connectors and travel together. */
const hidden = ({ plan: { seen } }: Planned): Seen => ({
  visibleMm: seen.connector.visibleMm + seen.travel.visibleMm,
  lengthMm: seen.connector.lengthMm + seen.travel.lengthMm,
});

/** The ten drawings with the largest of a figure. */
const worst = (planned: readonly Planned[], figure: (outcome: Planned) => number): Planned[] =>
  [...planned].sort((a, b) => figure(b) - figure(a)).slice(0, 10);

/** Visible and whole length of the drawing where the largest share shows. */
function worstShown(planned: readonly Planned[]): [number, number] {
  let most: [number, number] = [0, 1];
  for (const outcome of planned) {
    const { visibleMm, lengthMm } = hidden(outcome);
    if (lengthMm > 20 && visibleMm / lengthMm > most[0] / most[1]) most = [visibleMm, lengthMm];
  }
  return most;
}

function list<T extends Outcome>(
  title: string,
  outcomes: readonly T[],
  lines: (outcome: T) => readonly string[],
): void {
  const found = outcomes.flatMap((o) => lines(o).map((line) => `  ${o.name}: ${line}`));
  if (found.length === 0) return;
  console.log(`\n${title} (${found.length})`);
  for (const line of found.slice(0, 40)) console.log(line);
}

// As the command line has it.
tuneEngine();

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    set: { type: "string" },
    every: { type: "string" },
    width: { type: "string", default: "80" },
    order: { type: "string", default: DEFAULT_SETTINGS.order },
    technique: { type: "string", default: DEFAULT_SETTINGS.technique },
  },
});
const every = Math.max(1, Number(values.every ?? 1));
const settings = settingsWith({ widthMm: settingFromText(values.width), technique: values.technique });
let failed = false;
for (const set of values.set ? [values.set] : Object.keys(DRAWING_SETS)) {
  if (!(set in DRAWING_SETS))
    throw new Error(`no set ${set}; there are ${Object.keys(DRAWING_SETS).join(", ")}`);
  const names = drawingNames(set).filter((_, k) => k % every === 0);
  if (names.length === 0) {
    console.log(`\nSet ${set} is not on this machine: ${DRAWING_SETS[set].about}`);
    continue;
  }
  if (positionals[0] === "machine") {
    failed = !checkMachineFiles(set, names, Number(values.width)) || failed;
    continue;
  }
  if (values.order === "regroup") {
    failed = !(await checkRegroup(set, names, settings)) || failed;
    continue;
  }
  const outcomes: Outcome[] = [];
  for (const name of names) {
    outcomes.push(tryDrawing(set, name, settings));
    // What the rasteriser holds outside the heap is let go when the event loop turns.
    await setImmediate();
  }
  report(set, outcomes, settings);
  failed ||= outcomes.some(
    (o) => o.crashed !== undefined || (o.plan && (o.plan.faults.length > 0 || o.plan.strayMm > 0)),
  );
}
process.exitCode = failed ? 1 : 0;
