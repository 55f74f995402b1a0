/** What can be counted of a plan's stitches: short ones, and how many layers of them lie on one spot. */
import { norm } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import { paintStitches } from "./sew-out.ts";
import { isSewn } from "./steps.ts";
import type { SewingStep } from "./types.ts";

export interface ShortStitches {
  readonly short: number;
  readonly all: number;
}

/** How many stitches are shorter than `mm`, and how many there are; ties apart, which are short on purpose. */
export function countShortStitches(sewing: readonly SewingStep[], mm: number): ShortStitches {
  let short = 0;
  let all = 0;
  for (const step of sewing) {
    if (!isSewn(step) || step.role === "tie-in" || step.role === "tie-off") continue;
    const { points } = step;
    for (let i = 2; i < points.length; i += 2) {
      all++;
      if (norm(points[i] - points[i - 2], points[i + 1] - points[i - 1]) < mm) short++;
    }
  }
  return { short, all };
}

/** How many pieces have stitches that show, or showed before others came over them, on each spot. */
export interface Layers {
  /** In pixels, laid out like the sew-out raster. */
  readonly width: number;
  readonly height: number;
  readonly pxPerMm: number;
  readonly count: Uint8Array;
  /** The piece that came last, as an index into `pieceIds`; -1 where there is none. */
  readonly last: Int32Array;
  readonly pieceIds: readonly string[];
}

/**
 * Counts the pieces whose cover stitches lie over each spot. Underlay, travel and connectors are not counted.
 * Coarser than a sew-out: `pxPerMm` of 2 sees every layer that is as wide as a thread.
 */
export function countLayers(
  sewing: readonly SewingStep[],
  size: { readonly widthMm: number; readonly heightMm: number },
  pxPerMm = 2,
): Layers {
  const width = Math.ceil(size.widthMm * pxPerMm - 1e-6);
  const height = Math.ceil(size.heightMm * pxPerMm - 1e-6);
  const count = new Uint8Array(width * height);
  const last = new Int32Array(width * height).fill(-1);
  const pieceIds: string[] = [];
  for (const step of sewing) {
    if (!isSewn(step) || step.role !== "cover" || step.piece === undefined) continue;
    if (pieceIds[pieceIds.length - 1] !== step.piece) pieceIds.push(step.piece);
    const piece = pieceIds.length - 1;
    paintStitches(step.points, { width, height, pxPerMm }, LAYER_THREAD_MM, (from, to) => {
      for (let pixel = from; pixel <= to; pixel++) {
        if (last[pixel] === piece) continue;
        last[pixel] = piece;
        count[pixel]++;
      }
    });
  }
  return { width, height, pxPerMm, count, last, pieceIds };
}

/** Wide enough that the rows of a fill close, narrow enough that it hardly reaches beyond its edge. */
const LAYER_THREAD_MM = 0.4;

/** The most layers that lie on any patch of at least `patchMm2`; smaller patches are no thicker than a knot. */
export function mostLayers({ count, pxPerMm }: Layers, patchMm2 = 1): number {
  const area = new Float64Array(256);
  for (const layers of count) area[layers]++;
  let patch = 0;
  for (let layers = 255; layers > 0; layers--) {
    patch += area[layers] / pxPerMm ** 2;
    if (patch >= patchMm2) return layers;
  }
  return 0;
}

/** A stripe of bare fabric between two pieces. */
export interface NarrowGap {
  /** The earlier in needle order first. */
  readonly pieces: readonly [string, string];
  /** The middle of one place where it is bare. */
  readonly at: Point;
  readonly lengthMm: number;
  /** On average. */
  readonly widthMm: number;
}

/**
 * Stripes of bare fabric up to `widthMm` wide between two pieces, longest first. Each row and each column of
 * pixels is walked; of the two, the one that crosses a stripe more often tells its length.
 */
export function narrowGaps(layers: Layers, widthMm: number): NarrowGap[] {
  const { width, height, pxPerMm, pieceIds } = layers;
  const most = Math.round(widthMm * pxPerMm);
  const found = new Map<number, { crossings: [number, number]; pixels: [number, number]; at: number }>();
  const note = (way: 0 | 1) => (a: number, b: number, middle: number, pixels: number) => {
    const key = Math.min(a, b) * pieceIds.length + Math.max(a, b);
    const gap = found.get(key) ?? { crossings: [0, 0], pixels: [0, 0], at: middle };
    gap.crossings[way]++;
    gap.pixels[way] += pixels;
    found.set(key, gap);
  };
  for (let y = 0; y < height; y++) walkLine(layers.last, y * width, 1, width, most, note(0));
  for (let x = 0; x < width; x++) walkLine(layers.last, x, width, height, most, note(1));
  const gaps = [...found].map(([key, { crossings, pixels, at }]): NarrowGap => {
    const way = crossings[0] >= crossings[1] ? 0 : 1;
    return {
      pieces: [pieceIds[Math.floor(key / pieceIds.length)], pieceIds[key % pieceIds.length]],
      at: [((at % width) + 0.5) / pxPerMm, (Math.floor(at / width) + 0.5) / pxPerMm],
      lengthMm: crossings[way] / pxPerMm,
      widthMm: pixels[way] / crossings[way] / pxPerMm,
    };
  });
  return gaps.sort((a, b) => b.lengthMm - a.lengthMm);
}

/** Tells each run of bare pixels, `most` long or less, between two different pieces on one line of pixels. */
function walkLine(
  last: Int32Array,
  start: number,
  step: number,
  length: number,
  most: number,
  note: (a: number, b: number, middle: number, pixels: number) => void,
): void {
  let before = -1;
  let bare = 0;
  for (let n = 0, pixel = start; n < length; n++, pixel += step) {
    const piece = last[pixel];
    if (piece < 0) {
      bare++;
      continue;
    }
    if (bare > 0 && bare <= most && before >= 0 && before !== piece)
      note(before, piece, pixel - step * Math.ceil(bare / 2), bare);
    before = piece;
    bare = 0;
  }
}
