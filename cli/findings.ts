/** Findings as text: in full for `check`, grouped for the summary; and whether they are grave enough to fail. */
import { bySeverity, groupFindings, rankOf, SEVERITIES } from "../core/finding-groups.ts";
import type { Finding, Severity } from "../core/findings.ts";
import { count, mm, plural, printable } from "./table.ts";

export { bySeverity, SEVERITIES } from "../core/finding-groups.ts";

export const reaches = (findings: readonly Finding[], least: Severity): boolean =>
  findings.some((finding) => rankOf(finding) >= SEVERITIES.indexOf(least));

/** Every finding with its place and remedy, then how many there are. */
export function findingLines(findings: readonly Finding[]): string[] {
  if (findings.length === 0) return ["nothing found"];
  return [...bySeverity(findings).flatMap(linesOf), tally(findings)];
}

function linesOf(finding: Finding): string[] {
  const { severity, code, piece, at } = finding;
  const head = [severity.padEnd(WIDEST), code];
  if (piece !== undefined) head.push(printable(piece));
  if (at !== undefined) head.push(`at ${mm(at[0])}, ${mm(at[1])} mm`);
  return [head.join("  "), ...messageLines(finding), ""];
}

const WIDEST = Math.max(...SEVERITIES.map((severity) => severity.length));

/** What is so and what to do, set below the code. */
function messageLines({ message, remedy }: Finding): string[] {
  const indent = " ".repeat(WIDEST + 2);
  return [`${indent}${printable(message)}`, `${indent}→ ${printable(remedy)}`];
}

/** `1 error, 2 warnings, 3 notes`. */
export function tally(findings: readonly Finding[]): string {
  const number = (severity: Severity) => findings.filter((finding) => finding.severity === severity).length;
  const parts = [
    plural(number("error"), "error"),
    plural(number("warning"), "warning"),
    plural(number("info"), "note"),
  ];
  return parts.filter((part) => !part.startsWith("0 ")).join(", ");
}

/** The first of each kind of finding, the gravest kind first, at most `most` of them; `more` says where the rest are. */
export function groupedFindingLines(findings: readonly Finding[], most: number, more: string): string[] {
  const shown = groupFindings(findings).slice(0, most);
  const hidden = findings.length - shown.length;
  const lines = shown.flatMap(groupLines);
  return hidden > 0 ? [...lines, `and ${count(hidden)} more: ${more}`] : lines;
}

function groupLines(group: readonly Finding[]): string[] {
  const [first] = group;
  const head = [first.severity.padEnd(WIDEST), first.code];
  if (first.piece !== undefined) head.push(printable(first.piece));
  if (group.length > 1) head.push(`and ${count(group.length - 1)} more like it`);
  return [head.join("  "), ...messageLines(first)];
}
