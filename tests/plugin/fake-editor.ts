/** An editor without a window: the drawing is its text, every change one step of an undo list. */
import { vi } from "vitest";
import { IDENTITY } from "../../core/artwork/matrix.ts";
import { withMarks } from "../../core/layers/edit-marks.ts";
import type { EditorHost, SaveResult } from "../../plugin/editor-host.ts";
import { createClient, type PlannerClient, type WorkerLike } from "../../plugin/worker/client.ts";
import type { FromWorker, ToWorker } from "../../plugin/worker/protocol.ts";
import { type Port, serve } from "../../plugin/worker/serve.ts";

export interface FakeEditor extends EditorHost {
  /** Names of the steps that undo would take back, the last first. */
  readonly steps: readonly string[];
  /** The artist draws. */
  draw(svgText: string): void;
  readonly revealed: readonly object[];
  saveResult: SaveResult;
}

export function fakeEditor(svgText: string, fileName = "drawing.svg"): FakeEditor {
  let text = svgText;
  let selected: readonly string[] = [];
  const done: { label: string; before: string }[] = [];
  const undone: { label: string; before: string }[] = [];
  const onChange = new Set<() => void>();
  const onSelection = new Set<(elements: readonly string[]) => void>();
  const revealed: object[] = [];
  const become = (next: string): void => {
    text = next;
    for (const listener of onChange) listener();
  };
  const step = (label: string, next: string): void => {
    done.push({ label, before: text });
    become(next);
  };
  return {
    read: () => text,
    fileName: () => fileName,
    open: async (next) => become(next),
    replace: step,
    change: (label, edits) => step(label, withMarks(text, edits)),
    undo() {
      const last = done.pop();
      if (last === undefined) return;
      undone.push({ label: last.label, before: text });
      become(last.before);
    },
    redo() {
      const last = undone.pop();
      if (last !== undefined) step(last.label, last.before);
    },
    selection: () => selected,
    select(elements) {
      selected = elements;
      for (const listener of onSelection) listener(elements);
    },
    onChange(listener) {
      onChange.add(listener);
      return () => onChange.delete(listener);
    },
    onSelection(listener) {
      onSelection.add(listener);
      return () => onSelection.delete(listener);
    },
    overlay: {
      element: undefined as unknown as HTMLElement,
      view: () => IDENTITY,
      onView: () => () => {},
      reveal: (box) => revealed.push(box),
      cover: () => {},
      hold: () => {},
    },
    save() {
      return Promise.resolve(this.saveResult);
    },
    saveAs() {
      return Promise.resolve(this.saveResult);
    },
    get steps() {
      return done.map(({ label }) => label).reverse();
    },
    draw: (next) => become(next),
    revealed,
    saveResult: { kind: "saved", fileName },
  };
}

/** A worker in this very thread: it answers when the one who asked has done what it is at. */
export function workerHere(): WorkerLike {
  let isEnded = false;
  const worker: WorkerLike = {
    onmessage: null,
    onerror: null,
    postMessage(message: ToWorker) {
      queueMicrotask(() => {
        if (!isEnded) port.onmessage?.({ data: structuredClone(message) });
      });
    },
    terminate() {
      isEnded = true;
    },
  };
  const port: Port = {
    onmessage: null,
    postMessage(message: FromWorker, transfer: ArrayBuffer[] = []) {
      const data = structuredClone(message, { transfer });
      queueMicrotask(() => {
        if (!isEnded) worker.onmessage?.({ data } as MessageEvent<FromWorker>);
      });
    },
  };
  // Each look at the clock is late enough to be told of.
  let at = 0;
  serve(port, () => {
    at += 100;
    return at;
  });
  return worker;
}

export const clientHere = (): PlannerClient => createClient(workerHere);

/** Lets all that waits for a turn have it, and time pass. */
export const settle = (ms = 20): Promise<unknown> => vi.advanceTimersByTimeAsync(ms);
