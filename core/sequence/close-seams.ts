/**
 * Neighbours that abut in the drawing would show fabric between them once sewn: stitches pull both edges back.
 * So the earlier of two reaches a little under the later one, all along their seam.
 *
 * A seam is where the edge of a piece runs along the outer edge of what is sewn after it. Only fills are grown,
 * and only by what lies under later pieces or, where neighbours miss each other by a hair, on bare fabric in
 * between: what lies on top stays as it was.
 */
import type { Piece, PiecePart } from "../artwork/types.ts";
import { buildBoxIndex } from "../geometry/box-index.ts";
import { regionWithin } from "../geometry/clip-ring.ts";
import { boxesMeet, boxOf, distance, growBox, lerp, nearestOnSegment } from "../geometry/point.ts";
import {
  intersect,
  offset,
  regionArea,
  regionBox,
  regionContains,
  ringsOf,
  subtract,
  union,
} from "../geometry/region.ts";
import type { Point, Polygon, Region, Ring } from "../geometry/types.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import { coverOf } from "../techniques/cover-of.ts";
import { lastAlike } from "./alike.ts";
import { closed, type LaterCover, laterCover } from "./later-cover.ts";
import type { Sequence } from "./types.ts";

/** How far the earlier piece reaches under the later one. Common practice, no source. */
const SEAM_MM = 0.3;
/** Neighbours this far apart are meant to touch: the gap is thinner than a thread. */
const GAP_MM = 0.3;
/** A shorter seam is only a corner, or an edge that crosses another. */
const SEAM_LENGTH_MM = 1;
/** What lies this far beyond a seam has no part in closing it. */
const REACH_MM = 2 * SEAM_LENGTH_MM;
/** Pieces farther off than this have nothing to do with a piece's seams: a seam's reach, and slits closed beyond it. */
const NEAR_MM = REACH_MM + 1;
/** So many samples in a row, beside a later edge, make a seam that is worth a look. */
const SEAM_SAMPLES = 2;
/** Narrower gaps are the drawing's own tolerance, and no gap. */
const HAIR_MM = 0.05;
/** What is gained shares its edge with the piece but for rounding: it is widened by this, so that they overlap. */
const HEAL_MM = 0.02;

/** The sequence with every fill grown under the later pieces that it abuts. */
export function closeSeams(sequence: Sequence, memory: Memory = NO_MEMORY): Sequence {
  const { pieces } = sequence;
  const areas = pieces.map(coverOf);
  const cover = laterCover(areas);
  const edges = edgeIndex(areas);
  const index = buildBoxIndex(pieces.map(({ region }) => regionBox(region)));
  const grown = pieces.map((piece, k) => {
    if (piece.technique !== "fill") return piece;
    // All that a seam depends on is the pieces near by, and which of them come before this one.
    const near = index.search(growBox(regionBox(piece.region), NEAR_MM));
    const earlier = near.filter((j) => j < k).map((j) => pieces[j]);
    return memory.recall(
      `seam ${earlier.length}`,
      near.map((j) => pieces[j]),
      () => seamClosed(piece, k, earlier, cover, edges),
    );
  });
  return { ...sequence, pieces: grown };
}

function seamClosed(
  piece: Piece,
  k: number,
  earlier: readonly Piece[],
  cover: LaterCover,
  edges: EdgeIndex,
): Piece {
  const stretches = edges.alongside(k, piece.region);
  if (stretches.length === 0) return piece;
  const frame = growBox(boxOf(stretches.flat().map(({ at }) => at)), REACH_MM);
  const over = cover.union(cover.after(k, frame), frame);
  const here = regionWithin(piece.region, frame);
  const gaps = stretches.some((stretch) => isApart(stretch, over)) ? bareGaps(here, over, earlier) : [];
  const gained = [...gaps, ...seams(gaps.length === 0 ? here : union([here, gaps]), over)];
  if (gained.length === 0) return piece;
  if (piece.parts !== undefined) return withParts(piece, piece.parts, gained);
  const region = joined(piece.region, gained);
  return region === null ? piece : { ...piece, region };
}

/** Whether a stretch of an edge keeps off what lies over its neighbourhood for the length of a seam. */
function isApart(stretch: readonly Beside[], over: Region): boolean {
  let inRow = 0;
  for (const { at, distanceMm } of stretch) {
    inRow = distanceMm > HAIR_MM && !regionContains(over, at) ? inRow + 1 : 0;
    if (inRow > SEAM_SAMPLES) return true;
  }
  return false;
}

/** The edges of all covering pieces, to find out cheaply where a piece has a seam at all. */
interface EdgeIndex {
  /** Stretches of the region's edge, long enough for a seam, beside edges of pieces after the k-th. */
  alongside(k: number, region: Region): readonly (readonly Beside[])[];
}

interface Beside {
  readonly at: Point;
  /** To the nearest such edge. */
  readonly distanceMm: number;
}

function edgeIndex(areas: readonly (Region | null)[]): EdgeIndex {
  const last = lastAlike(areas);
  const edges = areas.flatMap((area, owner) =>
    ringsOf((last[owner] === owner && area) || []).flatMap((ring) =>
      ring.map((b, i) => ({ owner, a: ring[i === 0 ? ring.length - 1 : i - 1], b })),
    ),
  );
  const index = buildBoxIndex(edges.map(({ a, b }) => boxOf([a, b])));
  const toEdges = (p: Point, k: number): number => {
    let least = Number.POSITIVE_INFINITY;
    for (const n of index.search(growBox(boxOf([p]), GAP_MM))) {
      const { owner, a, b } = edges[n];
      if (owner > k) least = Math.min(least, distance(p, nearestOnSegment(p, a, b)));
    }
    return least;
  };
  return {
    alongside(k, region) {
      const stretches: Beside[][] = [];
      for (const ring of ringsOf(region)) {
        let stretch: Beside[] = [];
        for (const at of samplesOf(ring)) {
          const distanceMm = toEdges(at, k);
          if (distanceMm > GAP_MM) stretch = [];
          else if (stretch.push({ at, distanceMm }) === SEAM_SAMPLES) stretches.push(stretch);
        }
      }
      return stretches;
    },
  };
}

/** Points along the ring, twice or more in the length of the shortest seam. */
function samplesOf(ring: Ring): Point[] {
  return ring.flatMap((b, i) => {
    const a = ring[i === 0 ? ring.length - 1 : i - 1];
    const steps = Math.max(1, Math.ceil(distance(a, b) / (SEAM_LENGTH_MM / SEAM_SAMPLES)));
    return Array.from({ length: steps }, (_, s) => lerp(a, b, (s + 1) / steps));
  });
}

/** What the piece must gain to reach under the outer edge of what lies over it. */
function seams(region: Region, over: Region): Region {
  const rim = subtract(over, offset(over, -SEAM_MM));
  // Each lobe by itself: whether two hang together by a hair is a matter of rounding.
  return subtract(intersect(offset(region, SEAM_MM), rim), region).filter(
    (lobe) => regionArea([lobe]) >= SEAM_MM * SEAM_LENGTH_MM,
  );
}

/** Slits of bare fabric between the piece and what lies over its neighbourhood. */
function bareGaps(region: Region, over: Region, earlier: readonly Piece[]): Region {
  const both = union([region, over]);
  const slits = subtract(closed(both, GAP_MM / 2), both).filter(
    (polygon) =>
      regionArea([polygon]) >= HAIR_MM * SEAM_LENGTH_MM && touches(polygon, region) && touches(polygon, over),
  );
  if (slits.length === 0) return [];
  const box = regionBox(slits);
  const under = earlier.filter((piece) => boxesMeet(regionBox(piece.region), box));
  return subtract(slits, union(under.flatMap((piece) => coverOf(piece) ?? []).map((polygon) => [polygon])));
}

const touches = (polygon: Polygon, region: Region): boolean =>
  intersect(offset([polygon], HEAL_MM), region).length > 0;

/** The piece's region with what it gains; `null` where that would not hang together. */
function joined(region: Region, gained: Region): Region | null {
  const whole = union([region, offset(gained, HEAL_MM)]);
  return whole.length === 1 ? whole : null;
}

/** Of several parts, each fill gains what borders on it; the others stay. */
function withParts(piece: Piece, parts: readonly PiecePart[], gained: Region): Piece {
  const grown = parts.map((part) => {
    if (part.technique !== "fill") return part;
    const own = gained.filter((polygon) => touches(polygon, part.region));
    const region = own.length === 0 ? null : joined(part.region, own);
    return region === null ? part : { ...part, region };
  });
  const region = joined(
    piece.region,
    grown.flatMap((part, n) => (part === parts[n] ? [] : part.region)),
  );
  return region === null ? piece : { ...piece, region, parts: grown };
}
