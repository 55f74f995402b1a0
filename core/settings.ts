import type { RecipeName } from "./recipes/fabrics.ts";

/**
 * The settings of a plan. Every rule of the trade that the core computes with is here, with its default;
 * each default is common practice in the trade, no source, unless its comment names one. The defaults are those
 * of the recipe for stable woven fabric.
 */
export interface Settings {
  /** Sewn width of the whole artwork; `null` keeps the drawing's own physical size. */
  readonly widthMm: number | null;
  readonly order: "paint" | "regroup";
  /** Names of layers, with commas between, whose own order `regroup` keeps; `null` is none. */
  readonly keepLayers: string | null;
  /** Whether `regroup` works from the middle of the design outwards, as caps ask for. */
  readonly sewFrom: "anywhere" | "centre";
  /** Whether a piece's shape decides how it is sewn, or the kind of element that paints it. */
  readonly technique: "auto" | "as-drawn";
  /** The kind of fabric that the other figures suit, where nothing else set them. */
  readonly recipe: RecipeName;
  /** The most threads that the drawing may take, its colours brought together as need be; `null` is no limit. */
  readonly maxThreads: number | null;
  /** A gap below this is hopped; at or above it the machine ties off, trims and ties in again. */
  readonly jumpThresholdMm: number;
  /** Over finished stitches of another colour a gap below this share of the jump threshold is hopped. */
  readonly hopOverColourPercent: number;
  /** Whether thread may follow seams between finished pieces of its own colour where nothing hides it. */
  readonly blend: "never" | "seams";
  /** How far inside the cover's outer edge a connector keeps where there is room. */
  readonly tuckMarginMm: number;
  /** The most that one machine movement reaches along either axis. */
  readonly maxMoveMm: number;
  /** The shortest stitch worth sewing. */
  readonly minStitchMm: number;
  readonly runLengthMm: number;
  readonly fillSpacingMm: number;
  readonly fillLengthMm: number;
  /** Angle of fill rows, counter-clockwise from the x axis as seen; `null` takes each piece's long direction. */
  readonly fillAngleDeg: number | null;
  readonly satinMinWidthMm: number;
  readonly satinMaxWidthMm: number;
  /** Longer satin stitches are split, with penetrations that are staggered from one to the next. */
  readonly splitSatinAboveMm: number;
  /** Distance between neighbouring penetrations on one side of a satin. */
  readonly satinSpacingMm: number;
  /** Width of sewn thread, 40 weight. */
  readonly threadWidthMm: number;
  /** Widening each side against the pull of the stitches. */
  readonly pullMm: number;
  /**
   * How much a piece is drawn in at each end of the way that it is sewn along (a satin's ends, a fill's first and
   * last row), where stitches lying side by side push the fabric outwards.
   */
  readonly pushMm: number;
  /** `auto`: the kinds that the recipe names, where the piece is large enough for them. */
  readonly underlay: "auto" | "none";
  /** How far a piece reaches in under a later one where what lies deeper is not sewn. */
  readonly underlapMm: number;
  /** More layers of stitches than this on one spot are worth a word. */
  readonly maxLayers: number;
  readonly tieCount: number;
  readonly tieLengthMm: number;
  /** Sewing field of the hoop; `null` where no hoop is named. */
  readonly hoopWidthMm: number | null;
  readonly hoopHeightMm: number | null;
  /** The shape of the patch that the artwork becomes; `none` sews the artwork by itself. */
  readonly patch: "none" | "silhouette" | "circle" | "rounded" | "shield" | "outline";
  /** Of a silhouette: from the artwork out to the edge's outer side. Of all others: from it to the inner side. */
  readonly patchMarginMm: number;
  /** Width of the satin edge. */
  readonly patchEdgeMm: number;
  /** `#rrggbb`; `null` sews no ground. */
  readonly patchGround: string | null;
  /** `#rrggbb`; `null` takes the artwork's darkest. */
  readonly patchEdgeColour: string | null;
  /** Copies on one hoop, as `3x4`: across, then down; `null` is a single one. */
  readonly sheetOf: string | null;
  /** Between neighbouring copies; of patches, between their cut lines. */
  readonly patchGapMm: number;
  /** Where the machine stands when it starts: at the middle of what is sewn, or at the first needle point. */
  readonly origin: "centre" | "start";
  /** A trim is told to the machine by so many jumps in a row: the number at which it is set to cut. */
  readonly trimJumps: number;
  /** Fabric and backing together; used for the thread estimate only. */
  readonly fabricThicknessMm: number;
  /** Machine speed in stitches a minute, and what slows it; used for the time estimate only. */
  readonly stitchesPerMinute: number;
  readonly hopSeconds: number;
  readonly trimSeconds: number;
  readonly colourChangeSeconds: number;
}

/** The settings that hold where nothing else is said. */
export const DEFAULT_SETTINGS: Settings = {
  widthMm: null,
  order: "paint",
  keepLayers: null,
  sewFrom: "anywhere",
  technique: "auto",
  recipe: "stable-woven",
  maxThreads: null,
  jumpThresholdMm: 2.0,
  hopOverColourPercent: 50,
  blend: "never",
  tuckMarginMm: 0.8,
  maxMoveMm: 12.1,
  minStitchMm: 0.4,
  runLengthMm: 2.5,
  fillSpacingMm: 0.4,
  fillLengthMm: 4.0,
  fillAngleDeg: null,
  satinMinWidthMm: 1,
  satinMaxWidthMm: 7,
  splitSatinAboveMm: 7,
  satinSpacingMm: 0.4,
  threadWidthMm: 0.4,
  pullMm: 0.2,
  pushMm: 0.1,
  underlay: "auto",
  underlapMm: 1.5,
  maxLayers: 3,
  tieCount: 3,
  tieLengthMm: 0.8,
  hoopWidthMm: null,
  hoopHeightMm: null,
  patch: "none",
  patchMarginMm: 2.5,
  patchEdgeMm: 3.5,
  patchGround: null,
  patchEdgeColour: null,
  sheetOf: null,
  patchGapMm: 8,
  origin: "centre",
  trimJumps: 3,
  fabricThicknessMm: 0.6,
  stitchesPerMinute: 800,
  hopSeconds: 0.5,
  trimSeconds: 7,
  colourChangeSeconds: 15,
};
