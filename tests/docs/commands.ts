/**
 * The commands in a guide: lines of its indented blocks that call `npx tuckline` or npm. What a block holds that is
 * indented further than its commands is what the last command prints.
 */
export interface GuideCommand {
  readonly line: number;
  /** As a shell would split them, without `npx tuckline`; or, of npm, without `npm`. */
  readonly words: readonly string[];
  readonly program: "tuckline" | "npm";
}

export interface GuideOutput {
  readonly line: number;
  readonly text: string;
}

export type GuideStep = GuideCommand | GuideOutput;

export const isCommand = (step: GuideStep): step is GuideCommand => "program" in step;

const BLOCK = "    ";
/** So many lines after a command or a line of its output, what is set off as a block is output of it. */
const OUTPUT_WITHIN = 4;
/** A command ends where the shell ends it, or where the quotes close that it stands in (`sbatch --wrap '…'`). */
const CALL = /(npx tuckline|npm) ((?:"[^"]*"|'[^']*'|[^'"&#])+)/g;

/** What a guide tells to type, and what it says comes of it, from top to bottom. */
export function stepsOf(guide: string): GuideStep[] {
  const steps: GuideStep[] = [];
  for (const [k, text] of guide.split("\n").entries()) {
    if (!text.startsWith(BLOCK) || text.trim() === "") continue;
    const line = k + 1;
    const calls = [...text.matchAll(CALL)];
    const isOutput = calls.length === 0 && text.startsWith(`${BLOCK}  `) && steps.length > 0;
    if (isOutput && steps[steps.length - 1].line >= line - OUTPUT_WITHIN)
      steps.push({ line, text: text.trim() });
    for (const [, name, rest] of calls)
      steps.push({ line, program: name === "npm" ? "npm" : "tuckline", words: shellWords(rest) });
  }
  return steps;
}

const shellWords = (text: string): string[] =>
  (text.match(/(?:"[^"]*"|'[^']*'|[^\s'"])+/g) ?? []).map((word) => word.replace(/["']/g, ""));
