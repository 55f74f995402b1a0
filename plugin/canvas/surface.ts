/** What every kind of mark works with: the drawing surface, where millimetres lie on it, and how to tell of things. */
import { type G, SVG, type Svg } from "@svgdotjs/svg.js";
import { apply, IDENTITY, invert, multiply } from "../../core/artwork/matrix.ts";
import { norm } from "../../core/geometry/point.ts";
import type { Matrix, Point } from "../../core/geometry/types.ts";
import type { EditorHost } from "../editor-host.ts";
import type { Session } from "../session-types.ts";
import { addLook, PREFIX } from "./look.ts";

export interface Surface {
  readonly host: EditorHost;
  readonly session: Session;
  readonly root: Svg;
  /** A group for one kind of mark, above those made before. */
  layer(name: string, label: string): G;
  /** From millimetres to CSS pixels of the overlay, and back. */
  toPx(at: Point): Point;
  toMm(px: Point): Point;
  readonly matrix: Matrix;
  readonly pxPerMm: number;
  /** Of the overlay, in CSS pixels. */
  readonly width: number;
  readonly height: number;
  /** Where a pointer is, in CSS pixels of the overlay. */
  pointer(event: { readonly clientX: number; readonly clientY: number }): Point;
  /** Whether a place in CSS pixels can be seen, or nearly. */
  isInView(px: Point): boolean;
  /** Said aloud by screen readers. */
  tell(text: string): void;
  /** Takes in what the host's view is now. */
  follow(userToMm: Matrix): void;
  dispose(): void;
}

/** Marks are drawn somewhat beyond what is seen, so that short pans find them there. */
const MARGIN_PX = 40;

export function createSurface(host: EditorHost, session: Session): Surface {
  addLook();
  const { element } = host.overlay;
  const root = SVG().addTo(element).addClass(`${PREFIX}s`);
  const told = document.createElement("div");
  told.className = "tuck-told";
  told.setAttribute("role", "status");
  element.append(told);

  let matrix: Matrix = IDENTITY;
  let back: Matrix = IDENTITY;
  let width = 0;
  let height = 0;
  return {
    host,
    session,
    root,
    layer: (name, label) => root.group().addClass(name).attr({ role: "group", "aria-label": label }),
    toPx: (at) => apply(matrix, at),
    toMm: (px) => apply(back, px),
    get matrix() {
      return matrix;
    },
    get pxPerMm() {
      return norm(matrix[0], matrix[1]);
    },
    get width() {
      return width;
    },
    get height() {
      return height;
    },
    pointer({ clientX, clientY }) {
      const { left, top } = element.getBoundingClientRect();
      return [clientX - left, clientY - top];
    },
    isInView: ([x, y]) => x > -MARGIN_PX && y > -MARGIN_PX && x < width + MARGIN_PX && y < height + MARGIN_PX,
    tell(text) {
      told.textContent = text;
    },
    follow(userToMm) {
      matrix = multiply(host.overlay.view(), invert(userToMm));
      back = invert(matrix);
      width = element.clientWidth;
      height = element.clientHeight;
    },
    dispose() {
      root.remove();
      told.remove();
    },
  };
}
