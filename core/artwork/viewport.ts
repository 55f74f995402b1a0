/** How a viewBox fits its viewport (SVG 2, 8.6 to 8.8). */
import type { Matrix } from "../geometry/types.ts";
import { numberList } from "./lengths.ts";

export interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A `viewBox` attribute; `null` where it is missing, malformed, negative or not finite. Its size may be zero. */
export function parseViewBox(text: string | undefined): ViewBox | null {
  if (text === undefined) return null;
  const { numbers, rest } = numberList(text);
  if (numbers.length !== 4 || rest !== "" || !numbers.every(Number.isFinite)) return null;
  const [x, y, width, height] = numbers;
  return width < 0 || height < 0 ? null : { x, y, width, height };
}

/**
 * The map from the viewBox's units to a viewport of this size whose top left corner is the origin.
 *
 * @param aspect the `preserveAspectRatio` attribute; anything malformed means the default, `xMidYMid meet`
 */
export function viewBoxMatrix(box: ViewBox, width: number, height: number, aspect: string): Matrix {
  const scaleX = width / box.width;
  const scaleY = height / box.height;
  const words = aspect.trim().split(/\s+/);
  if (words[0] === "defer") words.shift();
  if (words[0] === "none") return [scaleX, 0, 0, scaleY, -box.x * scaleX, -box.y * scaleY];
  const scale = words[1] === "slice" ? Math.max(scaleX, scaleY) : Math.min(scaleX, scaleY);
  const found = /^x(Min|Mid|Max)Y(Min|Mid|Max)$/.exec(words[0] ?? "");
  const left = (width - box.width * scale) * share(found?.[1]);
  const top = (height - box.height * scale) * share(found?.[2]);
  return [scale, 0, 0, scale, left - box.x * scale, top - box.y * scale];
}

const share = (place: string | undefined): number => (place === "Min" ? 0 : place === "Max" ? 1 : 0.5);
