/**
 * At which angle the rows of each fill lie, where nobody has set one.
 *
 * Rows are wanted long and few: along the piece's long direction where it has one, else so that they run the full
 * way across, as level or upright rows do in a square. Where all directions are alike, they slant, across the
 * fabric's own threads. And pieces of one colour that overlap or abut should read as separate shapes: light falls
 * differently on rows that lie at a different angle. So each piece, in sewing order, takes the angle that costs
 * least: short rows, and being near the angle of such a neighbour. Common practice, no source.
 */
import type { Piece } from "../artwork/types.ts";
import { regionDistance } from "../geometry/distance.ts";
import { boxesMeet, growBox } from "../geometry/point.ts";
import { regionArea, regionBox, ringsOf } from "../geometry/region.ts";
import type { Box, Region } from "../geometry/types.ts";
import { longDirection } from "./fill.ts";

/** Rows of neighbours of one colour differ by this much. */
const APART_DEG = 25;

/** Nearer than this, pieces abut. */
const ABUT_MM = 0.3;

/** What is tried beside the long direction, in the order in which they are liked where all else is equal. */
const LIKED_DEG = [45, 0, 135, 90];
const TURNS_DEG = [30, -30, 45, -45, 60, -60, 90];

/** How much dearer each further candidate is, in shares of the least number of rows: ties only. */
const RANK_COST = 0.01;

/** Nothing outweighs a neighbour at nearly the same angle. */
const CLASH_COST = 100;

interface Settled {
  readonly region: Region;
  readonly colour: string;
  readonly box: Box;
  readonly angleDeg: number;
}

/**
 * The angle of the rows, in degrees counter-clockwise as seen, 0 to below 180, of each piece that has a fill, by
 * its id. An angle that the artist has set stands. `pieces` are in sewing order.
 */
export function chooseAngles(pieces: readonly Piece[]): Map<string, number> {
  const angles = new Map<string, number>();
  const settled: Settled[] = [];
  for (const piece of pieces) {
    const region = filledPart(piece);
    if (region === null) continue;
    const box = growBox(regionBox(piece.region), ABUT_MM);
    const near = settled.filter(
      (other) =>
        other.colour === piece.colour &&
        boxesMeet(other.box, box) &&
        regionDistance(other.region, piece.region, ABUT_MM) !== null,
    );
    const angleDeg =
      piece.overrides.angleDeg ??
      angleFor(
        region,
        near.map((other) => other.angleDeg),
      );
    angles.set(piece.id, angleDeg);
    settled.push({ region: piece.region, colour: piece.colour, box, angleDeg });
  }
  return angles;
}

/** The pieces with the chosen angles set on them. */
export function withAngles(pieces: readonly Piece[]): Piece[] {
  const angles = chooseAngles(pieces);
  return pieces.map((piece) => {
    const angleDeg = angles.get(piece.id);
    return angleDeg === undefined ? piece : { ...piece, overrides: { ...piece.overrides, angleDeg } };
  });
}

/** What of a piece is filled with rows: all of it, its largest part that is, or nothing. */
function filledPart({ technique, region, parts }: Piece): Region | null {
  if (parts === undefined) return technique === "fill" ? region : null;
  const filled = parts.filter((part) => part.technique === "fill").map((part) => part.region);
  return filled.reduce<Region | null>(
    (most, one) => (most === null || regionArea(one) > regionArea(most) ? one : most),
    null,
  );
}

function angleFor(region: Region, taken: readonly number[]): number {
  const long = degrees(longDirection(ringsOf(region)));
  const candidates = [long, ...LIKED_DEG, ...TURNS_DEG.map((turn) => long + turn)].map(halfTurn);
  const heights = candidates.map((angleDeg) => heightAcross(region, angleDeg));
  const least = Math.min(...heights);
  const costs = candidates.map((angleDeg, rank) => {
    const clashes = taken.filter((other) => apart(other, angleDeg) < APART_DEG).length;
    // A piece without a long direction says «level», which is then no better than the others.
    const liking = rank === 0 && long === 0 ? LIKED_DEG.length : rank;
    return heights[rank] / least - 1 + RANK_COST * liking + CLASH_COST * clashes;
  });
  return candidates[costs.indexOf(Math.min(...costs))];
}

/** How far a region reaches across rows of this angle: the number of rows, but for the spacing. */
function heightAcross(region: Region, angleDeg: number): number {
  const angle = (angleDeg * Math.PI) / 180;
  const [nx, ny] = [Math.sin(angle), Math.cos(angle)];
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const { outer } of region)
    for (const [x, y] of outer) {
      const across = x * nx + y * ny;
      if (across < low) low = across;
      if (across > high) high = across;
    }
  return Math.max(high - low, 1e-3);
}

const degrees = (angleRad: number): number => (angleRad * 180) / Math.PI;

/** The same direction, from 0 to below 180. */
const halfTurn = (angleDeg: number): number => ((angleDeg % 180) + 180) % 180;

/** Between two directions, 0 to 90. */
function apart(aDeg: number, bDeg: number): number {
  const difference = Math.abs(halfTurn(aDeg) - halfTurn(bDeg));
  return Math.min(difference, 180 - difference);
}
