/**
 * Several copies on one hoop, sewn together: each block of one thread on all copies before the next block, so that
 * the thread changes as often as for a single copy. That may be, for copies do not touch each other.
 *
 * A block goes over the sheet row by row, to the right and back again, and the next block the same way home.
 */
import type { Artwork, OrderWish, Piece } from "../artwork/types.ts";
import { boxOf, growBox } from "../geometry/point.ts";
import { regionBox } from "../geometry/region.ts";
import type { Box, Point } from "../geometry/types.ts";
import { blocksOf } from "../sequence/blocks.ts";
import type { Settings } from "../settings.ts";
import { moveArtwork, movePiece } from "./move.ts";
import { inOrder } from "./patch.ts";

/** The copies that the settings ask for, as one artwork. The first keeps its ids; `copy-2/` stands before the second's. */
export function sheetArtwork(
  artwork: Artwork,
  settings: Settings,
  wishes: readonly OrderWish[] = [],
): Artwork {
  const [across, down] = (settings.sheetOf ?? "1x1").split("x").map(Number);
  const box = boxOfCopy(artwork, settings);
  if (across * down === 1 || box === null) return artwork;
  const { pieces, ...ordered } = inOrder(artwork, settings, wishes);
  const stepX = box.maxX - box.minX + settings.patchGapMm;
  const stepY = box.maxY - box.minY + settings.patchGapMm;
  const places = placesOf(across, down).map(([column, row]): Point => [column * stepX, row * stepY]);
  const sewn = pieces.filter(({ technique }) => technique !== "skip");
  const sheet: Artwork = {
    ...ordered,
    pieces: blocksOf(sewn).flatMap(({ start, end }, b) => {
      const copies = places.map((place, k) =>
        sewn.slice(start, end).map((piece) => copyOf(piece, k + 1, place)),
      );
      return (b % 2 === 0 ? copies : copies.reverse()).flat();
    }),
    size: {
      widthMm: across * stepX - settings.patchGapMm,
      heightMm: down * stepY - settings.patchGapMm,
    },
    drawnSize: artwork.drawnSize ?? artwork.size,
    ...(artwork.cutLine === undefined
      ? {}
      : {
          cutLine: places.flatMap(([dx, dy]) =>
            (artwork.cutLine ?? []).map((ring) => ring.map(([x, y]): Point => [x + dx, y + dy])),
          ),
        }),
  };
  return moveArtwork(sheet, [-box.minX, -box.minY]);
}

/** Stitches reach beyond a piece's region by the pull compensation and half a thread, and by no more than this. */
const BEYOND_MM = 0.5;

/** What one copy takes up: a patch its page, other artwork what is sewn of it; `null` where nothing is. */
function boxOfCopy({ pieces, size, cutLine }: Artwork, { pullMm }: Settings): Box | null {
  if (cutLine !== undefined) return { minX: 0, minY: 0, maxX: size.widthMm, maxY: size.heightMm };
  const corners = pieces
    .filter(({ technique }) => technique !== "skip")
    .map(({ region }) => regionBox(region))
    .flatMap(({ minX, minY, maxX, maxY }): Point[] => [
      [minX, minY],
      [maxX, maxY],
    ]);
  return corners.length === 0 ? null : growBox(boxOf(corners), pullMm + BEYOND_MM);
}

/** Column and row of each copy, in the order in which a block visits them. */
function placesOf(across: number, down: number): Point[] {
  return Array.from({ length: across * down }, (_, k): Point => {
    const row = Math.floor(k / across);
    const column = k % across;
    return [row % 2 === 0 ? column : across - 1 - column, row];
  });
}

function copyOf(piece: Piece, number: number, place: Point): Piece {
  const moved = movePiece(piece, place);
  if (number === 1) return moved;
  const { strand } = piece.overrides;
  const prefix = `copy-${number}/`;
  return {
    ...moved,
    id: prefix + piece.id,
    copy: number,
    overrides: strand === undefined ? piece.overrides : { ...piece.overrides, strand: prefix + strand },
  };
}
