/**
 * The settings of a plan. Every rule of the trade that the core computes with is here, with its default;
 * each default is common practice in the trade, no source, unless its comment names one.
 */
export interface Settings {
  /** Sewn width of the whole artwork; `null` keeps the drawing's own physical size. */
  readonly widthMm: number | null;
  readonly order: "paint" | "regroup";
  /** A gap below this is hopped; at or above it the machine ties off, trims and ties in again. */
  readonly jumpThresholdMm: number;
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
  /** Distance between neighbouring penetrations on one side of a satin. */
  readonly satinSpacingMm: number;
  /** Width of sewn thread, 40 weight. */
  readonly threadWidthMm: number;
  /** Widening each side against the pull of the stitches. */
  readonly pullMm: number;
  readonly tieCount: number;
  readonly tieLengthMm: number;
  /** Machine speed in stitches a minute, and what slows it; used for the time estimate only. */
  readonly stitchesPerMinute: number;
  readonly hopSeconds: number;
  readonly trimSeconds: number;
  readonly colourChangeSeconds: number;
}

export const DEFAULT_SETTINGS: Settings = {
  widthMm: null,
  order: "paint",
  jumpThresholdMm: 2.0,
  tuckMarginMm: 0.8,
  maxMoveMm: 12.1,
  minStitchMm: 0.4,
  runLengthMm: 2.5,
  fillSpacingMm: 0.4,
  fillLengthMm: 4.0,
  fillAngleDeg: null,
  satinMinWidthMm: 1,
  satinMaxWidthMm: 7,
  satinSpacingMm: 0.4,
  threadWidthMm: 0.4,
  pullMm: 0.2,
  tieCount: 3,
  tieLengthMm: 0.8,
  stitchesPerMinute: 800,
  hopSeconds: 0.5,
  trimSeconds: 7,
  colourChangeSeconds: 15,
};
