/** What a person reads after planning: what was gained against plain paint order, what to look at, what to do. */
import { type ThreadUse, threadUse } from "../core/plan/thread-use.ts";
import type { Metrics, PlainMetrics, Plan } from "../core/plan/types.ts";
import type { Settings } from "../core/settings.ts";
import { groupedFindingLines } from "./findings.ts";
import { count, duration, metres, mm, printable, tableLines } from "./table.ts";

/** Threads that the summary shows. */
const MOST_THREADS = 12;

/** Kinds of findings that the summary shows. */
const MOST_KINDS = 5;

const SAFETY =
  "Sew a sample on the same fabric first. For needles and hoop, your machine's manual has the last word.";

/** The summary of a plan: `shown` is what the artwork is called, `word` what was typed for it. */
export function summaryLines(plan: Plan, shown: string, word: string): string[] {
  const { widthMm, heightMm } = plan.size;
  const lines = [
    `${printable(shown)}: ${mm(widthMm)} × ${mm(heightMm)} mm`,
    "",
    ...metricLines(plan),
    "",
    ...threadLines(threadUse(plan)),
  ];
  if (plan.findings.length > 0)
    lines.push(
      "Findings",
      ...groupedFindingLines(plan.findings, MOST_KINDS, `tuckline check ${asTyped(word)}`).map(
        (line) => `  ${line}`,
      ),
      "",
    );
  return [...lines, SAFETY];
}

/** The threads in the order in which they are first sewn; nothing where nothing is sewn. */
function threadLines(uses: readonly ThreadUse[]): string[] {
  if (uses.length === 0) return [];
  const table = tableLines(
    [
      { title: "  thread" },
      { title: "" },
      { title: "blocks", align: "right" },
      { title: "stitches", align: "right" },
      { title: "needle", align: "right" },
      { title: "bobbin", align: "right" },
    ],
    uses
      .slice(0, MOST_THREADS)
      .map(({ colour, thread, blocks, stitches, needleMm, bobbinMm }) => [
        `  ${colour}`,
        thread === undefined ? "" : printable([thread.code, thread.name].filter(Boolean).join(" ")),
        count(blocks),
        count(stitches),
        metres(needleMm),
        metres(bobbinMm),
      ]),
  );
  const hidden = uses.length - MOST_THREADS;
  return [...table, ...(hidden > 0 ? [`  and ${count(hidden)} more`] : []), ""];
}

const asTyped = (word: string): string => (/\s/.test(word) ? `"${printable(word)}"` : printable(word));

function metricLines({ metrics, settings }: Plan): string[] {
  const { untucked } = metrics;
  const row = (name: string, show: (of: PlainMetrics) => string, note = ""): string[] => [
    `  ${name}`,
    show(untucked),
    show(metrics),
    note,
  ];
  return tableLines(
    [{ title: "" }, { title: "plain", align: "right" }, { title: "planned", align: "right" }, { title: "" }],
    [
      row("pieces", ({ pieces }) => count(pieces)),
      row("blocks", ({ blocks }) => count(blocks), blocksNote(metrics)),
      row("strands", ({ strands }) => count(strands), strandsNote(metrics, settings.order)),
      row("trims", ({ trims }) => count(trims)),
      row("hops", ({ hops }) => count(hops)),
      row("stitches", ({ stitches }) => count(stitches)),
      row("connectors", ({ connectorMm }) => `${mm(connectorMm)} mm`, tuckedNote(metrics)),
      row("thread", ({ threadMm }) => metres(threadMm), "as it lies on the fabric"),
      row("sewing time", ({ seconds }) => duration(seconds), "estimated"),
    ],
  );
}

const blocksNote = ({ blocks, blocksLowerBound, untucked }: Metrics): string => {
  if (blocks > blocksLowerBound) return `at least ${count(blocksLowerBound)} needed`;
  return blocks < untucked.blocks ? "the fewest that the overlaps allow" : "";
};

const strandsNote = ({ strands, strandsLowerBound }: Metrics, order: Settings["order"]): string => {
  const where = order === "paint" ? " in this order" : "";
  return strands > strandsLowerBound
    ? `at least ${count(strandsLowerBound)} needed${where}`
    : `the fewest possible${where}`;
};

function tuckedNote({ connectorMm, tuckedMm, exposedMm, blendedMm = 0 }: Metrics): string {
  if (connectorMm === 0) return "";
  if (exposedMm === 0 && blendedMm === 0) return "all tucked";
  const share = Math.floor((100 * tuckedMm) / connectorMm);
  const rest = [
    blendedMm > 0 ? `, ${mm(blendedMm)} mm along seams` : "",
    exposedMm > 0 ? `, ${mm(exposedMm)} mm exposed` : "",
  ];
  return `${mm(tuckedMm)} mm (${share} %) tucked${rest.join("")}`;
}
