/**
 * The swath of a stitch: the pixels within reach of the straight line between two points, row by row.
 *
 * A pixel is known by two lengths: `along`, how far on from the first point it lies in the direction of the line,
 * and `across`, how far to the right of it. On a row both change evenly from pixel to pixel, so a painter needs no
 * more than two sums a pixel. A row's pixels are those whose centres lie in the strip around the line; its corners
 * are somewhat further than the reach.
 *
 * One swath is made once and laid again and again, since a design has tens of thousands of stitches.
 */
export class Swath {
  /** Length of the line, and its direction: a unit vector; along x where the line is but a point. */
  length = 0;
  ux = 1;
  uy = 0;
  /** Rows that it meets, first and last; none where the last is less than the first. */
  firstRow = 0;
  lastRow = -1;
  /** Of the row asked for: pixels from first to last, and the place of the first one's centre. */
  from = 0;
  to = -1;
  along = 0;
  across = 0;

  #x0 = 0;
  #y0 = 0;
  #reach = 0;
  #left = 0;
  #right = 0;

  /** Lays it along a line, on a sheet of this size; `false` where it misses the sheet. All in pixels. */
  lay(x0: number, y0: number, x1: number, y1: number, reach: number, width: number, height: number): boolean {
    this.#left = Math.max(0, Math.ceil(Math.min(x0, x1) - reach - 0.5));
    this.#right = Math.min(width - 1, Math.floor(Math.max(x0, x1) + reach - 0.5));
    this.firstRow = Math.max(0, Math.ceil(Math.min(y0, y1) - reach - 0.5));
    this.lastRow = Math.min(height - 1, Math.floor(Math.max(y0, y1) + reach - 0.5));
    if (this.#left > this.#right || this.firstRow > this.lastRow) return false;
    const dx = x1 - x0;
    const dy = y1 - y0;
    this.length = Math.sqrt(dx * dx + dy * dy);
    this.ux = this.length > 0 ? dx / this.length : 1;
    this.uy = this.length > 0 ? dy / this.length : 0;
    this.#x0 = x0;
    this.#y0 = y0;
    this.#reach = reach;
    return true;
  }

  /** Goes to a row; `false` where none of its pixels is within reach. */
  row(y: number): boolean {
    const { ux, uy } = this;
    const h = y + 0.5 - this.#y0;
    let from = this.#left + 0.5 - this.#x0;
    let to = this.#right + 0.5 - this.#x0;
    // |across| ≤ reach, and −reach ≤ along ≤ length + reach, each solved for x.
    if (uy !== 0) {
      const a = (h * ux - this.#reach) / uy;
      const b = (h * ux + this.#reach) / uy;
      from = Math.max(from, Math.min(a, b));
      to = Math.min(to, Math.max(a, b));
    }
    if (ux !== 0) {
      const a = (-this.#reach - h * uy) / ux;
      const b = (this.length + this.#reach - h * uy) / ux;
      from = Math.max(from, Math.min(a, b));
      to = Math.min(to, Math.max(a, b));
    }
    this.from = Math.ceil(from + this.#x0 - 0.5);
    this.to = Math.floor(to + this.#x0 - 0.5);
    const dx = this.from + 0.5 - this.#x0;
    this.along = dx * ux + h * uy;
    this.across = h * ux - dx * uy;
    return this.from <= this.to;
  }

  /** How far a place is from the line itself, its round ends included. */
  distance(along: number, across: number): number {
    if (along < 0) return Math.sqrt(along * along + across * across);
    const beyond = along - this.length;
    if (beyond > 0) return Math.sqrt(beyond * beyond + across * across);
    return across < 0 ? -across : across;
  }

  /** Leaves a note on the sheet of all that may have been painted. */
  touch(sheet: { touch(left: number, top: number, right: number, bottom: number): void }): void {
    sheet.touch(this.#left, this.firstRow, this.#right + 1, this.lastRow + 1);
  }
}
