/** What to set up before sewing, as terms and their text: hoop, needle, backing, topping, start, time. */

import { isSewn } from "../../plan/steps.ts";
import type { Plan } from "../../plan/types.ts";
import { recipeNamed } from "../../recipes/recipes.ts";
import { count, duration, mm, plural } from "../figure-text.ts";
import { type Html, tag } from "../html.ts";
import { machineOrigin, needleBox } from "../machine-moves.ts";
import type { SheetFigures } from "./figures.ts";

export const setupList = (plan: Plan): Html => {
  const recipe = recipeNamed(plan.settings.recipe);
  const rows: readonly (readonly [term: string, text: string])[] = [
    ["Hoop", hoopText(plan)],
    ["Fabric", recipe.fabric],
    ["Needle", recipe.needle],
    ["Backing", recipe.backing],
    ["Topping", recipe.topping],
    ["Start", startText(plan)],
  ];
  return tag(
    "dl",
    {},
    rows.map(([term, text]) => [tag("dt", {}, term), tag("dd", {}, text)]),
  );
};

/** How the time comes about. */
export function timeList(plan: Plan, figures: SheetFigures): Html {
  const { time, stitches, hops, trims, changes } = figures;
  const speed = count(plan.settings.stitchesPerMinute);
  const rows: readonly (readonly [term: string, seconds: number])[] = [
    [`${plural(stitches, "stitch", "stitches")} at ${speed} a minute`, time.sewingSeconds],
    [`slowing down for ${plural(hops, "hop")}`, time.hopSeconds],
    [plural(trims, "trim"), time.trimSeconds],
    [plural(changes, "change of thread", "changes of thread"), time.changeSeconds],
  ];
  return tag(
    "dl",
    { class: "time" },
    rows
      .filter(([, seconds]) => seconds > 0)
      .map(([term, seconds]) => [tag("dt", {}, term), tag("dd", {}, duration(seconds))]),
    tag("dt", {}, "in all, estimated"),
    tag("dd", { class: "sum" }, duration(time.totalSeconds)),
  );
}

/** Whether the stitches lie in the hoop's sewing field, centred, and how much is left or lacking. */
export function hoopText({ sewing, settings }: Plan): string {
  const box = needleBox(sewing);
  if (box === undefined) return "none: nothing is sewn";
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  const { hoopWidthMm, hoopHeightMm } = settings;
  if (hoopWidthMm === null || hoopHeightMm === null)
    return `sewing field of at least ${mm(ceilTenth(hoopWidthMm ?? width))} × ${mm(ceilTenth(hoopHeightMm ?? height))} mm`;
  const field = `sewing field ${mm(hoopWidthMm)} × ${mm(hoopHeightMm)} mm`;
  const [spareX, spareY] = [hoopWidthMm - width, hoopHeightMm - height];
  if (spareX >= 0 && spareY >= 0)
    return `${field}; ${mm(spareX / 2)} mm to spare left and right, ${mm(spareY / 2)} mm above and below`;
  const lacks = [
    ...(spareX < 0 ? [`${mm(-spareX)} mm too wide`] : []),
    ...(spareY < 0 ? [`${mm(-spareY)} mm too high`] : []),
  ];
  const fitsTurned = width <= hoopHeightMm && height <= hoopWidthMm;
  const remedy = fitsTurned ? "Turned by a quarter it fits" : "Take a larger hoop";
  return `${field}: the design is ${lacks.join(" and ")} for it. ${remedy}`;
}

const ceilTenth = (value: number): number => Math.ceil(value * 10 - 1e-6) / 10;

/** Where to put the needle, and where the first stitch lies from there. */
function startText(plan: Plan): string {
  const first = plan.sewing.find(isSewn);
  if (first === undefined) return "nowhere: nothing is sewn";
  if (plan.settings.origin === "start") return "with the needle on the ringed cross, the first stitch";
  const [x, y] = machineOrigin(plan);
  const [dx, dy] = [first.points[0] - x, first.points[1] - y];
  return `with the needle on the middle of the design; the first stitch lies ${mm(Math.abs(dx))} mm ${
    dx < 0 ? "left" : "right"
  } and ${mm(Math.abs(dy))} mm ${dy < 0 ? "above" : "below"}`;
}
