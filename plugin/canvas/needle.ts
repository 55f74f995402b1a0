/** The needle, shown where it is while the design is played. */
import type { Plan } from "../../core/plan/types.ts";
import { placeAt } from "./player.ts";
import type { Surface } from "./surface.ts";

const SHAPE = "M0 0L-3 -18L3 -18Z";

export interface Needle {
  /** `at`: stitches sewn so far; `null` hides it. */
  show(plan: Plan | null, at: number | null): void;
}

export function createNeedle(surface: Surface): Needle {
  const group = surface.root.group().addClass("needle away");
  group.path(SHAPE).addClass("solid");
  group.circle(7).center(0, 0).addClass("pale");
  return {
    show(plan, at) {
      const place = plan === null || at === null ? null : placeAt(plan, at);
      group.node.classList.toggle("away", place === null);
      if (place === null) return;
      const [x, y] = surface.toPx(place.point);
      group.node.setAttribute("transform", `translate(${x.toFixed(2)} ${y.toFixed(2)})`);
    },
  };
}
