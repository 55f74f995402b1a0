/**
 * Thread can't be seen through, so a partly transparent area is sewn in the colours that it has in the drawing: its
 * own, mixed with that of what lies under it (simple alpha compositing, CSS Compositing and Blending 1, 5.1: channel
 * by channel in sRGB). Over several colours it falls into a piece for each; what is too small for a piece of its own
 * goes with the largest. Over bare fabric, whose colour nobody knows, it is sewn as solid; what is *faint* there shows
 * the fabric more than itself, and is left out.
 *
 * A line stays one piece, in the colour that most of it has. The opacity of a group is taken for that of each of
 * its members.
 */
import { regionWithin } from "../geometry/clip-ring.ts";
import { boxesMeet } from "../geometry/point.ts";
import { intersect, offset, regionArea, regionBox, subtract, union } from "../geometry/region.ts";
import type { Box, Region } from "../geometry/types.ts";
import { untaken } from "./names.ts";
import type { Piece } from "./types.ts";

/** A piece, and how solid its paint is: 0 transparent, 1 solid. */
export interface Painted {
  readonly piece: Piece;
  readonly alpha: number;
}

/** A smaller or narrower part in a colour of its own is not seen once sewn. Common practice, no source. */
const PART_MM2 = 2;
const PART_WIDTH_MM = 0.6;
/** Paint less solid than this is faint: fabric is three quarters of what is seen. Common practice, no source. */
const FAINT = 0.25;
/** Parts that share an edge but for rounding are one. */
const HEAL_MM = 0.001;

/**
 * The pieces in the colours that are seen of them, in paint order.
 *
 * @param taken the ids in use
 * @param leftOut told of each piece that is too faint for thread where it lies over bare fabric
 */
export function seenThrough(
  painted: readonly Painted[],
  taken: Set<string>,
  leftOut: (piece: Piece) => void,
): Piece[] {
  if (painted.every(({ alpha }) => alpha >= 1)) return painted.map(({ piece }) => piece);
  const pieces: Piece[] = [];
  const boxes: Box[] = [];
  for (const { piece, alpha } of painted) {
    const seen = alpha < 1 ? mixed(piece, alpha, pieces, boxes, taken, leftOut) : [piece];
    for (const one of seen) {
      pieces.push(one);
      boxes.push(regionBox(one.region));
    }
  }
  return pieces;
}

function mixed(
  piece: Piece,
  alpha: number,
  under: readonly Piece[],
  boxes: readonly Box[],
  taken: Set<string>,
  leftOut: (piece: Piece) => void,
): Piece[] {
  const byColour = new Map<string, Region[]>();
  const add = (colour: string, region: Region): void => {
    if (region.length > 0) byColour.set(colour, [...(byColour.get(colour) ?? []), region]);
  };
  let rest = piece.region;
  for (let k = under.length - 1; k >= 0 && rest.length > 0; k--) {
    const { region, colour, technique } = under[k];
    if (technique === "skip" || !boxesMeet(regionBox(rest), boxes[k])) continue;
    const part = intersect(regionWithin(rest, boxes[k]), region);
    if (part.length === 0) continue;
    add(mixedColour(piece.colour, colour, alpha), part);
    rest = subtract(rest, region);
  }
  const faint = alpha < FAINT ? roomy({ colour: piece.colour, region: rest }).region : [];
  if (faint.length > 0) leftOut(piece);
  else add(piece.colour, rest);
  const parts = [...byColour]
    .map(([colour, regions]) => ({ colour, region: joined(regions) }))
    .sort((a, b) => regionArea(b.region) - regionArea(a.region));
  const [main] = parts;
  const isFaintLine =
    piece.line !== undefined && main !== undefined && regionArea(faint) > regionArea(main.region);
  if (main === undefined || isFaintLine) return faint.length > 0 ? [] : [piece];
  const own = piece.line === undefined ? parts.slice(1).map(roomy) : [];
  const others = own.flatMap(({ colour, region }) =>
    region.map((polygon) => ({ colour, region: [polygon] })),
  );
  if (others.length === 0 && (faint.length === 0 || piece.line !== undefined))
    return [{ ...piece, colour: main.colour }];
  const mains = subtract(piece.region, union([...others.map(({ region }) => region), faint]))
    .filter((polygon) => regionArea([polygon]) > HEAL_MM)
    .map((polygon) => ({ colour: main.colour, region: [polygon] }));
  return [...mains, ...others].map(({ colour, region }, k) => {
    if (k === 0) return { ...piece, colour, region };
    return { ...piece, id: numbered(piece.id, taken), colour, region };
  });
}

const joined = (regions: readonly Region[]): Region =>
  regions.length === 1 ? regions[0] : offset(union(regions.map((one) => offset(one, HEAL_MM))), -HEAL_MM);

/** The polygons of a part that are large and wide enough for a piece. */
const roomy = ({ colour, region }: { colour: string; region: Region }) => ({
  colour,
  region: region.filter(
    (polygon) => regionArea([polygon]) >= PART_MM2 && offset([polygon], -PART_WIDTH_MM / 2).length > 0,
  ),
});

function numbered(base: string, taken: Set<string>): string {
  let id = base;
  for (let n = 2; taken.has(id); n++) id = `${base}.${n}`;
  return untaken(id, taken);
}

/** One colour over another, both `#rrggbb`. */
export function mixedColour(over: string, under: string, alpha: number): string {
  const [a, b] = [over, under].map((hex) => Number.parseInt(hex.slice(1), 16));
  const channels = [16, 8, 0].map((shift) =>
    Math.round(alpha * ((a >> shift) & 255) + (1 - alpha) * ((b >> shift) & 255)),
  );
  return `#${channels.map((value) => value.toString(16).padStart(2, "0")).join("")}`;
}
