/** What can be counted of a plan's stitches: short ones, and how many layers of them lie on one spot. */
import { EMPTY_BOX, norm } from "../geometry/point.ts";
import type { Box, Point } from "../geometry/types.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import { paintStitches, type Raster } from "./sew-out.ts";
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
  readonly count: Uint16Array;
  /** The piece that came last, as an index into `pieceIds`; -1 where there is none. */
  readonly last: Int32Array;
  readonly pieceIds: readonly string[];
}

/** The pieces that are sewn as single lines, by their ids. */
export const singleLines = (
  pieces: readonly { readonly id: string; readonly technique: string }[],
): ReadonlySet<string> => new Set(pieces.filter(({ technique }) => technique === "run").map(({ id }) => id));

/**
 * Counts the pieces whose cover stitches lie over each spot. Underlay, travel and connectors are not counted, and
 * pieces in `single` only lie on top: a single line is no layer.
 * Coarser than a sew-out: `pxPerMm` of 2 sees every layer that is as wide as a thread.
 */
export function countLayers(
  sewing: readonly SewingStep[],
  size: { readonly widthMm: number; readonly heightMm: number },
  pxPerMm = 2,
  memory: Memory = NO_MEMORY,
  single: ReadonlySet<string> = new Set(),
): Layers {
  const width = Math.ceil(size.widthMm * pxPerMm - 1e-6);
  const height = Math.ceil(size.heightMm * pxPerMm - 1e-6);
  const count = new Uint16Array(width * height);
  const last = new Int32Array(width * height).fill(-1);
  const covers = coversOf(sewing);
  for (const [piece, { id, lines }] of covers.entries()) {
    const layer = single.has(id) ? 0 : 1;
    const footprint = memory.recall(`footprint ${width} ${height} ${pxPerMm}`, lines, () =>
      footprintOf(lines, { width, height, pxPerMm }),
    );
    for (let run = 0; run < footprint.length; run += 2) {
      for (let pixel = footprint[run]; pixel <= footprint[run + 1]; pixel++) count[pixel] += layer;
      last.fill(piece, footprint[run], footprint[run + 1] + 1);
    }
  }
  return { width, height, pxPerMm, count, last, pieceIds: covers.map(({ id }) => id) };
}

/** Each piece's needle points of cover stitches, in needle order. */
function coversOf(sewing: readonly SewingStep[]): { id: string; lines: Float64Array[] }[] {
  const covers: { id: string; lines: Float64Array[] }[] = [];
  for (const step of sewing) {
    if (!isSewn(step) || step.role !== "cover" || step.piece === undefined) continue;
    const before = covers.at(-1);
    if (before?.id === step.piece) before.lines.push(step.points);
    else covers.push({ id: step.piece, lines: [step.points] });
  }
  return covers;
}

/** The pixels under a piece's stitches: first and last of each run of them. */
function footprintOf(lines: readonly Float64Array[], raster: Raster): Int32Array {
  const { width, pxPerMm } = raster;
  const box = pixelBox(lines, raster, (LAYER_THREAD_MM * pxPerMm) / 2 + 1);
  const across = Math.max(0, box.maxX - box.minX + 1);
  const covered = new Uint8Array(across * Math.max(0, box.maxY - box.minY + 1));
  for (const points of lines) {
    paintStitches(points, raster, LAYER_THREAD_MM, (from, to) => {
      const y = Math.floor(from / width);
      const start = (y - box.minY) * across + from - y * width - box.minX;
      covered.fill(1, start, start + to - from + 1);
    });
  }
  const runs: number[] = [];
  for (let start = 0, y = box.minY; start < covered.length; start += across, y++) {
    for (let x = 0; x < across; x++) {
      if (covered[start + x] === 0) continue;
      const from = x;
      while (x < across && covered[start + x] === 1) x++;
      runs.push(y * width + box.minX + from, y * width + box.minX + x - 1);
    }
  }
  return Int32Array.from(runs);
}

/** The pixels round flat points, grown by `by`, as far as the raster has them. */
function pixelBox(lines: readonly Float64Array[], { width, height, pxPerMm }: Raster, by: number): Box {
  let { minX, minY, maxX, maxY } = EMPTY_BOX;
  for (const points of lines) {
    for (let i = 0; i < points.length; i += 2) {
      minX = Math.min(minX, points[i]);
      maxX = Math.max(maxX, points[i]);
      minY = Math.min(minY, points[i + 1]);
      maxY = Math.max(maxY, points[i + 1]);
    }
  }
  return {
    minX: Math.max(0, Math.floor(minX * pxPerMm - by)),
    minY: Math.max(0, Math.floor(minY * pxPerMm - by)),
    maxX: Math.min(width - 1, Math.ceil(maxX * pxPerMm + by)),
    maxY: Math.min(height - 1, Math.ceil(maxY * pxPerMm + by)),
  };
}

/** Wide enough that the rows of a fill close, narrow enough that it hardly reaches beyond its edge. */
const LAYER_THREAD_MM = 0.4;

/** The most layers that lie on any patch of at least `patchMm2`; smaller patches are no thicker than a knot. */
export function mostLayers({ count, pxPerMm }: Layers, patchMm2 = 1): number {
  const deepest = count.reduce((most, layers) => Math.max(most, layers), 0);
  const area = new Float64Array(deepest + 1);
  for (const layers of count) area[layers]++;
  let patch = 0;
  for (let layers = deepest; layers > 0; layers--) {
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
