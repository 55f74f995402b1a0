/**
 * Where painted thread is seen: a canvas a layer, over the drawing. When the artist zooms or pans, the pictures
 * that are there move along at once, and better ones take their place as the painter sends them.
 */

import { invert, multiply } from "../../core/artwork/matrix.ts";
import type { Matrix } from "../../core/geometry/types.ts";
import type { NeedleTrack } from "./needle-track.ts";
import type { SheetView } from "./thread-layer.ts";
import { type FrameMessage, type SceneMessage, THREAD_LAYERS, type ThreadLayerName } from "./thread-scene.ts";

export interface ThreadView {
  /** Shows another plan's track. */
  setTrack(track: NeedleTrack): void;
  /** Follows zoom and pan: from millimetres to CSS pixels of the canvas, and its size in CSS pixels. */
  setView(toCssPx: Matrix, width: number, height: number): void;
  /** What to show, and how far it is sewn. */
  show(wanted: Pick<SceneMessage, "sewOut" | "stitches" | "emphasis" | "isScrubbed">): void;
  /** Called for every frame that comes onto the canvas. */
  onFrame:
    | ((frame: { readonly layer: ThreadLayerName; readonly at: number; readonly isNewest: boolean }) => void)
    | null;
  dispose(): void;
}

export function threadView(parent: HTMLElement, worker: Worker): ThreadView {
  const canvases = new Map(THREAD_LAYERS.map((name) => [name, addCanvas(parent, name)]));
  let serial = 0;
  let toCssPx: Matrix = [1, 0, 0, 1, 0, 0];
  const seenBy = new Map<ThreadLayerName, SheetView>();

  const post = (changes: Omit<SceneMessage, "serial">, transfer: Transferable[] = []): void =>
    worker.postMessage({ serial: ++serial, ...changes } satisfies SceneMessage, transfer);

  /** Puts a layer's picture where what it shows is now. */
  const place = (name: ThreadLayerName): void => {
    const painted = seenBy.get(name);
    const canvas = canvases.get(name);
    if (painted === undefined || canvas === undefined) return;
    const moved = multiply(toCssPx, invert(painted.toPx));
    canvas.style.transform = `matrix(${moved.join(",")})`;
  };

  const view: ThreadView = {
    onFrame: null,
    setTrack({ count, ends, spans }) {
      const copy = ends.slice();
      post(
        {
          track: {
            count,
            ends: copy,
            spans: spans.map(({ first, end, role, colour }) => ({ first, end, role, colour })),
          },
        },
        [copy.buffer],
      );
    },
    setView(matrix, width, height) {
      toCssPx = matrix;
      for (const name of THREAD_LAYERS) place(name);
      const ratio = globalThis.devicePixelRatio || 1;
      post({
        view: {
          width: Math.round(width * ratio),
          height: Math.round(height * ratio),
          toPx: multiply([ratio, 0, 0, ratio, 0, 0], matrix),
          pxPerCssPx: ratio,
        },
      });
    },
    show(wanted) {
      for (const [name, isShown] of [
        ["sew-out", wanted.sewOut],
        ["stitches", wanted.stitches],
      ] as const) {
        const canvas = canvases.get(name);
        if (isShown !== undefined && canvas !== undefined) canvas.hidden = isShown === null;
      }
      post(wanted);
    },
    dispose() {
      worker.terminate();
      for (const canvas of canvases.values()) canvas.remove();
    },
  };

  worker.onmessage = ({ data }: MessageEvent<FrameMessage>) => {
    const canvas = canvases.get(data.layer);
    const context = canvas?.getContext("2d");
    if (canvas === undefined || !context) return;
    const { width, height } = data.view;
    if (canvas.width !== width || canvas.height !== height) {
      canvas.width = width;
      canvas.height = height;
    }
    context.clearRect(data.x, data.y, data.bitmap.width, data.bitmap.height);
    context.drawImage(data.bitmap, data.x, data.y);
    data.bitmap.close();
    seenBy.set(data.layer, data.view);
    place(data.layer);
    view.onFrame?.({ layer: data.layer, at: data.at, isNewest: data.serial === serial });
  };
  return view;
}

function addCanvas(parent: HTMLElement, name: ThreadLayerName): HTMLCanvasElement {
  const canvas = document.createElement("canvas");
  canvas.className = `tuck-${name}`;
  canvas.width = 0;
  canvas.height = 0;
  canvas.setAttribute("aria-hidden", "true");
  Object.assign(canvas.style, {
    position: "absolute",
    left: "0",
    top: "0",
    transformOrigin: "0 0",
    pointerEvents: "none",
  });
  parent.append(canvas);
  return canvas;
}
