/**
 * Which pieces of one colour read as one shape though they are drawn as two: a palm and the fingers under it, hair and
 * the hair behind it. The drawing shows no edge between them, so their rows are not to show one either.
 *
 * Two pieces read as one where one reaches under the other, and the outline of both together runs on smoothly where it
 * passes from the one to the other. A notch there, as between feathers or scales, tells them apart; and what lies
 * wholly on another is a detail that would be lost in it.
 */
import { boxContains, boxOf, distance, growBox } from "../geometry/point.ts";
import { arcLengths, closeRing, pointAlong } from "../geometry/polyline.ts";
import {
  intersect,
  nearestOnEdge,
  offset,
  regionArea,
  regionBox,
  ringsOf,
  union,
} from "../geometry/region.ts";
import type { Point, Region, Ring } from "../geometry/types.ts";
import { turnAt } from "./even-stitches.ts";

/** Pieces that overlap by less than twice this only share a seam. */
const SEAM_MM = 0.3;
/** A piece of which more lies on the one below is a detail of that. */
const DETAIL_SHARE = 0.6;
/** How far before and after a passage the outline is looked at. */
const LOOK_MM = 1.5;
/** A turn by more is a notch. */
const NOTCH_RAD = (35 * Math.PI) / 180;
/** This near to an edge, a point of the common outline lies on it: sums of polygons round to less. */
const ON_EDGE_MM = 0.01;
/** Passages nearer to each other are one. */
const SAME_PASSAGE_MM = 1;

/** Whether a piece and one of its colour that is sewn later read as one shape. */
export function readAsOne(earlier: Region, later: Region): boolean {
  const shared = intersect(earlier, later);
  if (shared.length === 0 || regionArea(shared) > DETAIL_SHARE * regionArea(later)) return false;
  if (offset(shared, -SEAM_MM).length === 0) return false;
  const turns = ringsOf(union([earlier, later])).flatMap((ring) => turnsAtPassages(ring, earlier, later));
  const smooth = turns.filter((turn) => turn <= NOTCH_RAD).length;
  return smooth > 0 && 2 * smooth >= turns.length;
}

const isOnEdge = (region: Region, p: Point): boolean =>
  boxContains(growBox(regionBox(region), ON_EDGE_MM), boxOf([p])) &&
  nearestOnEdge(region, p).distance <= ON_EDGE_MM;

/** How sharply an outline turns wherever it passes from one region's edge to the other's. */
function turnsAtPassages(ring: Ring, a: Region, b: Region): number[] {
  const line = closeRing(ring);
  const lengths = arcLengths(line);
  const total = lengths[lengths.length - 1];
  const passages = ring.flatMap((p, i) => (isOnEdge(a, p) && isOnEdge(b, p) ? [i] : []));
  const apart = passages.filter(
    (i, n) => n === 0 || distance(ring[i], ring[passages[n - 1]]) > SAME_PASSAGE_MM,
  );
  const reach = Math.min(LOOK_MM, total / 4);
  const at = (s: number) => pointAlong(line, lengths, (s + total) % total);
  return apart.map((i) => Math.abs(turnAt(at(lengths[i] - reach), ring[i], at(lengths[i] + reach))));
}
