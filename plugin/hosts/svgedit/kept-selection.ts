/**
 * The editor lets go of what is selected at every undo and redo. An artist who takes back the angle of a feather
 * goes on with that feather: what is still there afterwards is selected again, unless another tool is in hand.
 */
import type { SvgCanvas } from "./svgedit-types.ts";

export function keepSelection(
  canvas: SvgCanvas,
  selection: () => readonly string[],
  select: (elements: readonly string[]) => void,
): void {
  const { undoMgr } = canvas;
  for (const step of ["undo", "redo"] as const) {
    const plain = undoMgr[step];
    undoMgr[step] = () => {
      const before = canvas.getMode() === "select" ? selection() : [];
      plain.call(undoMgr);
      // The editor fills its list of layers afterwards, which lets go of the selection too.
      if (before.length > 0) queueMicrotask(() => select(before));
    };
  }
}
