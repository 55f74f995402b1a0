/** The frame that all layers share, and what their writers are given. */
import { PLAIN_STYLE } from "./ink.ts";
import type { LayerRole, LayerStates } from "./layer-states.ts";
import type { Markup } from "./markup.ts";
import type { UserUnits } from "./user-units.ts";

const TITLES: Readonly<Record<LayerRole, string>> = {
  stitches: "Stitches",
  connectors: "Connectors",
  points: "Entries and exits",
  "cut-line": "Cut line",
  findings: "Findings",
};

/** Layers in which nothing is moved by hand: desktop editors keep the artist from drawing on them. */
const LOCKED: ReadonlySet<LayerRole> = new Set(["stitches", "cut-line", "findings"]);

/** The tools of one drawing: its element names and its units; and which layers are asked for. */
export interface Drawing {
  readonly svg: Markup;
  readonly user: UserUnits;
  readonly states: LayerStates;
}

/**
 * A top-level group that browser editors (by class and title) and desktop editors (by mode and label) list as
 * a layer; empty text where it is left out. The desktop editors' namespaces are declared here, so that the
 * artwork's root stays as it is.
 */
export function layer(role: LayerRole, { svg, states }: Drawing, content: readonly string[]): string {
  const state = states[role] ?? "shown";
  if (state === "left-out") return "";
  const isLocked = LOCKED.has(role);
  return svg.element(
    "g",
    {
      class: "layer",
      "data-tuck-role": role,
      "xmlns:inkscape": "http://www.inkscape.org/namespaces/inkscape",
      "inkscape:groupmode": "layer",
      "inkscape:label": TITLES[role],
      "xmlns:sodipodi": isLocked ? "http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd" : undefined,
      "sodipodi:insensitive": isLocked ? "true" : undefined,
      style: state === "hidden" ? `display:none;${PLAIN_STYLE}` : PLAIN_STYLE,
    },
    [svg.text("title", TITLES[role]), ...content],
  );
}
