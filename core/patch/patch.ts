/**
 * Artwork as a patch: its own pieces in a frame (`frame.ts`) along an outline (`outline.ts`), on a page that holds
 * all of it, with the line along which it is cut out.
 */
import type { Artwork, OrderWish } from "../artwork/types.ts";
import { ArtworkError } from "../errors.ts";
import type { Finding } from "../findings.ts";
import { boxOf } from "../geometry/point.ts";
import { offset } from "../geometry/region.ts";
import type { Ring } from "../geometry/types.ts";
import { orderAsWished } from "../sequence/order-as-wished.ts";
import type { Settings } from "../settings.ts";
import { chooseTechniques } from "../techniques/choose-techniques.ts";
import type { Thread } from "../threads/types.ts";
import { framePieces } from "./frame.ts";
import { moveArtwork } from "./move.ts";
import { patchOutline } from "./outline.ts";

/** Scissors keep this far from the edge's stitches. Common practice, no source. */
const CUT_MM = 0.5;

/** For the run sheet: what to do at the stop that nothing but the placement line explains. */
const LAY_FABRIC: Finding = {
  code: "lay-fabric",
  severity: "info",
  piece: "patch-placement",
  message:
    "After the placement line the machine stops for a change of thread: the patch’s fabric goes on then.",
  remedy:
    "Lay the fabric so that it reaches beyond the placement line all round, take your hands away, and start again; cut along the cut line when all is sewn.",
};

/**
 * The artwork as the patch that the settings ask for; as it is where they ask for none, or where nothing is sewn.
 * Its page begins where the cut line does.
 *
 * @param wishes about the order of the artwork's own pieces
 * @param threads a list to take the threads of the patch's own pieces from
 */
export function patchArtwork(
  artwork: Artwork,
  settings: Settings,
  wishes: readonly OrderWish[] = [],
  threads?: readonly Thread[],
): Artwork {
  const outline = patchOutline(artwork.pieces, settings);
  if (outline === null) return artwork;
  const ordered = inOrder(artwork, settings, wishes);
  const cutLine = cutRing(outline);
  const { minX, minY, maxX, maxY } = boxOf(cutLine);
  const framed: Artwork = {
    ...ordered,
    pieces: framePieces(ordered.pieces, outline, settings, threads),
    size: { widthMm: maxX - minX, heightMm: maxY - minY },
    drawnSize: artwork.size,
    cutLine: [cutLine],
    findings: [...ordered.findings, LAY_FABRIC],
  };
  return moveArtwork(framed, [-minX, -minY]);
}

const cutRing = (outline: Ring): Ring => offset([{ outer: outline, holes: [] }], CUT_MM, "round")[0].outer;

/** The artwork's pieces in the order in which they are sewn: from here on nothing moves them. */
export function inOrder(artwork: Artwork, settings: Settings, wishes: readonly OrderWish[]): Artwork {
  if (artwork.inSewingOrder) return artwork;
  if (settings.order === "paint" && wishes.length === 0) return { ...artwork, inSewingOrder: true };
  const { sequence, findings } = orderAsWished(chooseTechniques(artwork, settings), settings, wishes);
  const drawn = new Map(artwork.pieces.map((piece) => [piece.id, piece]));
  return {
    ...artwork,
    pieces: sequence.pieces.map(({ id }) => drawn.get(id)!),
    findings: [...artwork.findings, ...findings],
    inSewingOrder: true,
  };
}

/** The patch's own width: from the outer side of its edge to that across. */
export const patchWidthMm = ({ size }: Artwork): number => size.widthMm - 2 * CUT_MM;

/** A patch this near to its width is as wide as asked for: less than a thread. */
const NEAR_MM = 0.005;
const MOST_TRIES = 12;

/**
 * The patch at the width that the settings ask for. Edge and margins stay as wide as they are while the artwork
 * grows, so the artwork's width is found by trying (the secant method: the patch's width is all but linear in it).
 *
 * @param patchAt the patch with its artwork's page that wide; `null` is the drawing's own size
 * @throws ArtworkError where the patch has no room for its edge
 */
export function fitWidth(
  patchAt: (pageWidthMm: number | null) => Artwork,
  { widthMm, patchEdgeMm, patchMarginMm }: Pick<Settings, "widthMm" | "patchEdgeMm" | "patchMarginMm">,
): Artwork {
  if (widthMm === null) return patchAt(null);
  let before = { page: widthMm, patch: patchAt(widthMm) };
  if (before.patch.cutLine === undefined) return before.patch;
  let now = tried(patchAt, widthMm / 2);
  for (let tries = 0; Math.abs(patchWidthMm(now.patch) - widthMm) > NEAR_MM; tries++) {
    const slope = (patchWidthMm(now.patch) - patchWidthMm(before.patch)) / (now.page - before.page);
    const page = now.page + (widthMm - patchWidthMm(now.patch)) / slope;
    if (!(page > LEAST_PAGE_MM) || tries === MOST_TRIES)
      throw new ArtworkError(
        `A patch ${widthMm} mm wide has no room for artwork inside an edge of ${patchEdgeMm} mm and margins of ${patchMarginMm} mm: make it wider.`,
      );
    [before, now] = [now, tried(patchAt, page)];
  }
  return now.patch;
}

/** Artwork on a smaller page could not be sewn. */
const LEAST_PAGE_MM = 2;

const tried = (
  patchAt: (pageWidthMm: number) => Artwork,
  page: number,
): { page: number; patch: Artwork } => ({
  page,
  patch: patchAt(page),
});
