/** Findings as text: in full for `check`, grouped for the summary; and whether they are grave enough to fail. */
import type { Finding, Severity } from "../core/findings.ts";
import { count, mm, plural, printable } from "./table.ts";

/** From the least to the gravest. */
export const SEVERITIES: readonly Severity[] = ["info", "warning", "error"];

const rank = ({ severity }: Finding): number => SEVERITIES.indexOf(severity);

export const reaches = (findings: readonly Finding[], least: Severity): boolean =>
  findings.some((finding) => rank(finding) >= SEVERITIES.indexOf(least));

/** The gravest first; among equals as they came. */
export const bySeverity = (findings: readonly Finding[]): Finding[] =>
  [...findings].sort((a, b) => rank(b) - rank(a));

/** Every finding with its place and remedy, then how many there are. */
export function findingLines(findings: readonly Finding[]): string[] {
  if (findings.length === 0) return ["nothing found"];
  return [...bySeverity(findings).flatMap(linesOf), tally(findings)];
}

function linesOf(finding: Finding): string[] {
  const { severity, code, piece, at, message, remedy } = finding;
  const head = [severity.padEnd(8), code];
  if (piece !== undefined) head.push(printable(piece));
  if (at !== undefined) head.push(`at ${mm(at[0])}, ${mm(at[1])} mm`);
  return [head.join("  "), `          ${printable(message)}`, `          → ${printable(remedy)}`, ""];
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

/** One line for each kind of finding, the gravest first, at most `most` of them; `more` says where the rest are. */
export function groupedFindingLines(findings: readonly Finding[], most: number, more: string): string[] {
  const groups = new Map<string, Finding[]>();
  for (const finding of bySeverity(findings)) {
    const kind = `${finding.severity} ${finding.code}`;
    groups.set(kind, [...(groups.get(kind) ?? []), finding]);
  }
  const shown = [...groups.values()].slice(0, most);
  const rest = findings.length - shown.reduce((sum, group) => sum + group.length, 0);
  const lines = shown.map(groupLine);
  const hidden = rest + shown.reduce((sum, group) => sum + group.length - 1, 0);
  if (hidden > 0) lines.push(`  and ${count(hidden)} more: ${more}`);
  return lines;
}

function groupLine(group: readonly Finding[]): string {
  const [first] = group;
  const times = group.length > 1 ? ` (${count(group.length)} times)` : "";
  const where = first.piece === undefined ? "" : `${printable(first.piece)}: `;
  return `  ${first.severity.padEnd(7)}  ${first.code}${times}  ${where}${printable(first.message)} → ${printable(first.remedy)}`;
}
