/**
 * A first look at the plan: how it will be sewn, where the drawing is going to be, while the editor still loads. It
 * is there as soon as the plan is, and gone in one step when the editor's own canvas shows the plan. Where there is
 * no plan, or where the editor is there first, nothing of it is ever seen.
 */
import type { PlanPicture } from "../../canvas/picture.ts";
import { hostTexts as texts } from "./texts.ts";

/** The share of the work area that the editor gives to a page that it brings into view, and what it leaves free. */
const SHARE = 0.95;
const FREE_PX = 15;

export class FirstLook {
  #isOver = false;

  /** The page has a place for it, which page.css lays where the editor's work area will be. */
  get #element(): HTMLElement {
    return document.getElementById("first-look") as HTMLElement;
  }

  /** The room for the drawing's page, in pixels of the screen; once the page's styles are there. */
  async room(): Promise<{ readonly width: number; readonly height: number }> {
    await Promise.all([...document.querySelectorAll<HTMLLinkElement>("link[rel=stylesheet]")].map(loaded));
    const { clientWidth, clientHeight } = this.#element;
    const pxOf = (cssPx: number): number => Math.max(1, (cssPx - FREE_PX) * SHARE * devicePixelRatio);
    return { width: pxOf(clientWidth), height: pxOf(clientHeight) };
  }

  show(name: string, { width, height, pixels }: PlanPicture): void {
    if (this.#isOver) return;
    const canvas = document.createElement("canvas");
    canvas.width = width;
    canvas.height = height;
    canvas.style.width = `${width / devicePixelRatio}px`;
    canvas.setAttribute("role", "img");
    canvas.setAttribute("aria-label", texts.sewn(name));
    canvas.getContext("2d")?.putImageData(new ImageData(pixels, width), 0, 0);
    const status = this.#element.querySelector("[role=status]") as HTMLElement;
    const title = document.createElement("b");
    title.textContent = name;
    status.append(title, ` ${texts.onItsWay}`);
    this.#element.append(canvas);
    this.#element.classList.add("shown");
  }

  /** The editor works already: what was not seen by now would only be in its way. */
  editorIsThere(): void {
    if (!this.#isOver && !this.#element.classList.contains("shown")) this.end();
  }

  end(): void {
    if (!this.#isOver) this.#element.remove();
    this.#isOver = true;
  }
}

const loaded = (link: HTMLLinkElement): unknown =>
  link.sheet !== null ||
  new Promise((resolve) => {
    for (const event of ["load", "error"]) link.addEventListener(event, resolve, { once: true });
  });
