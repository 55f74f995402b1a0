/** The report as comma-separated values by RFC 4180, one row a drawing, for a spreadsheet. */
import { csvText } from "../../core/output/csv.ts";
import { countOf, type PlannedEntry, type Report, type ReportEntry } from "./report.ts";

const FIGURES: Readonly<Record<string, (entry: PlannedEntry) => number>> = {
  width_mm: ({ widthMm }) => widthMm,
  height_mm: ({ heightMm }) => heightMm,
  pieces: ({ metrics }) => metrics.pieces,
  threads: ({ colours }) => colours.length,
  blocks: ({ metrics }) => metrics.blocks,
  strands: ({ metrics }) => metrics.strands,
  strands_lower_bound: ({ metrics }) => metrics.strandsLowerBound,
  trims: ({ metrics }) => metrics.trims,
  hops: ({ metrics }) => metrics.hops,
  stitches: ({ metrics }) => metrics.stitches,
  connector_mm: ({ metrics }) => metrics.connectorMm,
  tucked_mm: ({ metrics }) => metrics.tuckedMm,
  exposed_mm: ({ metrics }) => metrics.exposedMm,
  thread_mm: ({ metrics }) => metrics.threadMm,
  sewing_seconds: ({ metrics }) => metrics.seconds,
  errors: (entry) => countOf(entry, "error"),
  warnings: (entry) => countOf(entry, "warning"),
  notes: (entry) => countOf(entry, "info"),
};

/** Of a drawing that failed the figures are empty, and the message says why. */
const COLUMNS = ["name", "status", ...Object.keys(FIGURES), "message"];

export const reportCsv = ({ drawings }: Report): string => csvText(COLUMNS, drawings.map(rowOf));

function rowOf(entry: ReportEntry): Record<string, string | number> {
  const { name, status } = entry;
  if (entry.status === "failed") return { name, status, message: entry.message };
  const figures = Object.entries(FIGURES).map(([column, figure]) => [column, figure(entry)]);
  return { name, status, ...Object.fromEntries(figures) };
}
