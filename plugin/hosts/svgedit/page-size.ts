/**
 * The page between two ways of saying its size. A drawing has a physical size and a viewBox (`90mm`,
 * `0 0 90 100`); the editor has one width and height in user units, from 0 0. While a drawing is edited its
 * root keeps its own header; only where the artist resizes the page in the editor is it written anew, so that
 * a user unit stays as long as it was.
 */
import { absoluteLength } from "../../../core/artwork/lengths.ts";
import { parseViewBox } from "../../../core/artwork/viewport.ts";
import type { XmlElement } from "../../../core/artwork/xml.ts";

export interface EditorPage {
  /** Where the page begins, in the drawing's user units. */
  readonly x: number;
  readonly y: number;
  /** In user units. */
  readonly width: number;
  readonly height: number;
  /** The transform that brings the page's corner to 0 0; "" where it is there. */
  readonly shift: string;
}

/** Where nothing has a size and nothing is drawn. */
const EMPTY_PAGE = 100;

/** @param measure the box around all that is drawn, asked for only where the root has no size of its own */
export function editorPage(root: XmlElement, measure: () => DOMRect | null): EditorPage {
  const { attributes } = root;
  const viewBox = parseViewBox(attributes.viewBox);
  if (viewBox !== null && viewBox.width > 0 && viewBox.height > 0) return shifted(viewBox);
  const width = absoluteLength(attributes.width ?? "");
  const height = absoluteLength(attributes.height ?? "");
  if (width !== null && height !== null && width > 0 && height > 0)
    return shifted({ x: 0, y: 0, width, height });
  const box = measure();
  return shifted(
    box !== null && box.width > 0 && box.height > 0
      ? box
      : { x: 0, y: 0, width: EMPTY_PAGE, height: EMPTY_PAGE },
  );
}

function shifted({ x, y, width, height }: Omit<EditorPage, "shift">): EditorPage {
  return { x, y, width, height, shift: x === 0 && y === 0 ? "" : `translate(${-x} ${-y})` };
}

/**
 * The root's attributes for a page that was resized in the editor; none where it was not.
 *
 * @param size in user units
 */
export function resizedHeader(
  { attributes }: XmlElement,
  page: EditorPage,
  size: { readonly width: number; readonly height: number },
): Map<string, string> {
  const header = new Map<string, string>();
  if (Math.abs(size.width - page.width) < 1e-6 && Math.abs(size.height - page.height) < 1e-6) return header;
  header.set("viewBox", [page.x, page.y, size.width, size.height].map(plain).join(" "));
  header.set("width", scaled(attributes.width, size.width / page.width) ?? plain(size.width));
  header.set("height", scaled(attributes.height, size.height / page.height) ?? plain(size.height));
  return header;
}

const plain = (number: number): string => String(Number(number.toFixed(4)));

/** `90mm` by 1.5 → `135mm`; undefined where it is no length. */
function scaled(length: string | undefined, factor: number): string | undefined {
  if (length === undefined || absoluteLength(length) === null) return undefined;
  return `${plain(Number.parseFloat(length) * factor)}${/[a-z]*$/i.exec(length.trim())?.[0]}`;
}
