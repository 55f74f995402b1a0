/** Check: the figures of the plan and what was found, to read; the drawing stays as it is. */
import { groupFindings } from "../../../../core/finding-groups.ts";
import type { Finding } from "../../../../core/findings.ts";
import { count, duration, metres, mm } from "../../../../core/output/figure-text.ts";
import type { Plan } from "../../../../core/plan/types.ts";
import type { Entry } from "../entry.ts";
import { planOf } from "../planning.ts";
import { CHECK, SAYS } from "../texts.ts";

export const check: Entry = {
  name: "check",
  label: CHECK.label,
  tip: CHECK.tip,
  hasPreview: false,
  fields: [],
  run: ({ svg }) => ({ message: reportOf(planOf(svg)) }),
};

function reportOf({ size, metrics, findings }: Plan): string {
  const { strands, strandsLowerBound, seconds, threadMm } = metrics;
  return [
    SAYS.size(mm(size.widthMm), mm(size.heightMm), duration(seconds), metres(threadMm)),
    `${SAYS.gained(metrics)} (${SAYS.bound(strands, strandsLowerBound)}).`,
    "",
    ...(findings.length === 0 ? [CHECK.nothing] : groupFindings(findings).map(lineOf)),
  ].join("\n");
}

/** The first finding of a kind stands for all of them. */
function lineOf(group: readonly Finding[]): string {
  const [{ severity, message, remedy }] = group;
  const more = group.length > 1 ? SAYS.more(count(group.length - 1)) : "";
  return `${SAYS.grade[severity]} ${message} ${remedy}${more}`;
}
