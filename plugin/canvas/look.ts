/**
 * How marks look: ink on a pale halo, so that they are seen over light and dark artwork; sizes are those of the
 * screen, whatever the zoom. What tells two kinds apart is a shape or a dash.
 */
import { HALO, INK } from "../../core/layers/ink.ts";

/** Half the span of a marker's arms or bar, and how far a chevron reaches back. */
export const HALF_SPAN_PX = 7;
export const CHEVRON_PX = 8;
/** A marker's number stands this far above an entry, below an exit. */
export const NUMBER_AWAY_PX = 15;
export const PIN_RADIUS_PX = 2.6;

/** Of an element that belongs to an SVG that the artist edits, ids and classes must not meet the artist's own. */
export const PREFIX = "tuck-mark";

const RULES = `
.${PREFIX}s { position: absolute; inset: 0; width: 100%; height: 100%; pointer-events: none; overflow: hidden; }
.${PREFIX}s .halo { fill: none; stroke: ${HALO}; stroke-linecap: round; stroke-linejoin: round; }
.${PREFIX}s .ink { fill: none; stroke: ${INK}; stroke-linecap: round; stroke-linejoin: round; }
.${PREFIX}s .solid { fill: ${INK}; stroke: ${HALO}; stroke-width: 1.5; }
.${PREFIX}s .pale { fill: ${HALO}; stroke: ${INK}; stroke-width: 1.5; }
.${PREFIX}s .hit { fill: transparent; stroke: none; pointer-events: all; }
.${PREFIX}s .hit-line { fill: none; stroke: transparent; stroke-width: 11; pointer-events: stroke; vector-effect: non-scaling-stroke; }
.${PREFIX}s .line { vector-effect: non-scaling-stroke; }
.${PREFIX}s .connector .halo { stroke-width: 4; }
.${PREFIX}s .connector .ink { stroke-width: 1.6; }
.${PREFIX}s .connector.blended .ink { stroke-dasharray: 12 4; }
.${PREFIX}s .connector.hop .ink { stroke-dasharray: 5 4; }
.${PREFIX}s .connector.jump .ink { stroke-dasharray: 0.1 5; stroke-width: 2.2; }
.${PREFIX}s .connector.pointed .ink { stroke-width: 3.2; }
.${PREFIX}s .connector.pointed .halo { stroke-width: 8; }
.${PREFIX}s .connector .hit-line { cursor: grab; }
.${PREFIX}s .connector.jump .hit-line { cursor: pointer; }
.${PREFIX}s .preview { stroke-dasharray: 6 4; }
.${PREFIX}s text { font: 600 11px/1 system-ui, sans-serif; fill: ${INK}; stroke: ${HALO}; stroke-width: 3; paint-order: stroke; stroke-linejoin: round; text-anchor: middle; dominant-baseline: central; pointer-events: none; user-select: none; }
.${PREFIX}s .pinned text { text-decoration: underline; }
.${PREFIX}s .marker { cursor: grab; }
.${PREFIX}s .finding { cursor: pointer; }
.${PREFIX}s .dial.by-plan .ink.row { stroke-dasharray: 3 5; }
.${PREFIX}s .dial .hit, .${PREFIX}s .handle { cursor: grab; pointer-events: all; }
.${PREFIX}s .held, .${PREFIX}s .held * { cursor: grabbing; }
.${PREFIX}s .ring { display: none; fill: none; stroke: ${INK}; stroke-width: 2; }
.${PREFIX}s .ring-halo { display: none; fill: none; stroke: ${HALO}; stroke-width: 5; }
.${PREFIX}s .pointed > .ring, .${PREFIX}s .pointed > .ring-halo,
.${PREFIX}s :focus-visible > .ring, .${PREFIX}s :focus-visible > .ring-halo { display: inline; }
.${PREFIX}s :focus { outline: none; }
.${PREFIX}s .connector:focus-visible .ink { stroke-width: 3.2; }
.${PREFIX}s .connector:focus-visible .halo { stroke-width: 8; }
.${PREFIX}s .handle:focus-visible { stroke-width: 3; }
.${PREFIX}s .away { display: none; }
.tuck-fabric { position: absolute; left: 0; top: 0; transform-origin: 0 0; pointer-events: none; background: #e9e3d6; opacity: 0.94; }
.tuck-told { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
`;

/** Makes the rules known to the page, without any style element in it. */
export function addLook(): void {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(RULES);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}
