/**
 * A layer of stitches on a sheet of pixels, painted up to any place in the sewing. Going forward paints only what
 * is new. Going back takes the nearest snapshot before the place and paints from there; snapshots are taken on
 * the way, at equal distances, while the player is open.
 */

import { norm } from "../../core/geometry/point.ts";
import type { Matrix } from "../../core/geometry/types.ts";
import type { TrackSpan } from "./needle-track.ts";
import { PixelSheet } from "./pixel-sheet.ts";
import type { Brush } from "./thread-brush.ts";

/** What a layer needs of a track: it may have come from another thread. */
export interface PaintedTrack {
  readonly count: number;
  readonly ends: Float32Array;
  readonly spans: readonly Pick<TrackSpan, "first" | "end" | "role" | "colour">[];
}

/** What part of the fabric is seen, and how large: from millimetres to pixels of the sheet. */
export interface SheetView {
  readonly width: number;
  readonly height: number;
  readonly toPx: Matrix;
  /** Pixels of the sheet to one of the screen's. */
  readonly pxPerCssPx: number;
}

export const pxPerMmOf = ({ toPx }: SheetView): number => norm(toPx[0], toPx[1]);

/** A brush for the stitches of a span at so many pixels a millimetre. */
export type BrushOf = (span: PaintedTrack["spans"][number], pxPerMm: number, pxPerCssPx: number) => Brush;

/** Snapshots stand at least so many stitches apart, and take up to so many bytes in all. */
const STITCHES_A_SNAPSHOT = 4000;
const MOST_SNAPSHOT_BYTES = 2 ** 26;

/** So many stitches are painted between two looks at the clock. */
const STITCHES_A_LOOK = 128;

export class ThreadLayer {
  readonly sheet: PixelSheet;
  readonly #track: PaintedTrack;
  readonly #view: SheetView;
  readonly #brushOf: BrushOf;
  readonly #brushes = new Map<string, Brush>();
  readonly #snapshots = new Map<number, Uint8ClampedArray>();
  readonly #apart: number;
  #at = 0;
  #span = 0;

  constructor(track: PaintedTrack, view: SheetView, brushOf: BrushOf) {
    this.#track = track;
    this.#view = view;
    this.#brushOf = brushOf;
    this.sheet = new PixelSheet(view.width, view.height);
    this.sheet.clear();
    const most = Math.max(1, Math.floor(MOST_SNAPSHOT_BYTES / Math.max(1, this.sheet.data.length)));
    this.#apart = Math.max(STITCHES_A_SNAPSHOT, Math.ceil(track.count / most));
  }

  /**
   * Paints towards the place after `target` stitches for as long as `mayGoOn`; whether it came there.
   *
   * @param isScrubbed whether snapshots are worth their memory
   */
  paint(target: number, isScrubbed: boolean, mayGoOn: () => boolean): boolean {
    if (target < this.#at) this.#goBack(target);
    if (!isScrubbed) this.#snapshots.clear();
    while (this.#at < target) {
      const nextSnapshot = (Math.floor(this.#at / this.#apart) + 1) * this.#apart;
      this.#paintTo(Math.min(target, this.#at + STITCHES_A_LOOK, nextSnapshot));
      if (isScrubbed && this.#at === nextSnapshot && !this.#snapshots.has(nextSnapshot))
        this.#snapshots.set(nextSnapshot, this.sheet.copy());
      if (this.#at < target && !mayGoOn()) return false;
    }
    return true;
  }

  #goBack(target: number): void {
    const at = Math.max(0, ...[...this.#snapshots.keys()].filter((place) => place <= target));
    const snapshot = this.#snapshots.get(at);
    if (snapshot === undefined) this.sheet.clear();
    else this.sheet.restore(snapshot);
    this.#at = at;
    this.#span = 0;
  }

  #paintTo(target: number): void {
    const { ends, spans } = this.#track;
    const [a, b, c, d, e, f] = this.#view.toPx;
    while (this.#at < target) {
      while (spans[this.#span].end <= this.#at) this.#span++;
      const span = spans[this.#span];
      const brush = this.#brush(span);
      const until = Math.min(target, span.end);
      for (let k = 4 * this.#at; k < 4 * until; k += 4) {
        const x0 = ends[k];
        const y0 = ends[k + 1];
        const x1 = ends[k + 2];
        const y1 = ends[k + 3];
        brush(this.sheet, a * x0 + c * y0 + e, b * x0 + d * y0 + f, a * x1 + c * y1 + e, b * x1 + d * y1 + f);
      }
      this.#at = until;
    }
  }

  #brush(span: PaintedTrack["spans"][number]): Brush {
    const name = `${span.colour} ${span.role}`;
    const known =
      this.#brushes.get(name) ?? this.#brushOf(span, pxPerMmOf(this.#view), this.#view.pxPerCssPx);
    this.#brushes.set(name, known);
    return known;
  }
}
