/** The layer of cut lines: where each patch is cut out, drawn as a long dash and a dot in ink on a pale halo. */
import { closeRing } from "../geometry/polyline.ts";
import type { Ring } from "../geometry/types.ts";
import { haloStyle, inkStyle } from "./ink.ts";
import { type Drawing, layer } from "./layer.ts";
import { pathData } from "./user-units.ts";

const DASH_MM = [3, 0.8, 0.01, 0.8];

/** One closed path a patch; below them all, one path that is the halo of each. */
export function cutLineLayer(rings: readonly Ring[], drawing: Drawing): string {
  const { svg, user } = drawing;
  const lines = rings.map(closeRing);
  return layer("cut-line", drawing, [
    svg.element("path", { "data-tuck-part": "halo", d: pathData(lines, user), style: haloStyle(user) }),
    ...lines.map((line) =>
      svg.element("path", {
        "data-tuck-part": "cut-line",
        d: `${pathData([line], user)}Z`,
        style: inkStyle(user, DASH_MM),
      }),
    ),
  ]);
}
