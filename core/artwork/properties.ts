/**
 * The properties that reading knows: which of them attributes may set (SVG 2, 6.6), and what values each may
 * have. A declaration with any other value is dropped, as CSS says, so that a weaker valid one still counts.
 */
import { parseColour } from "./colour.ts";
import { lengthToUser } from "./lengths.ts";
import { parsePaint } from "./paint.ts";

export const PRESENTATION_ATTRIBUTES: ReadonlySet<string> = new Set([
  "clip-path",
  "clip-rule",
  "color",
  "display",
  "fill",
  "fill-opacity",
  "fill-rule",
  "filter",
  "font-size",
  "marker-end",
  "marker-mid",
  "marker-start",
  "mask",
  "mask-type",
  "opacity",
  "overflow",
  "paint-order",
  "stop-color",
  "stop-opacity",
  "stroke",
  "stroke-dasharray",
  "stroke-dashoffset",
  "stroke-linecap",
  "stroke-linejoin",
  "stroke-miterlimit",
  "stroke-opacity",
  "stroke-width",
  "transform",
  "transform-origin",
  "vector-effect",
  "visibility",
  "cx",
  "cy",
  "d",
  "height",
  "r",
  "rx",
  "ry",
  "width",
  "x",
  "y",
]);

type Check = (value: string) => boolean;

const anyOf =
  (...words: string[]): Check =>
  (value) =>
    words.includes(value.toLowerCase());
const colour: Check = (value) => value.toLowerCase() === "currentcolor" || parseColour(value) !== null;
const paint: Check = (value) => parsePaint(value) !== null;
const opacity: Check = (value) => parseOpacity(value) !== null;
const length: Check = (value) => isLength(value);
const size: Check = (value) => isLength(value) && !value.startsWith("-");
const dashes: Check = (value) => value === "none" || dashList(value).every(isLength);

const CHECKS: Readonly<Record<string, Check>> = {
  color: colour,
  "stop-color": colour,
  fill: paint,
  stroke: paint,
  opacity,
  "fill-opacity": opacity,
  "stroke-opacity": opacity,
  "stop-opacity": opacity,
  "fill-rule": anyOf("nonzero", "evenodd"),
  "clip-rule": anyOf("nonzero", "evenodd"),
  "stroke-width": size,
  "stroke-dashoffset": length,
  "stroke-dasharray": dashes,
  "stroke-linecap": anyOf("butt", "round", "square"),
  "stroke-linejoin": anyOf("miter", "round", "bevel", "miter-clip", "arcs"),
  "stroke-miterlimit": (value) => Number(value) >= 1,
  visibility: anyOf("visible", "hidden", "collapse"),
  "paint-order": (value) =>
    value
      .toLowerCase()
      .split(/\s+/)
      .every((word) => ["normal", "fill", "stroke", "markers"].includes(word)),
};

const ANYWHERE = new Set(["inherit", "initial", "unset", "revert", "revert-layer"]);

export function isValidValue(property: string, value: string): boolean {
  const check = CHECKS[property];
  const text = value.trim();
  return check === undefined || ANYWHERE.has(text.toLowerCase()) || check(text);
}

const isLength = (value: string): boolean => {
  const user = lengthToUser(value, "other", {
    fontSizePx: 16,
    viewportWidth: 1,
    viewportHeight: 1,
  });
  return user !== null && Number.isFinite(user);
};

export const dashList = (value: string): string[] => value.split(/[\s,]+/).filter((part) => part !== "");

/** A number or a percentage, brought within 0 to 1; `null` where the text is neither. */
export function parseOpacity(value: string): number | null {
  const found = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)(%?)$/i.exec(value.trim());
  if (found === null) return null;
  const number = Number(found[1]) / (found[2] === "%" ? 100 : 1);
  return Math.min(1, Math.max(0, number));
}
