/**
 * At which angle the rows of each fill lie, where nobody has set one.
 *
 * Rows are wanted long and few: along the piece's long direction where it has one, else so that they run the full
 * way across, as level or upright rows do in a square. Where all directions are alike, they slant, across the
 * fabric's own threads. And pieces of one colour that overlap or abut should read as separate shapes: light falls
 * differently on rows that lie at a different angle. Along an edge that rows meet at a narrow angle, the ends of rows
 * make steps as high as a row and long enough to be seen, a *saw*; along one that they are parallel to, they make none.
 * Pieces that read as one shape (`one-shape.ts`) are the exception: they lie at one angle, so that no edge shows where
 * the drawing has none. So each shape, in paint order, takes the angle that costs least: short rows, a saw along its
 * edges, and being near the angle of such a neighbour. Common practice, no source.
 */
import type { Piece } from "../artwork/types.ts";
import { buildBoxIndex } from "../geometry/box-index.ts";
import { regionDistance } from "../geometry/distance.ts";
import { growBox, norm } from "../geometry/point.ts";
import { regionArea, regionBox, ringsOf } from "../geometry/region.ts";
import type { Region } from "../geometry/types.ts";
import { longDirection } from "./fill.ts";
import { readAsOne } from "./one-shape.ts";

/** Rows of neighbours of one colour differ by this much. */
const APART_DEG = 25;

/** Nearer than this, pieces abut. */
const ABUT_MM = 0.3;

/** What is tried beside the long direction, in the order in which they are liked where all else is equal. */
const LIKED_DEG = [45, 0, 135, 90];
const TURNS_DEG = [30, -30, 45, -45, 60, -60, 90];

/** Rows that meet an edge at an angle between these make a saw: steps of 1.5 mm and more to a row, but not of 15 mm. */
const SAW_DEG: readonly [number, number] = [1.5, 15];

/** A saw along all of the outline costs as much as so many times the least number of rows. */
const SAW_COST = 1;

/** On shorter stretches, as in a curve, there is no saw to be seen: at its narrowest angles it has no two teeth. */
const SAW_MM = 3;

/** Edges whose directions differ by less are one. */
const SAME_DEG = 0.3;

/** Rows may lie along a straight stretch of outline from this length on, one of so many of the longest. */
const STRAIGHT_MM = 6;
const STRAIGHTS = 3;

/** How much dearer each further candidate is, in shares of the least number of rows: ties only. */
const RANK_COST = 0.01;

/** Nothing outweighs a neighbour at nearly the same angle. */
const CLASH_COST = 100;

/**
 * The angle of the rows, in degrees counter-clockwise as seen, 0 to below 180, of each piece that has a fill, by
 * its id. An angle that the artist has set stands. `pieces` are in paint order.
 */
export function chooseAngles(pieces: readonly Piece[]): Map<string, number> {
  const fills = filledPieces(pieces);
  const beside = neighboursOf(fills);
  const angles = new Map<string, number>();
  for (const shape of shapesOf(fills)) {
    const own = new Set(shape);
    const others = new Set(shape.flatMap((k) => beside[k]).filter((k) => !own.has(k)));
    // What has its angle already is left of those that lie beside: painted earlier, or of an earlier shape.
    const taken = [...others].flatMap((k) => angles.get(fills[k].piece.id) ?? []);
    const members = shape.map((k) => fills[k]);
    const largest = members.reduce((most, one) => (one.areaMm2 > most.areaMm2 ? one : most));
    const given = members.find(({ piece }) => piece.overrides.angleDeg !== undefined)?.piece.overrides
      .angleDeg;
    const angleDeg = given ?? angleFor(largest.region, taken);
    for (const { piece } of members) angles.set(piece.id, piece.overrides.angleDeg ?? angleDeg);
  }
  return angles;
}

interface Filled {
  readonly piece: Piece;
  /** What is filled with rows. */
  readonly region: Region;
  readonly areaMm2: number;
  /** The earlier ones of its colour that it overlaps or abuts, by their place. */
  readonly near: readonly number[];
}

function filledPieces(pieces: readonly Piece[]): Filled[] {
  const fills = pieces.flatMap((piece) => {
    const region = filledPart(piece);
    return region === null ? [] : [{ piece, region, areaMm2: regionArea(region) }];
  });
  const boxes = fills.map(({ piece }) => growBox(regionBox(piece.region), ABUT_MM));
  const index = buildBoxIndex(boxes);
  const abut = (a: Piece, b: Piece): boolean =>
    a.colour === b.colour && regionDistance(a.region, b.region, ABUT_MM) !== null;
  return fills.map((fill, k) => ({
    ...fill,
    near: index.search(boxes[k]).filter((other) => other < k && abut(fills[other].piece, fill.piece)),
  }));
}

/** The places of all that each overlaps or abuts, earlier and later. */
function neighboursOf(fills: readonly Filled[]): readonly (readonly number[])[] {
  const beside: number[][] = fills.map(({ near }) => [...near]);
  for (const [k, { near }] of fills.entries()) for (const other of near) beside[other].push(k);
  return beside;
}

/** The places of pieces that read as one shape, each such group in paint order, and the groups by their first pieces. */
function shapesOf(fills: readonly Filled[]): number[][] {
  const shapeOf = fills.map((_, k) => [k]);
  for (const [k, { piece, near }] of fills.entries())
    for (const other of near) {
      const [kept, gone] = [shapeOf[other], shapeOf[k]];
      if (kept === gone || !readAsOne(fills[other].piece.region, piece.region)) continue;
      for (const member of gone) {
        kept.push(member);
        shapeOf[member] = kept;
      }
    }
  return [...new Set(shapeOf)].map((shape) => shape.sort((a, b) => a - b));
}

/**
 * The angles of pieces that stand in any order. They follow from how the pieces lie and in which order they are
 * painted, given by their ids: sewing them in another order changes none.
 */
export function anglesOf(pieces: readonly Piece[], paintOrder: readonly string[]): Map<string, number> {
  const placeOf = new Map(paintOrder.map((id, k) => [id, k]));
  return chooseAngles([...pieces].sort((a, b) => (placeOf.get(a.id) ?? 0) - (placeOf.get(b.id) ?? 0)));
}

/** The pieces with their angles set on them. */
export function withAngles(pieces: readonly Piece[], angles: ReadonlyMap<string, number>): Piece[] {
  return pieces.map((piece) => {
    const angleDeg = angles.get(piece.id);
    return angleDeg === undefined ? piece : { ...piece, overrides: { ...piece.overrides, angleDeg } };
  });
}

/** The pieces with their regions in paint order, which their rows are shared out over whatever the order. */
export function withRowsOver(pieces: readonly Piece[], painted: readonly Piece[]): Piece[] {
  const regionOf = new Map(painted.map(({ id, region }) => [id, region]));
  return pieces.map((piece) => {
    const rowsOver = regionOf.get(piece.id);
    const isFill = piece.technique === "fill" && piece.parts === undefined;
    return isFill && rowsOver !== undefined && rowsOver !== piece.region ? { ...piece, rowsOver } : piece;
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
  const edges = edgesOf(region);
  const candidates = [long, ...LIKED_DEG, ...TURNS_DEG.map((turn) => long + turn), ...straightest(edges)].map(
    halfTurn,
  );
  const heights = candidates.map((angleDeg) => heightAcross(region, angleDeg));
  const least = Math.min(...heights);
  const costs = candidates.map((angleDeg, rank) => {
    const clashes = taken.filter((other) => apart(other, angleDeg) < APART_DEG).length;
    // A piece without a long direction says «level», which is then no better than the others.
    const liking = rank === 0 && long === 0 ? LIKED_DEG.length : rank;
    return (
      heights[rank] / least -
      1 +
      SAW_COST * sawShare(edges, angleDeg) +
      RANK_COST * liking +
      CLASH_COST * clashes
    );
  });
  return candidates[costs.indexOf(Math.min(...costs))];
}

/** A straight stretch of outline. */
interface Edge {
  readonly angleDeg: number;
  readonly lengthMm: number;
}

/** The outline's edges; neighbours that go the same way are one. */
function edgesOf(region: Region): readonly Edge[] {
  return ringsOf(region).flatMap((ring) => {
    const edges: Edge[] = [];
    ring.forEach(([x, y], i) => {
      const [px, py] = ring[i === 0 ? ring.length - 1 : i - 1];
      const lengthMm = norm(x - px, y - py);
      const angleDeg = halfTurn(degrees(Math.atan2(py - y, x - px)));
      const last = edges.at(-1);
      if (last !== undefined && apart(last.angleDeg, angleDeg) < SAME_DEG)
        edges[edges.length - 1] = { ...last, lengthMm: last.lengthMm + lengthMm };
      else edges.push({ angleDeg, lengthMm });
    });
    return edges;
  });
}

/** Directions of the longest straight stretches of outline. */
const straightest = (edges: readonly Edge[]): number[] =>
  edges
    .filter(({ lengthMm }) => lengthMm >= STRAIGHT_MM)
    .sort((a, b) => b.lengthMm - a.lengthMm)
    .slice(0, STRAIGHTS)
    .map(({ angleDeg }) => angleDeg);

/** The share of the outline along which rows of this angle make a saw. */
function sawShare(edges: readonly Edge[], rowsDeg: number): number {
  let [saw, all] = [0, 0];
  for (const { angleDeg, lengthMm } of edges) {
    const between = apart(angleDeg, rowsDeg);
    all += lengthMm;
    if (lengthMm >= SAW_MM && between > SAW_DEG[0] && between < SAW_DEG[1]) saw += lengthMm;
  }
  return saw / all;
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
