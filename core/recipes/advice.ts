/**
 * What a recipe advises beyond figures. Underlay is sewn first, under what shows; backing is hooped below the
 * fabric, topping laid on it. Needles are named by the metric count (a hundredth of a millimetre of blade
 * diameter) and the older size. All of it is common practice, no source.
 */
import type { ByFabric } from "./fabrics.ts";
import { COMMON_PRACTICE } from "./source.ts";

/** Along the centre line; along the edges, inside them; to and fro between the edges; open rows across the fill's own. */
export type UnderlayKind = "centre run" | "edge run" | "zigzag" | "cross fill";

export interface Advice {
  /** What to lay under a satin, and under a fill, in sewing order, where the piece is large enough for it. */
  readonly satinUnderlay: readonly UnderlayKind[];
  readonly fillUnderlay: readonly UnderlayKind[];
  readonly backing: string;
  readonly topping: string;
  readonly needle: string;
  readonly source: string;
}

export const ADVICE: ByFabric<Advice> = {
  "stable-woven": {
    satinUnderlay: ["centre run", "zigzag"],
    fillUnderlay: ["edge run", "cross fill"],
    backing: "tear-away, one sheet of middling weight; two for dense designs",
    topping: "none",
    needle: "sharp point, 75/11; 90/14 through denim and canvas",
    source: COMMON_PRACTICE,
  },
  knit: {
    satinUnderlay: ["edge run", "zigzag"],
    fillUnderlay: ["edge run", "cross fill"],
    backing: "cut-away, which stays and holds; do not stretch the fabric when hooping",
    topping: "a water-soluble film on ribbed and loose knits",
    needle: "ball point, 75/11; it parts the loops of the knit and cuts none",
    source: COMMON_PRACTICE,
  },
  pile: {
    satinUnderlay: ["edge run", "zigzag"],
    fillUnderlay: ["edge run", "cross fill"],
    backing: "cut-away for fleece and velvet, tear-away for towelling; stick on what a hoop crushes",
    topping: "a water-soluble film, so that the loops stay below the stitches",
    needle: "sharp point, 80/12; ball point on knitted fleece",
    source: COMMON_PRACTICE,
  },
  sheer: {
    satinUnderlay: ["centre run"],
    fillUnderlay: ["edge run"],
    backing: "a water-soluble sheet that washes out, or the finest cut-away in the fabric's colour",
    topping: "none",
    needle: "sharp point, 65/9 or 70/10; a thick one leaves holes",
    source: COMMON_PRACTICE,
  },
  felt: {
    satinUnderlay: ["edge run", "zigzag"],
    fillUnderlay: ["cross fill"],
    backing: "cut-away of middling weight under the whole patch; none where the felt is stiff",
    topping: "none",
    needle: "sharp point, 80/12; 90/14 through two layers",
    source: COMMON_PRACTICE,
  },
};
