/**
 * What the painter of threads is asked for and what it answers, and the layers that it keeps. The painter runs in
 * a worker of its own; all here is plain records and sums, the same everywhere.
 */
import { lighten } from "../../core/output/lit-thread.ts";
import { OutlineBrush } from "./outline-brush.ts";
import { PixelSheet } from "./pixel-sheet.ts";
import { type Brush, channels, lineBrush, threadBrush } from "./thread-brush.ts";
import { type BrushOf, type PaintedTrack, pxPerMmOf, type SheetView, ThreadLayer } from "./thread-layer.ts";

export const THREAD_LAYERS = ["sew-out", "stitches", "emphasis"] as const;
export type ThreadLayerName = (typeof THREAD_LAYERS)[number];

/** To the painter: everything it shall show from now on. What is left out stays as it was. */
export interface SceneMessage {
  /** Counts up; frames tell which message they answer. */
  readonly serial: number;
  readonly track?: PaintedTrack;
  readonly view?: SheetView;
  /** Stitches sewn so far; `null` hides the layer. */
  readonly sewOut?: number | null;
  readonly stitches?: number | null;
  /** Stitches to be outlined, as pairs of the first and the first one after. */
  readonly emphasis?: readonly (readonly [first: number, end: number])[];
  /** Whether the player is open. */
  readonly isScrubbed?: boolean;
}

/** From the painter: new pixels of one layer, to be put at (x, y). */
export interface FrameMessage {
  readonly serial: number;
  readonly layer: ThreadLayerName;
  readonly view: SheetView;
  /** Whether these are all pixels of the layer. */
  readonly isWhole: boolean;
  readonly x: number;
  readonly y: number;
  readonly bitmap: ImageBitmap;
  /** Of stitches and sew-out: how far they are sewn. */
  readonly at: number;
}

export type Scene = Required<Omit<SceneMessage, "serial">>;

const litThread: BrushOf = ({ colour }, pxPerMm) => threadBrush(colour, pxPerMm);

const LINE_PX = 1.2;
const POINT_PX = 3;
/** Needle points are drawn from this zoom on: below, they would run into one another. */
const POINTS_FROM_PX_PER_MM = 7;
/** What lies under the cover is drawn this faintly. */
const INNER_OPACITY = 0.55;
/** How far a needle line's colour is moved from its thread's, in OKLab lightness: it lies on artwork of that very colour. */
const CONTRAST = 0.3;
/** Sum of the channels below which a thread is dark, and its lines are lighter than itself. */
const DARK = 3 * 96;

/** A thin line from needle point to needle point, with a dot where the needle goes in. */
const needleLine: BrushOf = ({ colour, role }, pxPerMm, pxPerCssPx) => {
  const [red, green, blue] = channels(colour);
  const drawn = lighten(colour, red + green + blue < DARK ? CONTRAST : -CONTRAST);
  const opacity = role === "cover" ? 1 : INNER_OPACITY;
  const line = lineBrush(drawn, LINE_PX * pxPerCssPx, opacity);
  if (pxPerMm < POINTS_FROM_PX_PER_MM * pxPerCssPx) return line;
  const point = lineBrush(drawn, POINT_PX * pxPerCssPx, opacity);
  const both: Brush = (sheet, x0, y0, x1, y1) => {
    line(sheet, x0, y0, x1, y1);
    point(sheet, x1, y1, x1, y1);
  };
  return both;
};

export const threadLayer = (
  track: PaintedTrack,
  view: SheetView,
  name: "sew-out" | "stitches",
): ThreadLayer => new ThreadLayer(track, view, name === "sew-out" ? litThread : needleLine);

/** The outline around some of a track's stitches, on a sheet of its own. */
export function outlineSheet(track: PaintedTrack, view: SheetView, emphasis: Scene["emphasis"]): PixelSheet {
  const sheet = new PixelSheet(view.width, view.height);
  sheet.clear();
  if (emphasis.length === 0) return sheet;
  const brush = new OutlineBrush(sheet, pxPerMmOf(view), view.pxPerCssPx);
  const [a, b, c, d, e, f] = view.toPx;
  for (const [first, end] of emphasis) {
    for (let k = 4 * first; k < 4 * end; k += 4) {
      const [x0, y0, x1, y1] = track.ends.subarray(k, k + 4);
      brush.add(a * x0 + c * y0 + e, b * x0 + d * y0 + f, a * x1 + c * y1 + e, b * x1 + d * y1 + f);
    }
  }
  brush.draw();
  return sheet;
}
