/**
 * A plan as it will look when it is sewn, painted whole on a sheet of its own: the same thread as on the canvas, for
 * whoever has no canvas yet.
 */
import type { Plan } from "../../core/plan/types.ts";
import { trackOf } from "./needle-track.ts";
import { threadLayer } from "./thread-scene.ts";

/** Pixels row by row from the top left: red, green, blue and alpha, not premultiplied; clear where no thread lies. */
export interface PlanPicture {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8ClampedArray<ArrayBuffer>;
}

/** @param box in pixels: the artwork's page is as large as fits in it, in true proportions */
export function paintPlan(plan: Plan, box: { readonly width: number; readonly height: number }): PlanPicture {
  const { widthMm, heightMm } = plan.size;
  const pxPerMm = Math.min(box.width / widthMm, box.height / heightMm);
  const width = Math.max(1, Math.round(widthMm * pxPerMm));
  const height = Math.max(1, Math.round(heightMm * pxPerMm));
  const track = trackOf(plan);
  const view = { width, height, toPx: [pxPerMm, 0, 0, pxPerMm, 0, 0], pxPerCssPx: 1 } as const;
  const layer = threadLayer(track, view, "sew-out");
  layer.paint(track.count, false, () => true);
  return { width, height, pixels: layer.sheet.straight({ left: 0, top: 0, right: width, bottom: height }) };
}
