/** The frame that all layers share, and what their writers are given. */
import { PLAIN_STYLE } from "./ink.ts";
import type { Markup } from "./markup.ts";
import type { UserUnits } from "./user-units.ts";

export type LayerRole = "stitches" | "connectors" | "points" | "cut-line" | "findings";

const TITLES: Readonly<Record<LayerRole, string>> = {
  stitches: "Stitches",
  connectors: "Connectors",
  points: "Entries and exits",
  "cut-line": "Cut line",
  findings: "Findings",
};

/** The tools of one drawing: its element names and its units. */
export interface Drawing {
  readonly svg: Markup;
  readonly user: UserUnits;
}

/**
 * A top-level group that browser editors (by class and title) and desktop editors (by mode and label) list as
 * a layer. The desktop editors' namespace is declared here, so that the artwork's root stays as it is.
 */
export const layer = (role: LayerRole, { svg }: Drawing, content: readonly string[]): string =>
  svg.element(
    "g",
    {
      class: "layer",
      "data-tuck-role": role,
      "xmlns:inkscape": "http://www.inkscape.org/namespaces/inkscape",
      "inkscape:groupmode": "layer",
      "inkscape:label": TITLES[role],
      style: PLAIN_STYLE,
    },
    [svg.text("title", TITLES[role]), ...content],
  );
