/**
 * The surface that the panel draws on: a box over the visible part of the work area, inside it, so that wheel
 * and keys reach the editor as ever, but beside the canvas, so that what is pressed on it does not. It takes no
 * room and scrolls nowhere.
 */
import type { Matrix } from "../../../core/geometry/types.ts";
import type { OverlaySurface, Unsubscribe } from "../../editor-host.ts";
import type { SvgEditor } from "./svgedit-types.ts";

/** The share of the view that a revealed box may fill. */
const REVEAL_SHARE = 0.6;
const MOUSE_EVENTS = [
  "mousedown",
  "mousemove",
  "mouseup",
  "dblclick",
  "click",
  "contextmenu",
  "touchstart",
  "touchmove",
];

export class Overlay implements OverlaySurface {
  readonly element: HTMLElement;
  readonly #editor: SvgEditor;
  readonly #pageCorner: () => { readonly x: number; readonly y: number };
  readonly #listeners = new Set<() => void>();
  #frame = 0;
  #isHeld = false;

  /** @param pageCorner where the page begins, in the drawing's user units */
  constructor(editor: SvgEditor, pageCorner: () => { readonly x: number; readonly y: number }) {
    this.#editor = editor;
    this.#pageCorner = pageCorner;
    const { workarea } = editor;
    const anchor = document.createElement("div");
    anchor.className = "tuckline-anchor";
    this.element = document.createElement("div");
    this.element.className = "tuckline-overlay";
    anchor.append(this.element);
    workarea.prepend(anchor);

    workarea.addEventListener("scroll", this.#moved, { passive: true });
    const resized = new ResizeObserver(() => {
      this.#fit();
      this.#moved();
    });
    resized.observe(workarea);
    // Zoom, page size and place all show in attributes of the root that holds the drawing.
    new MutationObserver(() => {
      this.#fit();
      this.#moved();
    }).observe(editor.svgCanvas.getSvgRoot(), {
      attributes: true,
      attributeFilter: ["width", "height", "x", "y", "viewBox"],
      childList: true,
      subtree: false,
    });
    for (const type of MOUSE_EVENTS)
      window.addEventListener(type, this.#keepStill, { capture: true, passive: false });
    this.#fit();
  }

  view(): Matrix {
    const toScreen = this.#editor.svgCanvas.getSvgContent().getScreenCTM();
    if (toScreen === null) return [1, 0, 0, 1, 0, 0];
    const { left, top } = this.element.getBoundingClientRect();
    const { a, b, c, d, e, f } = toScreen;
    const { x, y } = this.#pageCorner();
    return [a, b, c, d, e - left - a * x - c * y, f - top - b * x - d * y];
  }

  onView(listener: () => void): Unsubscribe {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  reveal(box: {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
  }): void {
    const { clientWidth, clientHeight } = this.element;
    const before = boxOnScreen(this.view(), box);
    const isWithin =
      before.left >= 0 && before.top >= 0 && before.right <= clientWidth && before.bottom <= clientHeight;
    const scale = Math.max(
      (before.right - before.left) / (clientWidth * REVEAL_SHARE),
      (before.bottom - before.top) / (clientHeight * REVEAL_SHARE),
    );
    if (isWithin) return;
    if (scale > 1) {
      const { svgCanvas } = this.#editor;
      svgCanvas.setCurrentZoom(svgCanvas.getZoom() / scale);
      this.#editor.updateCanvas();
    }
    const after = boxOnScreen(this.view(), box);
    this.#editor.workarea.scrollBy(
      (after.left + after.right - clientWidth) / 2,
      (after.top + after.bottom - clientHeight) / 2,
    );
  }

  /** page.css has what comes of it. */
  cover(roles: readonly string[]): void {
    this.#editor.workarea.setAttribute("data-tuck-covered", roles.join(" "));
  }

  hold(isHeld: boolean): void {
    this.#isHeld = isHeld;
  }

  /** To be called when the editor zoomed or its document changed. */
  moved(): void {
    this.#moved();
  }

  readonly #moved = (): void => {
    if (this.#frame !== 0) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      for (const listener of this.#listeners) listener();
    });
  };

  readonly #keepStill = (event: Event): void => {
    if (!this.#isHeld || !(event.target instanceof Node) || this.element.contains(event.target)) return;
    if (this.#editor.workarea.contains(event.target)) event.stopImmediatePropagation();
  };

  #fit(): void {
    const { clientWidth, clientHeight } = this.#editor.workarea;
    this.element.style.width = `${clientWidth}px`;
    this.element.style.height = `${clientHeight}px`;
  }
}

function boxOnScreen(
  [a, b, c, d, e, f]: Matrix,
  {
    x,
    y,
    width,
    height,
  }: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
): { left: number; top: number; right: number; bottom: number } {
  const xs = [x, x + width].flatMap((px) => [y, y + height].map((py) => a * px + c * py + e));
  const ys = [x, x + width].flatMap((px) => [y, y + height].map((py) => b * px + d * py + f));
  return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
}
