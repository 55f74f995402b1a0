/**
 * What the panel asks of an editor, and all that it knows of one. Each editor implements it in a folder of
 * `hosts/`; to the panel they are the same.
 *
 * Ids are those of the document's elements; every element that is drawn has one. Points are in the root's user
 * units, as the text from `read()` has them, unless a name says otherwise.
 */
import type { Matrix } from "../core/geometry/types.ts";
import type { Thread } from "../core/threads/types.ts";
import type { PlannerClient } from "./worker/client.ts";

/** Call it to stop listening. */
export type Unsubscribe = () => void;

/** One attribute of the artist's own element, or of the document as a whole; `null` takes it away. */
export interface AttributeEdit {
  /** An element's id, or `null`: the document (kept on its `<metadata>`). */
  readonly element: string | null;
  /** Always one of `data-tuck-*`: the panel changes nothing else of the artist's. */
  readonly name: `data-tuck-${string}`;
  readonly value: string | null;
}

export interface EditorHost {
  /** The drawing as the core reads it: SVG text with its true size, without what the editor adds for itself. */
  read(): string;
  /** The file's name as the artist knows it; `null` before it was saved or opened. */
  fileName(): string | null;

  /** Makes another drawing the document; the undo history begins anew. */
  open(svgText: string, fileName: string | null): Promise<void>;
  /** Puts another version of the drawing in place of it, as one step of the editor's undo. */
  replace(label: string, svgText: string): void;
  /** Makes all edits as one step of the editor's undo. */
  change(label: string, edits: readonly AttributeEdit[]): void;
  undo(): void;
  redo(): void;

  selection(): readonly string[];
  select(elements: readonly string[]): void;

  /** After every change of the drawing: the artist's, the panel's, undo and redo. Not while a drag is going on. */
  onChange(listener: () => void): Unsubscribe;
  onSelection(listener: (elements: readonly string[]) => void): Unsubscribe;

  readonly overlay: OverlaySurface;

  save(): Promise<SaveResult>;
  saveAs(fileName: string): Promise<SaveResult>;
}

/** Where the panel draws over the canvas: it lies above the drawing, moves with it, and is never part of it. */
export interface OverlaySurface {
  /** Fills the visible part of the canvas; events pass through it but where a child asks for them. */
  readonly element: HTMLElement;
  /** From the root's user units to CSS pixels of `element`, as seen now. */
  view(): Matrix;
  /** After every zoom, pan, scroll and resize. */
  onView(listener: () => void): Unsubscribe;
  /** Scrolls, and zooms where need be, so that the box (user units) can be seen. */
  reveal(box: {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
  }): void;
  /**
   * What is drawn here now, by the roles of layers in the drawing: layers of these roles are not seen meanwhile, so
   * that nothing shows twice. The drawing itself stays as it is.
   */
  cover(roles: readonly string[]): void;
  /** While the panel handles a drag, the editor's own tools keep still. */
  hold(isHeld: boolean): void;
}

export type SaveResult =
  | { readonly kind: "saved"; readonly fileName: string }
  /** Another program changed the file meanwhile; nothing was written. */
  | { readonly kind: "changed-on-disk"; readonly fileName: string; overwrite(): Promise<SaveResult> }
  /** `saveAs` met a file of this name; nothing was written. */
  | { readonly kind: "exists"; readonly fileName: string; overwrite(): Promise<SaveResult> }
  | { readonly kind: "failed"; readonly message: string; readonly remedy: string }
  | { readonly kind: "cancelled" };

/** What the page hands to `mountPanel(host, container, options)`. */
export interface PanelOptions {
  /** Settings that were given on the command line; the drawing's own and the panel's go before them. */
  readonly given: Readonly<Record<string, unknown>>;
  /** A list to choose threads from, where one was given. */
  readonly threads: readonly Thread[] | undefined;
  /** The planning worker; it may have begun with the drawing before the panel was there. */
  readonly planner: PlannerClient;
  /** Opens the demo drawing, where the page has one. */
  readonly openDemo?: () => Promise<void>;
  /** Called once: when the first plan stands on the canvas, or when it is clear that there is none. */
  readonly onFirst?: () => void;
}

/** `panel.js` exports it as `mountPanel`; it fills the container and draws on the host's overlay. */
export type MountPanel = (host: EditorHost, container: HTMLElement, options: PanelOptions) => void;
