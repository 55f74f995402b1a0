/**
 * Every word that the panel and the canvas say by themselves, in one place, ready for translation: strings, and
 * functions of what they speak of. Findings, reasons, remedies and what a setting is for come from the core in its
 * own words.
 */
import type { Severity } from "../core/findings.ts";
import { count, duration, metres, mm, plural } from "../core/output/figure-text.ts";
import type { Metrics, PlannedPiece, SewnRole } from "../core/plan/types.ts";
import type { SettingName } from "../core/settings-schema.ts";
import type { ThreadLabel } from "../core/threads/types.ts";
import { canvasTexts } from "./canvas/texts.ts";
import type { OverlayName } from "./session-types.ts";
import type { OutputName } from "./worker/protocol.ts";

const listed = (names: readonly string[], most = 2): string =>
  names.length <= most
    ? names.join(", ")
    : `${names.slice(0, most).join(", ")} and ${names.length - most} more`;

const lowerFirst = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);
const upperFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const OVERRIDES: Readonly<Record<string, string>> = {
  technique: "technique",
  angle: "angle",
  spacing: "spacing",
  length: "stitch length",
  pull: "pull compensation",
  underlay: "underlay",
  strand: "strand",
};

/** `12`, `0.4`: as typed into a field. */
const number = (value: number): string => String(Math.round(value * 1000) / 1000);

const thread = (colour: string, label: ThreadLabel | undefined): string =>
  [label?.code, label?.name].filter(Boolean).join(" ") || colour;

const SETTING_LABELS: { readonly [Name in SettingName]: string } = {
  widthMm: "Sewn width",
  order: "Order",
  keepLayers: "Layers that keep their order",
  sewFrom: "Sew from",
  technique: "Techniques",
  recipe: "Fabric",
  maxThreads: "Threads at most",
  jumpThresholdMm: "Jump threshold",
  hopOverColourPercent: "Hop over another colour",
  blend: "Follow seams",
  tuckMarginMm: "Tuck margin",
  maxMoveMm: "Longest movement",
  minStitchMm: "Shortest stitch",
  runLengthMm: "Running stitch length",
  fillSpacingMm: "Fill row spacing",
  fillLengthMm: "Fill stitch length",
  fillAngleDeg: "Fill angle",
  satinMinWidthMm: "Narrowest satin",
  satinMaxWidthMm: "Widest satin",
  splitSatinAboveMm: "Split satin above",
  satinSpacingMm: "Satin spacing",
  threadWidthMm: "Thread width",
  pullMm: "Pull compensation",
  pushMm: "Push allowance",
  underlay: "Underlay",
  underlapMm: "Reach under later pieces",
  maxLayers: "Layers of stitches",
  tieCount: "Stitches in a tie",
  tieLengthMm: "Length of a tie stitch",
  hoopWidthMm: "Hoop width",
  hoopHeightMm: "Hoop height",
  patch: "Patch",
  patchMarginMm: "Patch margin",
  patchEdgeMm: "Width of a patch’s edge",
  patchGround: "Patch ground",
  patchEdgeColour: "Colour of a patch’s edge",
  sheetOf: "Copies on one hoop",
  patchGapMm: "Gap between copies",
  origin: "Where the machine starts",
  trimJumps: "Jumps that mean a trim",
  fabricThicknessMm: "Fabric thickness",
  stitchesPerMinute: "Machine speed",
  hopSeconds: "Time for a hop",
  trimSeconds: "Time for a trim",
  colourChangeSeconds: "Time for a colour change",
};

const CHOICES: Readonly<Record<string, string>> = {
  "stable-woven": "Stable woven",
  "as-drawn": "As drawn",
  "centre-run": "Centre run",
  "edge-run": "Edge run",
  "cross-fill": "Cross fill",
  paint: "As painted",
  regroup: "Regrouped: fewest blocks",
};

const ROLES: { readonly [Role in SewnRole]: string } = {
  "tie-in": "tie-in",
  underlay: "underlay",
  travel: "travel",
  cover: "cover",
  connector: "connector",
  "tie-off": "tie-off",
};

const OVERLAY_NAMES: { readonly [Name in OverlayName]: string } = {
  "sew-out": "Sew-out",
  stitches: "Stitches",
  connectors: "Connectors",
  points: "Entries and exits",
  findings: "Findings",
};

const OUTPUT_NAMES: { readonly [Name in OutputName]: string } = {
  machine: "Machine file",
  sheet: "Run sheet",
  picture: "Picture",
  planned: "Planned drawing",
  artwork: "Artwork",
  json: "Plan as JSON",
  csv: "Stitches as CSV",
};

const OUTPUT_SAYS: { readonly [Name in OutputName]: string } = {
  machine: "The stitch file that goes to the machine. Read the cautions below first.",
  sheet: "The page that goes to the machine with the design: threads, times, pictures.",
  picture: "The finished embroidery as lit thread, at true size.",
  planned: "The drawing with stitches, connectors and markers as layers.",
  artwork: "The drawing without any layer of ours.",
  json: "The whole plan for other programs.",
  csv: "Every stitch, one a line.",
};

/** `, 2 fewer` */
const against = (now: number, before: number | undefined): string => {
  if (before === undefined || now === before) return "";
  return now < before ? ` (${count(before - now)} fewer)` : ` (${count(now - before)} more)`;
};

export const texts = {
  canvas: canvasTexts,
  untitled: "untitled.svg",
  figures: { count, duration, metres, mm, plural },
  thread,
  choice: (value: string): string => CHOICES[value] ?? upperFirst(value.replaceAll("-", " ")),
  techniques: { fill: "fill", satin: "satin", run: "run", skip: "skip" },

  panel: {
    title: (file: string | null) => (file === null ? "Plan" : `Plan of ${file}`),
    views: "Views of the plan",
    tab: (
      view: "plan" | "pieces" | "findings" | "outputs",
      { selected, findings }: { selected: number; findings: number },
    ) =>
      ({
        plan: "Plan",
        pieces: selected > 0 ? `Pieces (${selected} chosen)` : "Pieces",
        findings: findings > 0 ? `Findings (${count(findings)})` : "Findings",
        outputs: "Save",
      })[view],
    planning: "Planning …",
    stop: "Stop",
    stopped: "Planning was stopped.",
    planNow: "Plan now",
    gained: ({ strands, trims, untucked }: Metrics) =>
      `${plural(strands, "strand")} instead of ${count(untucked.strands)}, ${plural(trims, "trim")} instead of ${count(untucked.trims)}`,
    planned: ({ strands, trims }: Metrics, before: Metrics | null) =>
      `Planned: ${plural(strands, "strand")}${against(strands, before?.strands)}, ${plural(trims, "trim")}${against(trims, before?.trims)}.`,
    problem: "Nothing can be planned.",
    undo: "Undo",
    undoHint: "Undo: Ctrl+Z, redo: Ctrl+Shift+Z",
    dismiss: "Close",
    nothingToSew:
      "There is nothing to sew yet. Draw shapes with a fill or a stroke on the page, or open a drawing; the plan follows by itself.",
    openDemo: "Open the demo crest",
  },

  fields: {
    number,
    range: (min: number, max: number, unit: string) => `Give a number from ${min} to ${max} ${unit}.`,
    several: "several",
    clear: (label: string) => `${label}: as it is without`,
  },

  plan: {
    gains: "Sewn plainly, and as planned",
    plain: "plain",
    planned: "planned",
    blocks: "Blocks",
    strands: "Strands",
    trims: "Trims",
    hops: "Hops",
    connectors: "Connectors",
    time: "Time",
    bound: (now: number, bound: number) => (now > bound ? `at least ${count(bound)}` : "the fewest possible"),
    tucked: ({ connectorMm, exposedMm, blendedMm = 0 }: Metrics) => {
      if (connectorMm === 0) return "";
      const rest = [
        ...(blendedMm > 0 ? [`${mm(blendedMm)} mm along seams`] : []),
        ...(exposedMm > 0 ? [`${mm(exposedMm)} mm exposed`] : []),
      ];
      return rest.length === 0 ? "all tucked" : rest.join(", ");
    },
    sewing: "What is sewn",
    size: (widthMm: number, heightMm: number, pieces: number, stitches: number) =>
      `${mm(widthMm)} × ${mm(heightMm)} mm, ${plural(pieces, "piece")}, ${plural(stitches, "stitch", "stitches")}`,
    hoop: (
      { widthMm, heightMm }: { widthMm: number; heightMm: number },
      hoopWidthMm: number | null,
      hoopHeightMm: number | null,
    ) => {
      if (hoopWidthMm === null || hoopHeightMm === null)
        return "No hoop is named: give its width and height below.";
      const hoop = `the hoop of ${mm(hoopWidthMm)} × ${mm(hoopHeightMm)} mm`;
      return widthMm <= hoopWidthMm && heightMm <= hoopHeightMm
        ? `Fits ${hoop}.`
        : `Does not fit ${hoop}: make the design smaller, or take a larger hoop.`;
    },
    threads: "Threads",
    thread: "Thread",
    stitches: "Stitches",
    needle: "Needle",
    bobbin: "Bobbin",
  },

  settings: {
    title: "Settings of this drawing",
    labels: SETTING_LABELS,
    more: (others: number) => `${others} more settings`,
    asGiven: (value: string) => `${value} (as given)`,
    plainText: "Give a text without a semicolon.",
  },

  order: {
    list: "Sewing order",
    help: "Drag a row by its grip, or use Alt and the arrow keys, to sew it elsewhere. Control or Shift chooses several.",
    grip: "Drag to another place",
    block: ({ index, colour, thread: label, strands }: BlockText) =>
      `Block ${index + 1}, ${thread(colour, label)}, ${plural(strands.length, "strand")}`,
    blockName: (index: number, colour: string, label: ThreadLabel | undefined) =>
      `${index + 1} · ${thread(colour, label)}`,
    strandCount: (strands: number) => plural(strands, "strand"),
    strand: ({ index, pieces, stop }: StrandText) =>
      `Strand ${index + 1}, ${plural(pieces.length, "piece")}${stop === undefined ? "" : `, then a trim: ${stop.reason ?? ""}`}`,
    strandName: (index: number) => `Strand ${index + 1}`,
    pieceCount: (pieces: number) => plural(pieces, "piece"),
    trimAfter: "then a trim",
    piece: ({ order, id, technique, entryPinned, exitPinned }: PlannedPiece) =>
      [
        `${order}, ${id}, ${technique}`,
        ...(entryPinned ? ["entry pinned"] : []),
        ...(exitPinned ? ["exit pinned"] : []),
      ].join(", "),
    pins: ({ entryPinned, exitPinned }: PlannedPiece) =>
      entryPinned && exitPinned
        ? "both pinned"
        : entryPinned
          ? "entry pinned"
          : exitPinned
            ? "exit pinned"
            : "",
    refused: (wrong: readonly { readonly before: string; readonly after: string }[]) => {
      const [{ before, after }] = wrong;
      const others = wrong.length > 1 ? ` (and ${plural(wrong.length - 1, "more pair")} like it)` : "";
      return `Not there: ${after} lies on ${before}, so ${before} must be sewn first${others}.`;
    },
    nearest: (after: string | null) =>
      after === null ? "Sew it first of all" : `Sew it right after ${after}`,
    noNearer: "It stays where it is: no other place is legal in that direction.",
  },

  piece: {
    none: "Choose a piece, in the list or in the drawing, to see how it is sewn and to change it.",
    title: (elements: readonly string[]) => listed(elements, 3),
    technique: "Technique",
    angle: "Angle",
    spacing: "Spacing",
    length: "Stitch length",
    pull: "Pull compensation",
    underlay: "Underlay",
    dial: "Angle of the rows",
    asDrawn: "as the drawing decides",
    /** Of rows whose angle nobody set. */
    byPlan: (angleDeg: number | null) =>
      angleDeg === null ? "chosen by the plan" : `${angleDeg}, chosen by the plan`,
    byPlanShort: (angleDeg: number | null) => (angleDeg === null ? "by the plan" : `${angleDeg} (plan)`),
    otherwise: (held: string) => `${upperFirst(held)} (as drawn)`,
    byRecipe: "by the fabric",
    ends: "Entry and exit",
    end: (point: "entry" | "exit", isPinned: boolean) =>
      `${upperFirst(point)}: ${isPinned ? "pinned by hand" : "chosen by the planner"}`,
    release: (point: "entry" | "exit") => `Release the ${point}`,
    endsHelp: "Drag a marker on the canvas to pin it; planning obeys.",
    strand: "Strand",
    strandHelp: (names: readonly string[], chosen: number) => {
      if (names.length > 0) return `Must be sewn without a break: ${listed(names)}.`;
      return chosen < 2
        ? "Choose several pieces to have them sewn without a break."
        : "Not asked to be one strand.";
    },
    makeStrand: "Make one strand",
    undoStrand: "Take out of the strand",
    order: "Place in the order",
    place: (at: number, of: number, after: string | null | undefined) => {
      const place = `Sewn as number ${count(at)} of ${count(of)}`;
      if (after === undefined) return `${place}, as the drawing has it.`;
      return after === null
        ? `${place}, first of all by your wish.`
        : `${place}, right after ${after} by your wish.`;
    },
    earlier: "Earlier",
    later: "Later",
    releaseOrder: "Where the drawing has it",
  },

  findings: {
    title: (findings: number) => (findings === 0 ? "No findings" : plural(findings, "finding")),
    grade: { error: "Error:", warning: "Warning:", info: "Note:" } satisfies Record<Severity, string>,
    group: (severity: Severity, findings: number) =>
      plural(findings, { error: "error", warning: "warning", info: "note" }[severity]),
    more: (findings: number) => `Show ${count(findings)} more of this kind`,
    show: "Show",
    apply: "Apply",
    stops: "Stops that are left",
    stopCount: (stops: number) =>
      stops === 0
        ? "The machine stops for nothing but a change of colour between blocks."
        : `The machine stops ${stops === 1 ? "once" : `${count(stops)} times`} more than each colour would need.`,
    explaining: "Working out why the machine stops, and what would save a stop …",
    notExplained: "Reasons and suggestions follow when the plan is at rest.",
    between: (from: string, to: string) => `${from} to ${to}:`,
    suggestions: "What would save a stop",
    noSuggestions: "No small change was found that saves a stop.",
    suggestion: (what: string) => `${upperFirst(what)}.`,
    saves: (blocks: number, strands: number) =>
      `Saves ${[...(blocks > 0 ? [plural(blocks, "block")] : []), ...(strands > 0 ? [plural(strands, "strand")] : [])].join(" and ")}.`,
  },

  player: {
    title: "Sew-out player",
    play: (isPlaying: boolean) => (isPlaying ? "Pause" : "Play"),
    scrub: "Place in the sewing",
    place: (at: number, of: number) => `Stitch ${count(at)} of ${count(of)}`,
    doing: ({ piece, role, block }: { piece?: string; role: SewnRole; block: number }) =>
      `· block ${block + 1}${piece === undefined ? "" : ` · ${piece}`} · ${ROLES[role]}`,
    stepBy: "Step by",
    steps: { stitch: "stitch", piece: "piece", strand: "strand" },
    step: (direction: "forward" | "back", by: "stitch" | "piece" | "strand") =>
      `${direction === "forward" ? "On" : "Back"} by one ${by}`,
    speed: "Speed",
    perSecond: (stitches: number) => `${count(stitches)}/s`,
    whole: "Whole",
  },

  overlays: { title: "Shown:", names: OVERLAY_NAMES },

  problems: {
    atLine: (message: string, line: number | undefined) =>
      line === undefined ? message : `Line ${line}: ${message}`,
    badDrawing: "Undo the last change, or open another drawing.",
    badSetting: "Give another value, or undo the last change.",
    unexpected: (message: string) => `Planning stopped: ${message === "" ? "the planner ended" : message}.`,
    unexpectedRemedy: "Undo the last change and plan again; save your drawing first.",
  },

  /** Names of undo steps, and what is told after each. */
  steps: {
    pin: (piece: string, point: "entry" | "exit") => `Pinned the ${point} of ${piece}`,
    release: (piece: string, point: "entry" | "exit") => `Released the ${point} of ${piece}`,
    bend: (from: string, to: string) => `Bent the connector from ${from} to ${to}`,
    unbend: (from: string, to: string) => `Let the connector from ${from} to ${to} find its way`,
    move: (pieces: readonly string[], after: string | null) =>
      after === null
        ? `Sewed ${listed(pieces)} first of all`
        : `Sewed ${listed(pieces)} right after ${after}`,
    releaseOrder: (pieces: readonly string[]) => `Sewed ${listed(pieces)} where the drawing has it`,
    override: (name: string, value: string | number | null, of: readonly string[]) =>
      value === null
        ? `Left the ${OVERRIDES[name] ?? name} of ${listed(of)} to the drawing`
        : `Set the ${OVERRIDES[name] ?? name} of ${listed(of)} to ${value}`,
    makeStrand: (pieces: number) => `Made one strand of ${plural(pieces, "piece")}`,
    undoStrand: "Took pieces out of their strand",
    settings: (names: readonly string[]) =>
      `Changed ${listed(names.map((name) => lowerFirst(SETTING_LABELS[name as SettingName] ?? name)))}`,
    writeLayers: "Wrote the plan as layers",
    takeLayersAway: "Took the plan’s layers away",
  },

  save: {
    save: "Save",
    saveAs: "Save as",
    newName: "Name of the new file",
    saved: (file: string) => `Saved ${file}`,
    exists: (file: string) => `There is a file ${file} already.`,
    changedOnDisk: (file: string) => `${file} was changed by another program since it was opened.`,
    overwrite: "Replace it",
  },

  outputs: {
    drawing: "The drawing",
    layers: "Plan as layers",
    noLayers:
      "The plan is drawn over the canvas and not in the drawing. Written as layers, it goes into the file.",
    hasLayers: "The drawing holds layers of a plan. They show it as it was when they were written.",
    writeLayers: "Write layers",
    writeAgain: "Write layers anew",
    takeAway: "Take layers away",
    files: "Files to download",
    nothing: "There is no plan to write yet.",
    names: OUTPUT_NAMES,
    says: OUTPUT_SAYS,
    downloaded: (file: string) => `Downloaded ${file}`,
  },

  /** Common practice at the machine, no source. */
  cautions: {
    title: "Before you sew",
    all: [
      "Sew a sample on the same fabric with the same backing first.",
      "Check that the needle clears the hoop: trace the design’s edge before you start.",
      "Keep hands, hair and sleeves clear of needle and hoop while the machine runs; stop it before you reach in.",
      "Wear eye protection: a needle that breaks flies.",
      "For needle, speed and hoop, your machine’s manual has the last word.",
    ],
  },
} as const;

interface BlockText {
  readonly index: number;
  readonly colour: string;
  readonly thread: ThreadLabel | undefined;
  readonly strands: readonly unknown[];
}

interface StrandText {
  readonly index: number;
  readonly pieces: readonly unknown[];
  readonly stop: { readonly reason?: string } | undefined;
}
