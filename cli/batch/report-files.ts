/**
 * The three files of a report: `report.json`, `report.csv`, `index.html`. Those of a shard carry its number, as in
 * `report.2-of-8.json`, so that shards may share one folder.
 */
import { readdir } from "node:fs/promises";
import { join, posix, relative, sep } from "node:path";
import { SEVERITIES } from "../../core/finding-groups.ts";
import { readInput, withInput } from "../input.ts";
import { CliError, type Io } from "../io.ts";
import { parseJson } from "../json.ts";
import { writeWhole } from "./folder.ts";
import {
  isPlanned,
  type PlannedEntry,
  REPORT_FORMAT,
  REPORT_VERSION,
  type Report,
  type ReportEntry,
  reportJson,
} from "./report.ts";
import { reportCsv } from "./report-csv.ts";
import { reportPage } from "./report-page.ts";
import type { Shard } from "./shard.ts";

/**
 * Writes the three, each whole.
 *
 * @param folder absolute
 * @returns their names in the folder
 * @throws CliError where one cannot be written
 */
export async function writeReport(folder: string, report: Report, shard?: Shard): Promise<string[]> {
  const part = shard && shard.of > 1 ? `.${shard.number}-of-${shard.of}` : "";
  const files = {
    [`index${part}.html`]: reportPage(report),
    [`report${part}.csv`]: reportCsv(report),
    [`report${part}.json`]: reportJson(report),
  };
  for (const [name, text] of Object.entries(files)) await writeWhole(folder, name, Buffer.from(text, "utf8"));
  return Object.keys(files);
}

const SHARD_REPORT = /^report\.\d+-of-\d+\.json$/;

/**
 * The reports in a folder: those of shards where there are any, since the whole one beside them was joined from
 * them; else the whole one.
 *
 * @param shown as typed
 * @param target absolute: outputs are named relative to it
 * @throws CliError where there is none, or one is no report
 */
export async function readReports(shown: string, source: string, target: string, io: Io): Promise<Report[]> {
  const names = await readdir(source).catch(() => {
    throw new CliError(`${shown}: there is no such folder; name one that a batch has written to`);
  });
  const shards = names.filter((name) => SHARD_REPORT.test(name)).sort();
  const reports = shards.length > 0 ? shards : names.filter((name) => name === "report.json");
  if (reports.length === 0)
    throw new CliError(`${shown}: there is no report here; name a folder that a batch has finished`);
  const from = slashed(relative(target, source));
  return Promise.all(
    reports.map(async (name) => {
      const report = await readReport(join(shown, name), io);
      return { ...report, drawings: report.drawings.map((entry) => moved(entry, from)) };
    }),
  );
}

async function readReport(shown: string, io: Io): Promise<Report> {
  const input = await readInput(shown, io);
  const report = withInput(input, () => parseJson(input)) as Partial<Report> | null;
  if (report?.format !== REPORT_FORMAT || !Array.isArray(report.drawings) || !report.drawings.every(isEntry))
    throw new CliError(`${shown}: this is not a report of a batch; run the batch again`);
  if (report.version !== REPORT_VERSION)
    throw new CliError(`${shown}: this report is of another version of Tuckline; run the batch again`);
  return report as Report;
}

/** Whether all is there that the three files are made of: a report may have been changed by hand, or cut short. */
function isEntry(value: unknown): value is ReportEntry {
  const entry = (value ?? {}) as Partial<PlannedEntry> & { readonly message?: unknown };
  if (typeof entry.name !== "string") return false;
  if (entry.status !== "planned") return entry.status === "failed" && typeof entry.message === "string";
  const { widthMm, heightMm, colours, metrics, findings, outputs, thumbnail } = entry;
  return (
    [widthMm, heightMm, ...METRICS.map((name) => metrics?.[name])].every(Number.isFinite) &&
    Array.isArray(colours) &&
    [thumbnail, ...colours, ...Object.values(outputs ?? { none: 0 })].every(isText) &&
    Array.isArray(findings) &&
    findings.every(
      (finding) =>
        SEVERITIES.includes(finding?.severity) &&
        Number.isFinite(finding.count) &&
        [finding.code, finding.message, finding.remedy].every(isText),
    )
  );
}

const METRICS = [
  ...["pieces", "blocks", "strands", "strandsLowerBound", "trims", "hops", "stitches"],
  ...["connectorMm", "tuckedMm", "exposedMm", "threadMm", "seconds"],
] as readonly (keyof PlannedEntry["metrics"])[];

const isText = (value: unknown): boolean => typeof value === "string";

/** The entry with its files named from another folder. */
function moved(entry: ReportEntry, from: string): ReportEntry {
  if (!isPlanned(entry)) return entry;
  const outputs = Object.entries(entry.outputs).map(([format, path]) => [format, posix.join(from, path)]);
  return { ...entry, outputs: Object.fromEntries(outputs), thumbnail: posix.join(from, entry.thumbnail) };
}

const slashed = (path: string): string => (sep === "/" ? path : path.replaceAll(sep, "/"));
