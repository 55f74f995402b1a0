/** What is too large or too small to be sewn as it is: satin, details, the design itself. One of a kind for a piece. */
import type { Artwork, Piece } from "../artwork/types.ts";
import type { Finding } from "../findings.ts";
import { EMPTY_BOX } from "../geometry/point.ts";
import { closeRing, polylineLength } from "../geometry/polyline.ts";
import { offset, regionArea, regionBox, ringsOf } from "../geometry/region.ts";
import type { Box, Region } from "../geometry/types.ts";
import type { Sequence } from "../sequence/types.ts";
import type { Settings } from "../settings.ts";
import { isSewn } from "./steps.ts";
import type { SewingStep } from "./types.ts";

/** A piece smaller than this both ways is a knot, not a shape. Common practice, no source. */
const LEAST_MM = 1;
/** Widths are found to this. */
const WIDTH_STEP_MM = 0.02;

export function sizeFindings(
  { pieces }: Sequence,
  sewing: readonly SewingStep[],
  size: Artwork["size"],
  settings: Settings,
): Finding[] {
  return [
    ...pieces.flatMap((piece) => [...satinTooWide(piece, settings), ...tooSmall(piece, size, settings)]),
    ...largerThanHoop(sewing, settings),
  ];
}

function satinTooWide({ id, technique, widthMm, region }: Piece, { satinMaxWidthMm }: Settings): Finding[] {
  if (technique !== "satin" || widthMm === undefined || widthMm <= satinMaxWidthMm + 1e-6) return [];
  return [
    {
      code: "satin-too-wide",
      severity: "warning",
      piece: id,
      at: region[0].outer[0],
      message: `${id} is a satin ${widthMm.toFixed(1)} mm wide; beyond ${satinMaxWidthMm} mm its stitches are split, or snag.`,
      remedy: `Sew ${id} as fill, or draw it at most ${satinMaxWidthMm} mm wide.`,
    },
  ];
}

/** A fill in which no thread fits, or a piece that is a mere dot: and how large the design must be for it. */
function tooSmall(piece: Piece, size: Artwork["size"], { threadWidthMm }: Settings): Finding[] {
  const { minX, minY, maxX, maxY } = regionBox(piece.region);
  const across = Math.max(maxX - minX, maxY - minY);
  const least = across < LEAST_MM ? LEAST_MM : threadWidthMm;
  const is = across < LEAST_MM ? across : piece.technique === "run" ? least : widthOf(piece.region, least);
  if (is >= least) return [];
  const needed = Math.ceil((size.widthMm * least) / Math.max(is, WIDTH_STEP_MM));
  return [
    {
      code: "detail-too-small",
      severity: "warning",
      piece: piece.id,
      at: [(minX + maxX) / 2, (minY + maxY) / 2],
      message: `${piece.id} is only ${is.toFixed(2)} mm wide; ${least} mm is the least that thread can show.`,
      remedy: `Sew the design at least ${needed} mm wide, make ${piece.id} larger, or leave it out.`,
    },
  ];
}

/** The widest circle's diameter, as far as it is below `enoughMm`. */
function widthOf(region: Region, enoughMm: number): number {
  const edgeMm = ringsOf(region).reduce((length, ring) => length + polylineLength(closeRing(ring)), 0);
  // A circle of radius area / length of edge always fits.
  if ((2 * regionArea(region)) / edgeMm >= enoughMm) return enoughMm;
  const fits = (diameter: number) => offset(region, -diameter / 2).length > 0;
  if (fits(enoughMm)) return enoughMm;
  let [narrow, wide] = [0, enoughMm];
  while (wide - narrow > WIDTH_STEP_MM) {
    const middle = (narrow + wide) / 2;
    if (fits(middle)) narrow = middle;
    else wide = middle;
  }
  return narrow;
}

function largerThanHoop(sewing: readonly SewingStep[], { hoopWidthMm, hoopHeightMm }: Settings): Finding[] {
  if (hoopWidthMm === null && hoopHeightMm === null) return [];
  const [hoopW, hoopH] = [hoopWidthMm ?? Number.POSITIVE_INFINITY, hoopHeightMm ?? Number.POSITIVE_INFINITY];
  const { minX, minY, maxX, maxY } = sewnBox(sewing);
  const [width, height] = [maxX - minX, maxY - minY];
  if (!(width > hoopW || height > hoopH)) return [];
  const share = Math.min(hoopW / width, hoopH / height);
  const turned = width <= hoopH && height <= hoopW ? "Turn the design by 90°, or sew" : "Sew";
  return [
    {
      code: "larger-than-hoop",
      severity: "error",
      at: [minX, minY],
      message: `The stitches take ${width.toFixed(1)} × ${height.toFixed(1)} mm; the hoop holds ${asSide(hoopWidthMm)} × ${asSide(hoopHeightMm)}.`,
      remedy: `${turned} it at ${Math.floor(100 * share)} % of its size, or take a larger hoop.`,
    },
  ];
}

const asSide = (mm: number | null): string => (mm === null ? "any" : `${mm} mm`);

function sewnBox(sewing: readonly SewingStep[]): Box {
  let { minX, minY, maxX, maxY } = EMPTY_BOX;
  for (const step of sewing) {
    if (!isSewn(step)) continue;
    for (let i = 0; i < step.points.length; i += 2) {
      minX = Math.min(minX, step.points[i]);
      maxX = Math.max(maxX, step.points[i]);
      minY = Math.min(minY, step.points[i + 1]);
      maxY = Math.max(maxY, step.points[i + 1]);
    }
  }
  return { minX, minY, maxX, maxY };
}
