/**
 * The editor draws its rulers anew, whole, at each step of opening a drawing: most of the time that opening takes.
 * Here they are drawn once, at the end.
 */
import type { SvgEditor } from "./svgedit-types.ts";

/** Does some work on the canvas with the rulers left as they are meanwhile. */
export function withRulersAtRest<T>({ configObj: { curConfig }, rulers }: SvgEditor, work: () => T): T {
  const { showRulers } = curConfig;
  curConfig.showRulers = false;
  try {
    return work();
  } finally {
    curConfig.showRulers = showRulers;
    if (showRulers) rulers.updateRulers();
  }
}
