/**
 * The outline of a group of stitches as one shape: what is pointed at is shown by it, over light and dark alike.
 *
 * Every pixel learns how far it is from the thread nearest to it. A band of distances becomes a line of ink, the
 * next one a pale halo around it; the inside stays clear.
 */
import { HALO, INK } from "../../core/layers/ink.ts";
import type { PixelSheet } from "./pixel-sheet.ts";
import { Swath } from "./swath.ts";
import { channels } from "./thread-brush.ts";

/** Rows of a fill and threads of a satin lie closer than this, so that their gaps do not show as outlines. */
const HALF_THREAD_MM = 0.36;
const INK_PX = 2;
const HALO_PX = 1.5;

/** Gathers stitches and draws the outline around all of them on an empty sheet. */
export class OutlineBrush {
  readonly #swath = new Swath();
  readonly #sheet: PixelSheet;
  readonly #radius: number;
  readonly #reach: number;
  /** How far each pixel is from the edge of the nearest thread; beyond reach it is infinite, inside negative. */
  readonly #field: Float32Array;

  /** @param pxPerCssPx pixels of the sheet to one of the screen's */
  constructor(sheet: PixelSheet, pxPerMm: number, pxPerCssPx: number) {
    this.#sheet = sheet;
    this.#radius = HALF_THREAD_MM * pxPerMm;
    this.#reach = (INK_PX + HALO_PX) * pxPerCssPx;
    this.#field = new Float32Array(sheet.width * sheet.height).fill(Number.POSITIVE_INFINITY);
  }

  add(x0: number, y0: number, x1: number, y1: number): void {
    const swath = this.#swath;
    const field = this.#field;
    const { width, height } = this.#sheet;
    const reach = this.#radius + this.#reach + 0.5;
    if (!swath.lay(x0, y0, x1, y1, reach, width, height)) return;
    for (let y = swath.firstRow; y <= swath.lastRow; y++) {
      if (!swath.row(y)) continue;
      let { along, across } = swath;
      for (let pixel = y * width + swath.from; pixel <= y * width + swath.to; pixel++) {
        const beyond = swath.distance(along, across) - this.#radius;
        if (beyond < field[pixel]) field[pixel] = beyond;
        along += swath.ux;
        across -= swath.uy;
      }
    }
    swath.touch(this.#sheet);
  }

  draw(): void {
    const ink = channels(INK);
    const halo = channels(HALO);
    const inkEdge = (this.#reach * INK_PX) / (INK_PX + HALO_PX);
    this.#field.forEach((beyond, pixel) => {
      if (beyond < -0.5 || beyond > this.#reach + 0.5) return;
      const inner = Math.min(1, beyond + 0.5);
      const outer = Math.min(1, this.#reach + 0.5 - beyond);
      this.#sheet.blend(4 * pixel, ...halo, Math.min(inner, outer));
      const inked = Math.min(inner, Math.max(0, inkEdge + 0.5 - beyond), 1);
      if (inked > 0) this.#sheet.blend(4 * pixel, ...ink, inked);
    });
  }
}
