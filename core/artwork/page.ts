/**
 * The size of the drawing: from the root's width, height and viewBox to millimetres, at 96 pixels an inch, then
 * scaled to the sewn width if one is asked for.
 */
import { ArtworkError } from "../errors.ts";
import type { Box, Matrix } from "../geometry/types.ts";
import type { Settings } from "../settings.ts";
import type { Drawing } from "./drawing.ts";
import { lengthToUser, PX_PER_MM } from "./lengths.ts";
import { MAX_COORDINATE_MM } from "./limits.ts";
import { multiply, scaling } from "./matrix.ts";
import { parseViewBox, type ViewBox, viewBoxMatrix } from "./viewport.ts";
import type { XmlElement } from "./xml.ts";

export interface Page {
  readonly widthMm: number;
  readonly heightMm: number;
  /** From the root's user units to millimetres from the page's top left corner. */
  readonly userToMm: Matrix;
  /** From pixels of the outermost viewport. */
  readonly pxToMm: number;
  /** What percentages refer to, in user units. */
  readonly viewportWidth: number;
  readonly viewportHeight: number;
}

/**
 * @param drawnBox the box, in user units, around all that is drawn: asked for only where the root has no size
 * @throws ArtworkError where neither the root nor what is drawn has a size, or the size is absurd
 */
export function pageOf(drawing: Drawing, settings: Settings, drawnBox: () => Box): Page {
  const { attributes } = drawing.root;
  const declared = drawing.declaredOn(drawing.root);
  const width = pixels("width", declared.get("width"), drawing);
  const height = pixels("height", declared.get("height"), drawing);
  const given = usableViewBox(attributes.viewBox, drawing);
  const box = given ?? (width !== null && height !== null ? sized(width, height) : boxAround(drawnBox()));
  const unsized = given === null && (width === null || height === null);
  const widthPx = unsized ? box.width : (width ?? ((height ?? box.height) * box.width) / box.height);
  const heightPx = unsized ? box.height : (height ?? (widthPx * box.height) / box.width);

  const sewnMm = settings.widthMm ?? recordedWidthMm(drawing.root) ?? widthPx / PX_PER_MM;
  const pxToMm = recordable(sewnMm) / widthPx;
  const widthMm = widthPx * pxToMm;
  const heightMm = heightPx * pxToMm;
  if (!(Math.max(widthMm, heightMm) <= MAX_COORDINATE_MM))
    throw new ArtworkError(
      `The drawing would be ${metres(widthMm)} by ${metres(heightMm)} m: set the width to sew it at.`,
    );
  const fit = viewBoxMatrix(box, widthPx, heightPx, attributes.preserveAspectRatio ?? "");
  return {
    widthMm,
    heightMm,
    userToMm: multiply(scaling(pxToMm), fit),
    pxToMm,
    viewportWidth: box.width,
    viewportHeight: box.height,
  };
}

const metres = (mm: number): string => (mm / 1000).toPrecision(3);

const sized = (width: number, height: number): ViewBox => ({ x: 0, y: 0, width, height });

/** A size of the root in pixels: `null` where there is none, where it is a percentage, or, with a finding, is none. */
function pixels(name: string, text: string | undefined, drawing: Drawing): number | null {
  if (text === undefined || text === "auto" || text.trim() === "" || text.trim().endsWith("%")) return null;
  const size = lengthToUser(text, "other", { fontSizePx: 16, viewportWidth: 0, viewportHeight: 0 });
  if (size !== null && size > 0 && Number.isFinite(size)) return size;
  noteBadSize(name, text, drawing);
  return null;
}

function usableViewBox(text: string | undefined, drawing: Drawing): ViewBox | null {
  if (text === undefined) return null;
  const box = parseViewBox(text);
  if (box !== null && box.width > 0 && box.height > 0) return box;
  noteBadSize("viewBox", text, drawing);
  return null;
}

const noteBadSize = (name: string, text: string, drawing: Drawing): void =>
  drawing.notes.add(
    `bad-${name.toLowerCase()}`,
    "warning",
    "",
    `The drawing’s ${name}="${text.slice(0, 40)}" is no size; it is ignored.`,
    "Set the page size in the editor.",
  );

function boxAround({ minX, minY, maxX, maxY }: Box): ViewBox {
  const width = maxX - minX;
  const height = maxY - minY;
  if (!(width > 0 && height > 0 && Number.isFinite(width * height)))
    throw new ArtworkError("The drawing has no size, and draws nothing to take one from.");
  return { x: minX, y: minY, width, height };
}

/**
 * Decimals of a millimetre that a planned drawing records its sewn size to. The size is kept to them from the
 * start, so that planning the drawing again begins with the very same number.
 */
export const SIZE_DECIMALS = 6;

function recordable(mm: number): number {
  const factor = 10 ** SIZE_DECIMALS;
  return Math.round(mm * factor) / factor || mm;
}

/** The sewn width that an earlier plan recorded in the drawing. */
function recordedWidthMm(root: XmlElement): number | null {
  const record = find(root, ({ attributes }) => attributes["data-tuck-role"] === "size");
  const width = Number(record?.attributes["data-tuck-width-mm"]);
  return width > 0 && Number.isFinite(width) ? width : null;
}

function find(element: XmlElement, fits: (one: XmlElement) => boolean): XmlElement | null {
  if (fits(element)) return element;
  for (const child of element.children) {
    const found = child.type === "element" ? find(child, fits) : null;
    if (found !== null) return found;
  }
  return null;
}
