/** The browser editor as the panel knows editors. */
import type { AttributeEdit, EditorHost, SaveResult, Unsubscribe } from "../../editor-host.ts";
import { selectInAnyLayer } from "./any-layer.ts";
import { Changes } from "./changes.ts";
import {
  type AttributeChange,
  AttributesCommand,
  ReplaceCommand,
  refresh,
  showDocument,
} from "./commands.ts";
import { keepSelection } from "./kept-selection.ts";
import { LoadedDocument } from "./loaded-document.ts";
import { Overlay } from "./overlay.ts";
import { withRulersAtRest } from "./rulers.ts";
import type { DrawingFile, ServerFiles, ServerProblem } from "./server-files.ts";
import { readSource, type Source } from "./source.ts";
import type { SvgEditor } from "./svgedit-types.ts";
import { hostTexts as texts } from "./texts.ts";
import { isDrawnName, SVG_NAMESPACE } from "./vocabulary.ts";
import { writeBack } from "./write-back.ts";

/** Where the document lies on the disk, as far as we know. */
interface Place {
  readonly name: string;
  /** The version that the artist's drawing is built on. */
  readonly version: string | null;
}

export class SvgEditHost implements EditorHost {
  readonly overlay: Overlay;
  readonly #editor: SvgEditor;
  readonly #files: ServerFiles;
  readonly #changes: Changes;
  /** The editor's own way to load: of text that was prepared for it. */
  readonly #setPrepared: (svgText: string) => boolean;
  readonly #selectionListeners = new Set<(elements: readonly string[]) => void>();
  #document: LoadedDocument;
  #place: Place | null = null;
  #lastSelection = "";

  constructor(editor: SvgEditor, files: ServerFiles) {
    this.#editor = editor;
    this.#files = files;
    const { svgCanvas } = editor;
    svgCanvas.setSvgOption("round_digits", PATH_DECIMALS);
    const setSvgString = svgCanvas.setSvgString.bind(svgCanvas);
    this.#setPrepared = (svgText) => setSvgString(svgText, true);
    this.#document = this.#load(readSource(EMPTY_DRAWING, measuredBox));
    svgCanvas.undoMgr.resetUndoStack();
    this.#changes = new Changes(svgCanvas);
    this.overlay = new Overlay(editor, () => this.#document.source.page);
    selectInAnyLayer(editor);
    keepSelection(
      svgCanvas,
      () => this.selection(),
      (elements) => this.select(elements),
    );
    // The editor's own view of the source shows and takes the drawing itself, not its prepared form.
    svgCanvas.getSvgString = () => this.read();
    svgCanvas.setSvgString = (svgText) => this.#takeSource(svgText);
  }

  read(): string {
    // Nothing was done, or all of it was undone: every byte is as it was.
    if (this.#editor.svgCanvas.undoMgr.undoStackPointer === 0) return this.#document.source.text;
    return writeBack(this.#document);
  }

  fileName(): string | null {
    return this.#place?.name ?? null;
  }

  async open(svgText: string, fileName: string | null): Promise<void> {
    this.#begin(svgText, fileName === null ? null : { name: fileName, version: null });
  }

  /** A drawing that the server read, to be saved where it came from. */
  openFile({ name, text, version }: DrawingFile): Source {
    this.#begin(text, version === undefined ? null : { name, version });
    return this.#document.source;
  }

  replace(label: string, svgText: string): void {
    const before = this.#document;
    const isSelecting = this.#editor.svgCanvas.getMode() === "select";
    const selected = isSelecting ? this.selection() : [];
    const after = this.#loadInPlaceOf(before, readSource(svgText, measuredBox));
    if (selected.length > 0) this.select(selected);
    this.#editor.svgCanvas.undoMgr.addCommandToHistory(
      new ReplaceCommand(label, before, after, (document) => this.#show(document)),
    );
    this.#changes.now();
  }

  change(label: string, edits: readonly AttributeEdit[]): void {
    const { svgCanvas } = this.#editor;
    const changes = edits.flatMap(({ element: id, name, value }): AttributeChange[] => {
      const element = id === null ? this.#metadata(name, value !== null) : this.#byId(id);
      if (element === undefined) return [];
      const before = element.getAttribute(name);
      return before === value ? [] : [{ element, name, before, after: value }];
    });
    if (changes.length === 0) return;
    const command = new AttributesCommand(label, changes, svgCanvas);
    command.apply();
    svgCanvas.undoMgr.addCommandToHistory(command);
    this.#editor.topPanel.updateContextPanel();
    this.#changes.now();
  }

  undo(): void {
    this.#editor.svgCanvas.undoMgr.undo();
    this.#editor.layersPanel.populateLayers();
    this.#changes.now();
  }

  redo(): void {
    this.#editor.svgCanvas.undoMgr.redo();
    this.#editor.layersPanel.populateLayers();
    this.#changes.now();
  }

  /** Of a group, what is drawn in it. */
  selection(): readonly string[] {
    const selected = this.#editor.svgCanvas.getSelectedElements().filter((element) => element !== null);
    return [...new Set(selected.flatMap(drawnIn))];
  }

  select(ids: readonly string[]): void {
    const { svgCanvas } = this.#editor;
    if ([...ids].sort().join("\n") === [...this.selection()].sort().join("\n")) return;
    const elements = ids.flatMap((id) => this.#byId(id) ?? []);
    this.#editor.leftPanel.clickSelect();
    if (elements.length === 0) svgCanvas.clearSelection();
    else {
      svgCanvas.selectOnly(elements, elements.length === 1);
      svgCanvas.call("selected", svgCanvas.getSelectedElements());
    }
  }

  onChange(listener: () => void): Unsubscribe {
    return this.#changes.listen(listener);
  }

  onSelection(listener: (elements: readonly string[]) => void): Unsubscribe {
    this.#selectionListeners.add(listener);
    return () => this.#selectionListeners.delete(listener);
  }

  /** To be called on the editor's own event; it tells more often than something is different. */
  selectionMayHaveChanged(): void {
    const selection = this.selection();
    if (selection.join("\n") === this.#lastSelection) return;
    this.#lastSelection = selection.join("\n");
    for (const listener of this.#selectionListeners) listener(selection);
  }

  isSaved(): boolean {
    return this.#changes.isSaved();
  }

  async save(): Promise<SaveResult> {
    if (this.#place === null) return { kind: "cancelled" };
    return this.#write(this.#place.name, this.#place.version);
  }

  async saveAs(fileName: string): Promise<SaveResult> {
    const name = /\.svg$/i.test(fileName) ? fileName : `${fileName}.svg`;
    if (name === this.#place?.name) return this.save();
    const result = await this.#write(name, null);
    if (result.kind !== "changed-on-disk") return result;
    return { kind: "exists", fileName: name, overwrite: () => this.#overwrite(name) };
  }

  async #write(name: string, version: string | null): Promise<SaveResult> {
    const text = this.read();
    const saved = await this.#files.save(name, text, version);
    if (saved.kind === "failed") return { kind: "failed", ...saved.problem };
    if (saved.kind === "changed")
      return { kind: "changed-on-disk", fileName: name, overwrite: () => this.#overwrite(name) };
    this.#settle({ name, version: saved.version });
    return { kind: "saved", fileName: name };
  }

  async #overwrite(name: string): Promise<SaveResult> {
    try {
      const { version } = await this.#files.read(name);
      return this.#write(name, version ?? null);
    } catch (error) {
      // It is gone by now, or cannot be read: a new file is tried, and the server says what is wrong.
      const result = await this.#write(name, null);
      if (result.kind !== "changed-on-disk") return result;
      const { message, remedy } = error as ServerProblem;
      return { kind: "failed", message, remedy };
    }
  }

  #begin(svgText: string, place: Place | null): void {
    const source = readSource(svgText, measuredBox);
    const { svgCanvas } = this.#editor;
    withRulersAtRest(this.#editor, () => {
      this.#document = this.#loadInPlaceOf(this.#document, source);
      svgCanvas.undoMgr.resetUndoStack();
      this.#settle(place);
      refresh(this.#editor);
      this.zoomToPage();
    });
    this.#changes.now();
  }

  #settle(place: Place | null): void {
    this.#place = place;
    this.#changes.markSaved();
    this.#editor.topPanel.updateTitle(place?.name ?? texts.untitled);
    document.title = texts.pageTitle(place?.name ?? texts.untitled);
  }

  zoomToPage(): void {
    this.#editor.zoomChanged(window, "canvas", true);
    this.#editor.updateCanvas(true);
  }

  #takeSource(svgText: string): boolean {
    try {
      this.replace("Edit source", svgText);
      return true;
    } catch {
      return false;
    }
  }

  #show(document: LoadedDocument): void {
    this.#document.leave();
    this.#document = document;
    showDocument(document, this.#editor);
  }

  /** Puts a drawing into the canvas; where that fails, what was there before is there again. */
  #loadInPlaceOf(before: LoadedDocument, source: Source): LoadedDocument {
    before.leave();
    const { svgCanvas, workarea } = this.#editor;
    const zoom = svgCanvas.getZoom();
    const { scrollLeft, scrollTop } = workarea;
    try {
      const document = this.#load(source);
      this.#document = document;
      svgCanvas.setCurrentZoom(zoom);
      refresh(this.#editor);
      workarea.scrollTo(scrollLeft, scrollTop);
      return document;
    } catch (error) {
      showDocument(before, this.#editor);
      throw error;
    }
  }

  #load(source: Source): LoadedDocument {
    const { svgCanvas } = this.#editor;
    if (!this.#setPrepared(source.prepared)) throw new Error("The editor cannot show this drawing.");
    return new LoadedDocument(source, svgCanvas);
  }

  #byId(id: string): Element | undefined {
    return this.#document.content.querySelector(`[id="${CSS.escape(id)}"]`) ?? undefined;
  }

  /** The element that carries what holds for the whole document; made where it is needed first. */
  #metadata(name: string, isNeeded: boolean): Element | undefined {
    const { content } = this.#document;
    const all = [...content.children].filter(({ localName }) => localName === "metadata");
    const own = all.filter((element) => !element.hasAttribute("data-tuck-role"));
    const found = own.find((element) => element.hasAttribute(name)) ?? own[0];
    if (found !== undefined || !isNeeded) return found;
    const made = document.createElementNS(SVG_NAMESPACE, "metadata");
    content.prepend(made);
    return made;
  }
}

/** Of the paths that the editor rewrites: in the smallest drawings a user unit is several millimetres sewn. */
const PATH_DECIMALS = 5;

export const EMPTY_DRAWING = `<svg xmlns="${SVG_NAMESPACE}" width="100mm" height="100mm" viewBox="0 0 100 100"/>`;

function drawnIn(element: Element): string[] {
  const isGroup = /^(g|a|svg|switch)$/.test(element.localName);
  const inside = isGroup ? [...element.children].filter(({ localName }) => isDrawnName(localName)) : [];
  return inside.length > 0 ? inside.flatMap(drawnIn) : element.id === "" ? [] : [element.id];
}

/** The box around all that a drawing draws, as the browser has it; `null` where it draws nothing. */
function measuredBox(svgText: string): DOMRect | null {
  const host = document.createElement("div");
  host.style.cssText = "position:absolute;width:0;height:0;overflow:hidden;visibility:hidden";
  const parsed = new DOMParser().parseFromString(svgText, "image/svg+xml").documentElement;
  const svg = document.importNode(parsed, true) as Element as SVGSVGElement;
  host.attachShadow({ mode: "closed" }).append(svg);
  document.body.append(host);
  const box = svg.getBBox();
  host.remove();
  return box.width > 0 && box.height > 0 ? box : null;
}
