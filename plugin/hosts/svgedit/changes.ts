/**
 * When the drawing changed. Whatever changes it goes through the editor's undo manager, so that is where we
 * listen: one place for the artist's tools, undo, redo, and the panel's own edits. While something is being
 * dragged nothing is told, and what comes in quick succession (typing, arrow keys) is told once.
 */
import type { Unsubscribe } from "../../editor-host.ts";
import type { HistoryCommand, SvgCanvas } from "./svgedit-types.ts";

/** Long enough to gather the steps of one gesture, short enough not to be noticed. */
const PAUSE_MS = 80;

export class Changes {
  readonly #canvas: SvgCanvas;
  readonly #listeners = new Set<() => void>();
  #timer: ReturnType<typeof setTimeout> | undefined;
  #saved: HistoryCommand | undefined;

  constructor(canvas: SvgCanvas) {
    this.#canvas = canvas;
    const { undoMgr } = canvas;
    const { addCommandToHistory, undo, redo } = undoMgr;
    undoMgr.addCommandToHistory = (command) => {
      addCommandToHistory.call(undoMgr, command);
      this.soon();
    };
    undoMgr.undo = () => {
      undo.call(undoMgr);
      this.soon();
    };
    undoMgr.redo = () => {
      redo.call(undoMgr);
      this.soon();
    };
  }

  listen(listener: () => void): Unsubscribe {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** After the pause, and not before a drag has ended. */
  soon(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => (this.#canvas.getStarted() ? this.soon() : this.now()), PAUSE_MS);
  }

  now(): void {
    clearTimeout(this.#timer);
    for (const listener of this.#listeners) listener();
  }

  /** The state that is on the disk, or that was opened, is the one of now. */
  markSaved(): void {
    this.#saved = this.#top();
  }

  isSaved(): boolean {
    return this.#saved === this.#top();
  }

  #top(): HistoryCommand | undefined {
    const { undoStack, undoStackPointer } = this.#canvas.undoMgr;
    return undoStack[undoStackPointer - 1];
  }
}
