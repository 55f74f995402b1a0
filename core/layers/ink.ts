/**
 * How the layers look: thin and quiet, so that the artwork stays what one sees. Marks are ink on a pale halo,
 * legible over light and dark artwork alike; what tells two kinds apart is always a shape or a dash as well.
 *
 * Every drawn element carries its whole look in its own `style`, because a rule of the artist's style sheet
 * (`path { fill: red }`) beats presentation attributes and whatever is inherited.
 */

import type { Polyline } from "../geometry/types.ts";
import type { Markup } from "./markup.ts";
import { pathData, type UserUnits } from "./user-units.ts";

export const INK = "#1d2733";
export const HALO = "#fdfcf7";

/** Of the lines of markers and connectors, and how far the halo reaches beyond them on either side. */
const INK_WIDTH_MM = 0.22;
const HALO_REACH_MM = 0.16;

/** Properties that an artwork's root may set and that the layers would inherit. */
export const PLAIN_STYLE =
  "fill:none;stroke:none;stroke-dasharray:none;stroke-dashoffset:0;stroke-opacity:1;stroke-linecap:round;stroke-linejoin:round;marker:none;visibility:visible";

export interface Line {
  readonly colour: string;
  readonly widthMm: number;
  readonly opacity?: number;
  /** Lengths of dash and gap. */
  readonly dashMm?: readonly number[];
}

export function lineStyle(line: Line, user: UserUnits): string {
  const style = `fill:none;stroke:${line.colour};stroke-width:${user.length(line.widthMm)}`;
  const opacity = line.opacity === undefined ? "" : `;stroke-opacity:${line.opacity}`;
  const dash = line.dashMm === undefined ? "" : `;stroke-dasharray:${line.dashMm.map(user.length).join(",")}`;
  return style + opacity + dash;
}

export const haloStyle = (user: UserUnits): string =>
  lineStyle({ colour: HALO, widthMm: INK_WIDTH_MM + 2 * HALO_REACH_MM }, user);

export const inkStyle = (user: UserUnits, dashMm?: readonly number[]): string =>
  lineStyle(
    {
      colour: INK,
      widthMm: INK_WIDTH_MM,
      ...(dashMm === undefined ? {} : { dashMm }),
    },
    user,
  );

/** The same lines twice: pale and wide, and on them in ink. Both paths begin at the first line's first point. */
export function inkOnHalo(lines: readonly Polyline[], user: UserUnits, svg: Markup): string[] {
  const d = pathData(lines, user);
  return [
    svg.element("path", { d, style: haloStyle(user) }),
    svg.element("path", { d, style: inkStyle(user) }),
  ];
}

/** How far a stitch's drawn colour is moved from its thread's. */
const SHADE = 0.12;

/**
 * The thread's colour, a little darker, or lighter if it is dark: stitches lie on artwork of the very colour
 * of their thread and would not be seen in it. `colour` is `#rrggbb`.
 */
export function shade(colour: string): string {
  const channels = [1, 3, 5].map((i) => Number.parseInt(colour.slice(i, i + 2), 16));
  const isDark = channels[0] + channels[1] + channels[2] < 3 * 96;
  const towards = isDark ? 255 : 0;
  const shaded = channels.map((v) => Math.round(v + (towards - v) * SHADE));
  return `#${shaded.map((v) => v.toString(16).padStart(2, "0")).join("")}`;
}
