/** Findings for reading: the gravest first, and those of one kind together. */
import type { Finding, Severity } from "./findings.ts";

/** From the least to the gravest. */
export const SEVERITIES: readonly Severity[] = ["info", "warning", "error"];

/** The higher, the graver. */
export const rankOf = ({ severity }: Finding): number => SEVERITIES.indexOf(severity);

/** The gravest first; among equals as they came. */
export const bySeverity = (findings: readonly Finding[]): Finding[] =>
  [...findings].sort((a, b) => rankOf(b) - rankOf(a));

/** Findings of one code and severity together, the gravest kind first, each as long as there are any. */
export function groupFindings(findings: readonly Finding[]): Finding[][] {
  const groups = new Map<string, Finding[]>();
  for (const finding of bySeverity(findings)) {
    const kind = `${finding.severity} ${finding.code}`;
    const group = groups.get(kind);
    if (group) group.push(finding);
    else groups.set(kind, [finding]);
  }
  return [...groups.values()];
}
