/** The fabric under the thread: it lets the drawing show through a little, so that one sees where one is. */
import type { Matrix } from "../../core/geometry/types.ts";

/** Millimetres are too coarse for the size of a box on the page, which is rounded. */
const PX_PER_MM = 10;

export interface Fabric {
  show(isShown: boolean): void;
  /** Lies where the artwork's page lies. */
  follow(size: { readonly widthMm: number; readonly heightMm: number }, toPx: Matrix): void;
  dispose(): void;
}

export function createFabric(parent: HTMLElement): Fabric {
  const fabric = document.createElement("div");
  fabric.className = "tuck-fabric";
  fabric.hidden = true;
  parent.append(fabric);
  return {
    show(isShown) {
      fabric.hidden = !isShown;
    },
    follow({ widthMm, heightMm }, [a, b, c, d, e, f]) {
      fabric.style.width = `${widthMm * PX_PER_MM}px`;
      fabric.style.height = `${heightMm * PX_PER_MM}px`;
      const linear = [a, b, c, d].map((v) => v / PX_PER_MM);
      fabric.style.transform = `matrix(${[...linear, e, f].join(",")})`;
    },
    dispose: () => fabric.remove(),
  };
}
