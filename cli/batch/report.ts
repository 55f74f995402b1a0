/**
 * The report of a batch: an entry for each drawing, sorted by name. It tells nothing of when or how fast it was
 * made, so that the same drawings and settings give the same bytes.
 */
import { groupFindings, SEVERITIES } from "../../core/finding-groups.ts";
import type { Severity } from "../../core/findings.ts";
import type { PlainMetrics, Plan } from "../../core/plan/types.ts";
import { CliError } from "../io.ts";
import type { Shard } from "./shard.ts";

export const REPORT_FORMAT = "tuckline-report";
export const REPORT_VERSION = 1;

export interface Report {
  readonly format: typeof REPORT_FORMAT;
  readonly version: typeof REPORT_VERSION;
  /** Of how many shards, and which of them are in here; `null` is the whole. */
  readonly shards: { readonly of: number; readonly present: readonly number[] } | null;
  readonly drawings: readonly ReportEntry[];
}

export type ReportEntry = PlannedEntry | FailedEntry;

export interface PlannedEntry extends PlannedFacts {
  readonly name: string;
  readonly status: "planned";
  /** SHA-256 of the drawing's bytes. */
  readonly drawing: string;
  /** Digest of all that it was planned with. */
  readonly settings: string;
  /** By format: where it lies, from the report's folder. */
  readonly outputs: Readonly<Record<string, string>>;
  readonly thumbnail: string;
}

export interface FailedEntry {
  readonly name: string;
  readonly status: "failed";
  /** What is wrong and what to do. */
  readonly message: string;
}

/** What a plan tells of itself. */
export interface PlannedFacts {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Of the threads, `#rrggbb`, in the order in which they are first sewn. */
  readonly colours: readonly string[];
  readonly metrics: PlainMetrics & { readonly strandsLowerBound: number };
  readonly findings: readonly FindingCount[];
}

/** Findings of one kind: how many, and the first of them. */
export interface FindingCount {
  readonly code: string;
  readonly severity: Severity;
  readonly count: number;
  readonly message: string;
  readonly remedy: string;
}

export function factsOf({ size, pieces, metrics, findings }: Plan): PlannedFacts {
  return {
    widthMm: rounded(size.widthMm),
    heightMm: rounded(size.heightMm),
    colours: [...new Set(pieces.map(({ colour }) => colour))],
    metrics: {
      pieces: metrics.pieces,
      blocks: metrics.blocks,
      strands: metrics.strands,
      strandsLowerBound: metrics.strandsLowerBound,
      trims: metrics.trims,
      hops: metrics.hops,
      stitches: metrics.stitches,
      connectorMm: rounded(metrics.connectorMm),
      tuckedMm: rounded(metrics.tuckedMm),
      exposedMm: rounded(metrics.exposedMm),
      threadMm: rounded(metrics.threadMm),
      seconds: rounded(metrics.seconds),
    },
    findings: groupFindings(findings).map((group) => ({
      code: group[0].code,
      severity: group[0].severity,
      count: group.length,
      message: group[0].message,
      remedy: group[0].remedy,
    })),
  };
}

const rounded = (value: number): number => Math.round(value * 1000) / 1000 + 0;

/** @param shard the part that was planned; undefined for all of it */
export const reportOf = (entries: readonly ReportEntry[], shard?: Shard): Report => ({
  format: REPORT_FORMAT,
  version: REPORT_VERSION,
  shards: shard && shard.of > 1 ? { of: shard.of, present: [shard.number] } : null,
  drawings: sorted(entries),
});

/** By code units: the same in every language. */
const sorted = (entries: readonly ReportEntry[]): ReportEntry[] =>
  [...entries].sort((a, b) => (a.name < b.name ? -1 : Number(a.name > b.name)));

/**
 * Several reports as one. Of a drawing that is in more than one, a plan goes before a failure.
 *
 * @throws CliError where two plans of one name differ, or the reports are shards of different numbers
 */
export function joinReports(reports: readonly Report[]): Report {
  const entries = new Map<string, ReportEntry>();
  for (const entry of reports.flatMap(({ drawings }) => drawings)) {
    const other = entries.get(entry.name);
    if (other?.status === "planned" && entry.status === "planned" && differ(other, entry))
      throw new CliError(
        `${entry.name}: it is in two reports, of different drawings or settings; merge one of the two`,
      );
    if (other?.status !== "planned") entries.set(entry.name, entry);
  }
  return { ...reportOf([...entries.values()]), shards: joinShards(reports) };
}

const differ = (a: PlannedEntry, b: PlannedEntry): boolean =>
  a.drawing !== b.drawing || a.settings !== b.settings;

function joinShards(reports: readonly Report[]): Report["shards"] {
  const parts = reports.flatMap(({ shards }) => (shards === null ? [] : [shards]));
  if (parts.length === 0) return null;
  const [{ of }] = parts;
  const other = parts.find((part) => part.of !== of);
  if (other)
    throw new CliError(
      `tuckline: these are shards of ${of} and shards of ${other.of}; merge those of one batch at a time`,
    );
  const present = [...new Set(parts.flatMap((part) => part.present))].sort((a, b) => a - b);
  return present.length === of ? null : { of, present };
}

/** The shards of a report that are not in it; none of a whole one. */
export const missingShards = ({ shards }: Report): number[] =>
  shards === null
    ? []
    : Array.from({ length: shards.of }, (_, k) => k + 1).filter((k) => !shards.present.includes(k));

export interface Totals {
  readonly planned: number;
  readonly failed: number;
  readonly stitches: number;
  readonly trims: number;
  readonly threadMm: number;
  readonly seconds: number;
  readonly findings: Readonly<Record<Severity, number>>;
}

export function totalsOf({ drawings }: Report): Totals {
  const planned = drawings.filter(isPlanned);
  const sum = (pick: (entry: PlannedEntry) => number): number =>
    planned.reduce((total, entry) => total + pick(entry), 0);
  return {
    planned: planned.length,
    failed: drawings.length - planned.length,
    stitches: sum(({ metrics }) => metrics.stitches),
    trims: sum(({ metrics }) => metrics.trims),
    threadMm: sum(({ metrics }) => metrics.threadMm),
    seconds: sum(({ metrics }) => metrics.seconds),
    findings: Object.fromEntries(
      SEVERITIES.map((severity) => [severity, sum((entry) => countOf(entry, severity))]),
    ) as Record<Severity, number>,
  };
}

export const isPlanned = (entry: ReportEntry): entry is PlannedEntry => entry.status === "planned";

export const countOf = ({ findings }: PlannedEntry, severity: Severity): number =>
  findings.reduce((total, finding) => total + (finding.severity === severity ? finding.count : 0), 0);

/** As JSON text, one line a drawing. */
export const reportJson = ({ drawings, ...head }: Report): string => {
  const members = Object.entries(head).map(
    ([key, value]) => `${JSON.stringify(key)}: ${JSON.stringify(value)}`,
  );
  const lines = drawings.map((entry) => JSON.stringify(entry)).join(",\n");
  return `{\n${[...members, `"drawings": [\n${lines}\n]`].join(",\n")}\n}\n`;
};
