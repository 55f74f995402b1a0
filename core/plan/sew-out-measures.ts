/**
 * How well a sew-out matches the drawing that it came from, pixel by pixel.
 *
 * The drawing is handed in as pixels of its own, drawn at the size of the sew-out raster by whoever has a
 * rasteriser; premultiplied or not makes no difference, since only two kinds of pixels are looked at:
 *
 * - inside: opaque, and so are its eight neighbours, all of one colour. Where they differ, an edge runs through,
 *   antialiased or not, and which colour is meant there is for nobody to say. Gradients drop out too, mostly.
 * - outside: clear, and farther than a tolerance from every pixel that is not.
 *
 * Thread has the flat colour of the stitch that lies on top.
 */
import type { SewOut } from "./sew-out.ts";
import { isSewn } from "./steps.ts";
import type { Plan } from "./types.ts";

/** A drawing as pixels, four bytes each: red, green, blue, alpha. */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly rgba: Uint8Array;
}

export interface Likeness {
  /** Area of the drawing that was looked at, away from edges, in square millimetres. */
  readonly insideMm2: number;
  /** Of that: sewn in its own colour, sewn in another, and left bare. */
  readonly ownColourMm2: number;
  readonly otherColourMm2: number;
  readonly bareMm2: number;
  /** All that the drawing paints, edges too, and thread farther than the tolerance outside it. */
  readonly paintedMm2: number;
  readonly outsideMm2: number;
}

/** Colours that differ by no more than this, red, green and blue added up, are taken for one. */
export const SAME_COLOUR_SUM = 48;
/** Thread may lie this far outside the drawing: compensation for pull, and half the thread's width. */
export const OUTSIDE_MM = 0.3;

/**
 * Holds the sew-out of a plan against the drawing. Both rasters cover the artwork's page.
 *
 * @throws RangeError where the two are not of one size
 */
export function measureLikeness(
  { sewing, pieces }: Pick<Plan, "sewing" | "pieces">,
  { width, height, pxPerMm, top }: SewOut,
  drawing: Drawing,
): Likeness {
  if (drawing.width !== width || drawing.height !== height)
    throw new RangeError(
      `the drawing has ${drawing.width} × ${drawing.height} pixels, the sew-out ${width} × ${height}`,
    );
  const colours = stepColours({ sewing, pieces });
  const painted = coloursIn(drawing);
  const far = farFromPaint(painted, width, height, OUTSIDE_MM * pxPerMm);
  const [own, other, bare, all, outside] = [0, 1, 2, 3, 4];
  const counts = [0, 0, 0, 0, 0];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const pixel = y * width + x;
      if (painted[pixel] !== CLEAR) counts[all]++;
      if (top[pixel] >= 0 && far[pixel] === 1) counts[outside]++;
      if (painted[pixel] < 0 || !isUniform(painted, width, height, x, y)) continue;
      if (top[pixel] < 0) counts[bare]++;
      else counts[isNearColour(colours[top[pixel]], painted[pixel]) ? own : other]++;
    }
  }
  const mm2 = counts.map((count) => count / pxPerMm ** 2);
  return {
    insideMm2: mm2[own] + mm2[other] + mm2[bare],
    ownColourMm2: mm2[own],
    otherColourMm2: mm2[other],
    bareMm2: mm2[bare],
    paintedMm2: mm2[all],
    outsideMm2: mm2[outside],
  };
}

/** The thread's colour in each step of the sewing, as 0xrrggbb; 0 for steps that sew nothing. */
export function stepColours({ sewing, pieces }: Pick<Plan, "sewing" | "pieces">): Int32Array {
  const ofPiece = new Map(pieces.map(({ id, colour }) => [id, Number.parseInt(colour.slice(1), 16)]));
  const ofBlock = new Map<number, number>();
  for (const step of sewing) {
    const colour = isSewn(step) && step.piece !== undefined ? ofPiece.get(step.piece) : undefined;
    if (isSewn(step) && colour !== undefined) ofBlock.set(step.block, colour);
  }
  return Int32Array.from(sewing, (step) => (isSewn(step) ? (ofBlock.get(step.block) ?? 0) : 0));
}

/** What a pixel holds other than an opaque colour. */
const CLEAR = -1;
const HALF_CLEAR = -2;

/** Each pixel's colour as 0xrrggbb where it is opaque. */
function coloursIn({ rgba }: Drawing): Int32Array {
  const colours = new Int32Array(rgba.length / 4);
  for (let pixel = 0; pixel < colours.length; pixel++) {
    const [red, green, blue, alpha] = [4 * pixel, 4 * pixel + 1, 4 * pixel + 2, 4 * pixel + 3];
    if (rgba[alpha] === 255) colours[pixel] = (rgba[red] << 16) | (rgba[green] << 8) | rgba[blue];
    else colours[pixel] = rgba[alpha] === 0 ? CLEAR : HALF_CLEAR;
  }
  return colours;
}

/** Whether a pixel and its eight neighbours hold the same; at the raster's edge, as many as there are. */
function isUniform(colours: Int32Array, width: number, height: number, x: number, y: number): boolean {
  const colour = colours[y * width + x];
  for (let row = Math.max(0, y - 1); row <= Math.min(height - 1, y + 1); row++) {
    for (let column = Math.max(0, x - 1); column <= Math.min(width - 1, x + 1); column++) {
      if (colours[row * width + column] !== colour) return false;
    }
  }
  return true;
}

function isNearColour(a: number, b: number): boolean {
  const red = Math.abs((a >> 16) - (b >> 16));
  const green = Math.abs(((a >> 8) & 255) - ((b >> 8) & 255));
  return red + green + Math.abs((a & 255) - (b & 255)) <= SAME_COLOUR_SUM;
}

/**
 * 1 where no pixel with paint lies within `radius` pixels. Exact, in two passes: how far paint is along the
 * column, then the least over the rows' neighbours within the radius.
 */
function farFromPaint(colours: Int32Array, width: number, height: number, radius: number): Uint8Array {
  const reach = Math.floor(radius);
  const beyond = reach + 1;
  const upOrDown = new Uint8Array(width * height).fill(beyond);
  for (let x = 0; x < width; x++) {
    for (const [from, to, step] of [
      [0, height, 1],
      [height - 1, -1, -1],
    ]) {
      let since = beyond;
      for (let y = from; y !== to; y += step) {
        since = colours[y * width + x] === CLEAR ? Math.min(beyond, since + 1) : 0;
        upOrDown[y * width + x] = Math.min(upOrDown[y * width + x], since);
      }
    }
  }
  const far = new Uint8Array(width * height).fill(1);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      for (let dx = -reach; dx <= reach; dx++) {
        if (x + dx < 0 || x + dx >= width) continue;
        const dy = upOrDown[y * width + x + dx];
        if (dy <= reach && dx * dx + dy * dy <= radius * radius) {
          far[y * width + x] = 0;
          break;
        }
      }
    }
  }
  return far;
}
