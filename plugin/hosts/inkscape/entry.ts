/** An entry of the editor's menu: its dialog, and what it makes of the drawing. Entries touch no file. */
import type { SelectedNode } from "./arguments.ts";
import type { Field, Values } from "./fields.ts";

export interface Entry {
  /** Part of the extension's id: `tuckline.plan`. */
  readonly name: string;
  readonly label: string;
  readonly tip: string;
  readonly fields: readonly Field[];
  /** Whether the editor may show the outcome while the dialog is open. Not where something is shown or saved. */
  readonly hasPreview: boolean;
  /**
   * @throws ArtworkError where nothing can be made of the drawing
   * @throws Refusal where nothing can be made of what was asked for
   */
  run(request: Request): Outcome;
}

/** What is asked of an entry. */
export interface Request {
  /** The open drawing, as the editor would save it. */
  readonly svg: string;
  readonly values: Values;
  /** Ids of the selected elements. */
  readonly selection: readonly string[];
  readonly nodes: readonly SelectedNode[];
}

export interface Outcome {
  /** What takes the drawing's place, as one step of the editor's undo; without it the drawing stays. */
  readonly svg?: string;
  /** What the editor shows in a window. */
  readonly message?: string;
  readonly files?: Files;
}

/** Files to be written, all or none. */
export interface Files {
  /** As typed; empty: where the drawing lies. */
  readonly folder: string;
  /** Whether the artist is told where they were written. */
  readonly isTold: boolean;
  readonly files: readonly { readonly name: string; readonly bytes: Uint8Array }[];
}

/** What was asked for cannot be done: a sentence that says why, and what to do. */
export class Refusal extends Error {
  constructor(message: string) {
    super(message);
    this.name = "Refusal";
  }
}
