/** The part of the editor (svgedit 7.4) that the host touches; the package brings no types of its own. */
import type { EditorHost } from "../../editor-host.ts";

export interface HistoryHandler {
  handleHistoryEvent(event: string, command: HistoryCommand): void;
}

/** A step of the editor's undo. */
export interface HistoryCommand {
  getText(): string;
  apply(handler: HistoryHandler | null): void;
  unapply(handler: HistoryHandler | null): void;
  elements(): readonly Element[];
  type(): string;
}

export interface UndoManager {
  undoStackPointer: number;
  undoStack: HistoryCommand[];
  undo(): void;
  redo(): void;
  addCommandToHistory(command: HistoryCommand): void;
  resetUndoStack(): void;
}

export interface EditorLayer {
  getGroup(): SVGGElement;
  activate(): void;
  deactivate(): void;
}

/** The editor's own view of the layers of one document. */
export interface EditorDrawing {
  readonly all_layers: readonly EditorLayer[];
  current_layer: EditorLayer | null;
  identifyLayers(): void;
}

export interface SvgCanvas {
  /** Of the drawing's size, in user units. */
  contentW: number;
  contentH: number;
  current_drawing_: EditorDrawing;
  readonly undoMgr: UndoManager;
  readonly selectorManager: { readonly selectorParentGroup: SVGGElement };
  readonly pathActions: { clear(shouldKeepMode?: boolean): void };

  getSvgContent(): SVGSVGElement;
  setSvgContent(content: SVGSVGElement): void;
  getSvgRoot(): SVGSVGElement;
  setSvgString(svgText: string, isOutsideHistory?: boolean): boolean;
  getSvgString(): string;
  getDataStorage(): {
    get(element: Element, name: string): unknown;
    has(element: Element, name: string): boolean;
  };
  setSvgOption(name: string, value: unknown): void;

  getMouseTarget(event: MouseEvent): Element | null;
  getMode(): string;
  getStarted(): boolean;
  getZoom(): number;
  setCurrentZoom(zoom: number): void;

  getSelectedElements(): readonly (Element | null)[];
  selectOnly(elements: readonly Element[], withGrips?: boolean): void;
  clearSelection(isQuiet?: boolean): void;
  call(event: string, argument: unknown): unknown;
  setUiStrings?(strings: unknown): void;
}

export interface SvgEditor {
  readonly svgCanvas: SvgCanvas;
  readonly workarea: HTMLElement;
  readonly layersPanel: { populateLayers(): void };
  readonly topPanel: { updateTitle(title: string): void; updateContextPanel(): void };
  readonly leftPanel: { clickSelect(): void };
  readonly configObj: { readonly curConfig: { showRulers: boolean } };
  readonly rulers: { updateRulers(): void };
  showSaveWarning: boolean;
  setConfig(config: Readonly<Record<string, unknown>>): void;
  init(): Promise<void>;
  addExtension(
    name: string,
    init: (editorParts: unknown) => Promise<EditorExtension>,
    options: Readonly<Record<string, unknown>>,
  ): Promise<void>;
  updateCanvas(isCentred?: boolean, centre?: { x: number; y: number }): void;
  zoomChanged(window: Window, box: unknown, isCentred?: boolean): void;
}

/** What an extension's `init` gives back: called by the editor on its events. */
export interface EditorExtension {
  readonly name: string;
  /** For whoever looks at the running page: the editor keeps it beside its other extensions. */
  readonly host: EditorHost;
  callback?(): void;
  selectedChanged?(): void;
  zoomChanged?(): void;
  canvasUpdated?(): void;
}
