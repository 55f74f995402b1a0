/**
 * Every word that the artist sees in Inkscape's menu, dialogs and windows. What the browser's panel says too comes
 * from the texts that both share; the rest is here, in one place, ready for translation.
 */
import type { LayerRole } from "../../../core/layers/layer-states.ts";
import { FABRICS, type RecipeName } from "../../../core/recipes/fabrics.ts";
import { texts } from "../../texts.ts";

const { labels } = texts.settings;

/** The submenu of the editor's Extensions menu. */
export const MENU = "Tuckline";

export const PLAN = {
  label: "Plan the drawing",
  tip: "Work out how the drawing is sewn, and show it as layers above it",
  sewing: texts.plan.sewing,
  recipe: labels.recipe,
  order: labels.order,
  width: `${labels.widthMm} in mm (0: as the drawing says)`,
  further: "Other settings",
  furtherTip: "Pairs of name=value with semicolons between, as in: hoopWidthMm=100; hoopHeightMm=100",
  asDrawn: "as the drawing says",
  kept: "What is chosen here is kept in the drawing, for checking and saving too.",
  layers: texts.outputs.layers,
  movable: "Move a marker to fix where a piece is entered or left, and plan again.",
} as const;

/** What a newcomer knows the fabric by, without examples. */
export const recipeText = (name: RecipeName): string =>
  `${texts.choice(name)}: ${FABRICS[name].split(":")[0]}`;

export const ORDERS = { paint: texts.choice("paint"), regroup: texts.choice("regroup") } as const;

export const LAYERS: { readonly [Role in LayerRole]: string } = {
  stitches: texts.overlays.names.stitches,
  connectors: texts.overlays.names.connectors,
  points: texts.overlays.names.points,
  "cut-line": "Cut line of a patch",
  findings: texts.overlays.names.findings,
};

export const LAYER_STATES = {
  asBefore: "as before (at first: shown)",
  shown: "shown",
  hidden: "hidden",
  leftOut: "not written",
} as const;

export const PIECES = {
  label: "Settings of the selected pieces",
  tip: "Set how the selected shapes are sewn; a group's settings hold for all in it",
  technique: texts.piece.technique,
  angle: texts.piece.dial,
  spacing: texts.piece.spacing,
  length: texts.piece.length,
  pull: texts.piece.pull,
  underlay: texts.piece.underlay,
  leave: "leave as it is",
  free: texts.piece.asDrawn,
  set: "this:",
  techniques: texts.techniques,
  underlays: {
    none: texts.choice("none"),
    "centre-run": texts.choice("centre-run"),
    "edge-run": texts.choice("edge-run"),
    zigzag: texts.choice("zigzag"),
    "cross-fill": texts.choice("cross-fill"),
  },
} as const;

export const STRAND = {
  label: "Make one strand of the selection",
  tip: "Have the selected shapes sewn without a stop between them",
  what: "Selected shapes",
  make: texts.piece.makeStrand,
  release: texts.piece.undoStrand,
  name: "Name of the strand (empty: a new one)",
} as const;

export const PIN = {
  label: "Pin an entry or an exit",
  tip: "Fix where a piece is entered or left: at the selected node of a path, or where a selected marker stands",
  what: "Do",
  pin: "fix it there",
  release: "let the plan choose again",
  point: "Point",
  entry: "entry",
  exit: "exit",
  paint: "Of a shape with a fill and a stroke",
  fill: "its fill",
  stroke: "its stroke",
  how: `Select one node of a path with the node tool, or a marker of the layer “${LAYERS.points}”. A marker tells by itself which point it is.`,
} as const;

export const STRIP = {
  label: texts.outputs.takeAway,
  tip: "Back to the artwork: pins and settings of the shapes stay",
} as const;

export const CHECK = {
  label: "Check",
  tip: "Say what to look at before sewing; the drawing stays as it is",
  nothing: "Nothing to look at: it can be sewn as it is.",
} as const;

export const SAVE = {
  label: "Save for the machine",
  tip: "Write the stitch file, the run sheet and a picture of the drawing as it is now",
  folder: "Folder (empty: where the drawing lies)",
  name: "Name (empty: the drawing’s)",
  machine: texts.outputs.names.machine,
  sheet: texts.outputs.names.sheet,
  picture: texts.outputs.names.picture,
  csv: texts.outputs.names.csv,
  json: texts.outputs.names.json,
  tell: "Tell where it was written",
} as const;

export const PLAN_AGAIN = "Plan again afterwards, if it is planned";

export const REFUSALS = {
  nothingSelected: "Nothing is selected; select the shapes that are meant, and choose this again.",
  nothingSewn: "Nothing that is selected can be sewn; select shapes of the artwork.",
  oneOnly: "A strand takes at least two shapes; select those that belong together.",
  noPlace: `No place is selected; select one node of a path with the node tool, or a marker of the layer “${LAYERS.points}”.`,
  manyNodes: "More than one node is selected; select the one that is meant.",
  noNode: "The selected node cannot be found in its path; click the path with the node tool, and try again.",
  arcBefore:
    "The path holds arcs, whose nodes cannot be counted; turn it into curves (move any node a little), or move a marker instead.",
  noFolder: "The drawing was never saved, so it lies nowhere; choose a folder.",
  nothingToSave: "Nothing is ticked; choose what is to be written.",
  noPair: (typed: string): string => `“${typed}” is no setting: write name=value.`,
  noSuchEntry: "This menu entry is not known; install the plugin again.",
} as const;

/** What a window says, with figures. */
export const SAYS = {
  saved: (names: readonly string[], folder: string): string => `Written to ${folder}: ${names.join(", ")}`,
  size: (width: string, height: string, time: string, thread: string): string =>
    `Sewn ${width} × ${height} mm, in about ${time}, with ${thread} of thread.`,
  gained: texts.panel.gained,
  bound: texts.plan.bound,
  more: (count: string): string => ` (and ${count} more like it)`,
  grade: texts.findings.grade,
  unexpected: (what: string): string =>
    `this should not happen (${what}); please report it with the drawing. The drawing stays as it was.`,
} as const;
