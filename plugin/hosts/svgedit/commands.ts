/** Steps of the editor's undo that are ours: attributes set on elements, and one document in place of another. */
import type { LoadedDocument } from "./loaded-document.ts";
import type { HistoryCommand, SvgCanvas, SvgEditor } from "./svgedit-types.ts";

export interface AttributeChange {
  readonly element: Element;
  readonly name: string;
  readonly before: string | null;
  readonly after: string | null;
}

/**
 * The editor's own command for attributes recomputes the transform of a turned element each time; these
 * attributes leave the element where it is, and so must taking them back.
 */
export class AttributesCommand implements HistoryCommand {
  readonly #label: string;
  readonly #changes: readonly AttributeChange[];
  readonly #canvas: SvgCanvas;

  constructor(label: string, changes: readonly AttributeChange[], canvas: SvgCanvas) {
    this.#label = label;
    this.#changes = changes;
    this.#canvas = canvas;
  }

  getText = (): string => this.#label;
  type = (): string => "AttributesCommand";
  elements = (): Element[] => [...new Set(this.#changes.map(({ element }) => element))];

  apply(): void {
    for (const { element, name, after } of this.#changes) setOrRemove(element, name, after);
    this.#tell();
  }

  unapply(): void {
    for (const { element, name, before } of [...this.#changes].reverse()) setOrRemove(element, name, before);
    this.#tell();
  }

  /** The editor's fields are filled anew; an element that is named would be taken for the selected one. */
  #tell(): void {
    this.#canvas.call("changed", []);
  }
}

function setOrRemove(element: Element, name: string, value: string | null): void {
  if (value === null) element.removeAttribute(name);
  else element.setAttribute(name, value);
}

/** Puts a document into the canvas, and back. */
export class ReplaceCommand implements HistoryCommand {
  readonly #label: string;
  readonly #before: LoadedDocument;
  readonly #after: LoadedDocument;
  readonly #show: (document: LoadedDocument) => void;

  constructor(
    label: string,
    before: LoadedDocument,
    after: LoadedDocument,
    show: (document: LoadedDocument) => void,
  ) {
    this.#label = label;
    this.#before = before;
    this.#after = after;
    this.#show = show;
  }

  getText = (): string => this.#label;
  type = (): string => "ReplaceCommand";
  elements = (): Element[] => [];

  apply(): void {
    this.#show(this.#after);
  }

  unapply(): void {
    this.#show(this.#before);
  }
}

/** Shows a document that was loaded before, where the artist is looking now. */
export function showDocument(document: LoadedDocument, editor: SvgEditor): void {
  const { svgCanvas, workarea } = editor;
  const { scrollLeft, scrollTop } = workarea;
  const size = document.size();
  svgCanvas.clearSelection();
  svgCanvas.pathActions.clear();
  svgCanvas.getSvgContent().replaceWith(document.content);
  svgCanvas.setSvgContent(document.content);
  svgCanvas.current_drawing_ = document.drawing;
  document.drawing.identifyLayers();
  svgCanvas.contentW = size.width;
  svgCanvas.contentH = size.height;
  refresh(editor);
  workarea.scrollTo(scrollLeft, scrollTop);
}

/** The editor's own fields and lists after its document changed behind its back. */
export function refresh(editor: SvgEditor): void {
  const { svgCanvas } = editor;
  svgCanvas.getSvgRoot().append(svgCanvas.selectorManager.selectorParentGroup);
  editor.updateCanvas();
  editor.layersPanel.populateLayers();
  editor.topPanel.updateContextPanel();
}
