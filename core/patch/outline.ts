/**
 * The outline of a patch: the outer side of its satin edge.
 *
 * It begins with a *base*: the silhouette of the artwork (all of it united, gaps closed until it is one, holes
 * filled), or the smallest circle, rectangle or shield round the silhouette. The outline keeps a distance from the
 * base, and is nowhere bent outwards more sharply than satin can be sewn round.
 *
 * Where the edge lies over the rim of the base, a narrow part would vanish under it. So the base is told apart by
 * morphology (Serra 1982): its *broad* part is the union of all discs of a radius that lie in it, the rest is narrow.
 * The outline keeps its distance from the broad part, and from a narrow one the edge's whole width. A corner is
 * narrow too, but left to the edge as long as it lies well under it.
 */
import type { Piece } from "../artwork/types.ts";
import { offset, regionArea, ringsOf, subtract, union } from "../geometry/region.ts";
import { simplifyRing } from "../geometry/simplify.ts";
import type { Point, Region, Ring } from "../geometry/types.ts";
import type { Settings } from "../settings.ts";
import { circleRing, convexHull, rectangleRing, shieldRing } from "./smallest-shapes.ts";

/** Bays narrower than twice this are closed. Common practice, no source: the figure is ours. */
const BAY_MM = 4;
/** Points that the offsets leave closer together than this say nothing. */
const SMOOTH_MM = 0.01;
/** Rounding of what is taken from what: thinner is nothing. */
const HAIR_MM = 0.01;

/** The outline of the patch that the settings ask for round these pieces; `null` where nothing is sewn. */
export function patchOutline(pieces: readonly Piece[], settings: Settings): Ring | null {
  const sewn = pieces.filter(({ technique }) => technique !== "skip");
  if (sewn.length === 0 || settings.patch === "none") return null;
  const silhouette = silhouetteOf(sewn);
  const { patchMarginMm, patchEdgeMm } = settings;
  const distanceMm = settings.patch === "silhouette" ? patchMarginMm : patchMarginMm + patchEdgeMm;
  return roundBase(baseOf(silhouette, settings.patch), distanceMm, patchEdgeMm);
}

/** All pieces as one ring: bays and gaps are closed, the wider where the artwork is in several parts. */
export function silhouetteOf(pieces: readonly Piece[]): Ring {
  const painted = filled(union(pieces.map(({ region }) => region)));
  for (let reach = BAY_MM, tries = 0; tries < MOST_TRIES; reach *= 2, tries++) {
    const one = closed(painted, reach);
    if (one.length === 1) return one[0].outer;
  }
  return convexHull(painted.flatMap(({ outer }) => outer));
}

/** Gaps of some 250 mm are closed; parts that lie further from each other get their hull. */
const MOST_TRIES = 6;

function baseOf(silhouette: Ring, shape: Settings["patch"]): Ring {
  const hull = (): readonly Point[] => convexHull(silhouette);
  if (shape === "circle") return circleRing(hull());
  if (shape === "rounded") return rectangleRing(hull());
  if (shape === "shield") return shieldRing(hull());
  return silhouette;
}

/** Parts of a silhouette that are less than twice as wide as this show whole. */
const NARROW_MM = 2;
/** A corner that keeps this far from the outline stays under the edge. */
const CORNER_CLEAR_MM = 0.4;

/** The outline round a base at a distance, nowhere bent outwards more sharply than the edge is wide. */
function roundBase(base: Ring, distanceMm: number, edgeMm: number): Ring {
  const area: Region = [{ outer: base, holes: [] }];
  if (distanceMm >= edgeMm) return largest(closed(offset(area, distanceMm, "round"), BAY_MM));
  const reach = Math.max(NARROW_MM, edgeMm - distanceMm);
  const centres = offset(area, -reach, "round");
  const clear = offset(centres, reach + distanceMm - CORNER_CLEAR_MM, "round");
  const narrow = subtract(area, offset(centres, reach + HAIR_MM, "round")).filter(
    (part) => regionArea(subtract([part], clear)) > 0,
  );
  const whole = union([offset(centres, reach + distanceMm, "round"), offset(narrow, edgeMm, "round")]);
  return largest(closed(whole, BAY_MM));
}

const closed = (region: Region, reachMm: number): Region =>
  filled(offset(offset(region, reachMm, "round"), -reachMm, "round"));

const filled = (region: Region): Region => union(region.map(({ outer }) => [{ outer, holes: [] }]));

function largest(region: Region): Ring {
  const [ring] = ringsOf(region).sort(
    (a, b) => regionArea([{ outer: b, holes: [] }]) - regionArea([{ outer: a, holes: [] }]),
  );
  return simplifyRing(ring, SMOOTH_MM);
}
