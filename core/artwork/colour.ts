/** CSS colours to `#rrggbb` and alpha. The colour spaces are culori's; `currentColor` is the caller's business. */
import { clampRgb, converter, formatHex, parse } from "culori";

export interface Colour {
  /** `#rrggbb` in lower case. */
  readonly hex: string;
  /** 0 transparent, 1 solid. */
  readonly alpha: number;
}

export const BLACK: Colour = { hex: "#000000", alpha: 1 };

const toOklab = converter("oklab");

/** Any CSS colour form, or `null` where the text is none. */
export function parseColour(text: string): Colour | null {
  const plain = text.trim().toLowerCase();
  if (/^#[0-9a-f]{6}$/.test(plain)) return { hex: plain, alpha: 1 };
  // SVG 1.1 allows an ICC colour after the plain one that stands in for it.
  const colour = parse(plain.replace(/\s*icc-color\(.*$/, ""));
  if (colour === undefined) return null;
  return { hex: formatHex(clampRgb(colour)), alpha: colour.alpha ?? 1 };
}

/**
 * The mean of colours by weight, in OKLab, where the middle of two colours also looks like the middle. Colours
 * that are transparent count less. `null` where nothing has weight.
 */
export function meanColour(
  shares: readonly { readonly colour: Colour; readonly weight: number }[],
): Colour | null {
  let weightSum = 0;
  let alphaSum = 0;
  let l = 0;
  let a = 0;
  let b = 0;
  for (const { colour, weight } of shares) {
    const lab = toOklab(colour.hex);
    if (lab === undefined) continue;
    const solid = weight * colour.alpha;
    weightSum += weight;
    alphaSum += solid;
    l += lab.l * solid;
    a += lab.a * solid;
    b += lab.b * solid;
  }
  if (weightSum === 0) return null;
  if (alphaSum === 0) return { ...BLACK, alpha: 0 };
  const mean = {
    mode: "oklab",
    l: l / alphaSum,
    a: a / alphaSum,
    b: b / alphaSum,
  } as const;
  return { hex: formatHex(clampRgb(mean)), alpha: alphaSum / weightSum };
}
