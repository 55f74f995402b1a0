/**
 * A sheet of pixels that thread is painted on, row by row from the top left, four bytes a pixel: red, green, blue
 * and alpha. Colours are premultiplied with alpha, so that paint goes over paint by one and the same sum in all
 * four channels. It remembers which part was touched since it was last asked.
 */

/** A part of a sheet, in whole pixels; `right` and `bottom` lie just outside it. */
export interface PixelBox {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export class PixelSheet {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray;
  #left = Number.POSITIVE_INFINITY;
  #top = Number.POSITIVE_INFINITY;
  #right = Number.NEGATIVE_INFINITY;
  #bottom = Number.NEGATIVE_INFINITY;

  constructor(width: number, height: number) {
    this.width = width;
    this.height = height;
    this.data = new Uint8ClampedArray(4 * width * height);
  }

  /** Lays a colour (0 to 255 each) over a pixel; `alpha` from 0 to 1. `index` counts bytes. */
  blend(index: number, red: number, green: number, blue: number, alpha: number): void {
    const { data } = this;
    data[index] += (red - data[index]) * alpha;
    data[index + 1] += (green - data[index + 1]) * alpha;
    data[index + 2] += (blue - data[index + 2]) * alpha;
    data[index + 3] += (255 - data[index + 3]) * alpha;
  }

  clear(): void {
    this.data.fill(0);
    this.touch(0, 0, this.width, this.height);
  }

  /** Makes the sheet what it was when `copy` was made. */
  restore(copy: Uint8ClampedArray): void {
    this.data.set(copy);
    this.touch(0, 0, this.width, this.height);
  }

  copy(): Uint8ClampedArray {
    return this.data.slice();
  }

  /** Notes that pixels in this box may have changed; what lies off the sheet is left aside. */
  touch(left: number, top: number, right: number, bottom: number): void {
    if (left < this.#left) this.#left = left;
    if (top < this.#top) this.#top = top;
    if (right > this.#right) this.#right = right;
    if (bottom > this.#bottom) this.#bottom = bottom;
  }

  /** What was touched since the last call; `null` if nothing was. */
  takeTouched(): PixelBox | null {
    const left = Math.max(0, Math.floor(this.#left));
    const top = Math.max(0, Math.floor(this.#top));
    const right = Math.min(this.width, Math.ceil(this.#right));
    const bottom = Math.min(this.height, Math.ceil(this.#bottom));
    this.#left = this.#top = Number.POSITIVE_INFINITY;
    this.#right = this.#bottom = Number.NEGATIVE_INFINITY;
    return left < right && top < bottom ? { left, top, right, bottom } : null;
  }

  /** A part of it as a canvas wants it: not premultiplied. */
  straight({ left, top, right, bottom }: PixelBox): Uint8ClampedArray<ArrayBuffer> {
    const width = right - left;
    const part = new Uint8ClampedArray(4 * width * (bottom - top));
    for (let y = top; y < bottom; y++) {
      const from = 4 * (y * this.width + left);
      part.set(this.data.subarray(from, from + 4 * width), 4 * (y - top) * width);
    }
    for (let i = 0; i < part.length; i += 4) {
      const alpha = part[i + 3];
      if (alpha === 0 || alpha === 255) continue;
      part[i] = (part[i] * 255) / alpha;
      part[i + 1] = (part[i + 1] * 255) / alpha;
      part[i + 2] = (part[i + 2] * 255) / alpha;
    }
    return part;
  }
}
