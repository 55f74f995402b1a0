/** What a person reads after a batch, and how it ends. */
import { join } from "node:path";
import type { Severity } from "../../core/findings.ts";
import { SEVERITIES } from "../findings.ts";
import { EXIT, type ExitCode } from "../io.ts";
import { count, duration, metres, plural, printable, tableLines } from "../table.ts";
import { missingShards, type Report, totalsOf } from "./report.ts";
import { missingText } from "./report-page.ts";

/**
 * @param folder as typed
 * @param files of the report, in the folder
 * @param kept how many of the plans an earlier run had made
 */
export function batchSummary(report: Report, folder: string, files: readonly string[], kept = 0): string[] {
  const { planned, failed, stitches, trims, threadMm, seconds, findings } = totalsOf(report);
  const rows = [
    ["drawings", count(report.drawings.length), ""],
    ["planned", count(planned), kept > 0 ? `${count(kept)} of them before` : ""],
    ["failed", count(failed), failed > 0 ? "each is told of above and in the report" : ""],
    ["stitches", count(stitches), ""],
    ["trims", count(trims), ""],
    ["thread", metres(threadMm), "as it lies on the fabric"],
    ["sewing time", duration(seconds), "estimated"],
    ["findings", plural(findings.error, "error"), notes(findings)],
  ].map(([title, ...cells]) => [`  ${title}`, ...cells]);
  const columns = [{ title: "" }, { title: "", align: "right" as const }, { title: "" }];
  return [
    ...tableLines(columns, rows),
    "",
    ...(missingShards(report).length > 0 ? [missingText(report), ""] : []),
    `Written: ${files.map((name) => printable(join(folder, name))).join(", ")}`,
  ];
}

const notes = ({ warning, info }: Readonly<Record<Severity, number>>): string =>
  `${plural(warning, "warning")}, ${plural(info, "note")}`;

/** 1 where a drawing failed, a shard is missing, or a finding is as grave as `failOn`. */
export function batchExitCode(report: Report, failOn: Severity): ExitCode {
  const { failed, findings } = totalsOf(report);
  const grave = SEVERITIES.slice(SEVERITIES.indexOf(failOn)).some((severity) => findings[severity] > 0);
  return failed > 0 || grave || missingShards(report).length > 0 ? EXIT.findings : EXIT.done;
}
