/**
 * A way through a narrow place need not stay at its edge for the rest of its length. Where the tuck margin
 * can't be kept throughout, often because one end lies on the edge itself, a ramp leads from the end straight
 * to where the margin can be kept, and the way goes on from there.
 */
import { COVER_GAP_MM } from "../constants.ts";
import { clipLine } from "../geometry/clip-line.ts";
import { distance } from "../geometry/point.ts";
import { polylineLength } from "../geometry/polyline.ts";
import { nearestOnEdge, regionContains } from "../geometry/region.ts";
import { buildPathFinder, type PathFinder } from "../geometry/shortest-path.ts";
import type { Point, Polygon, Polyline, Region } from "../geometry/types.ts";
import { once } from "../once.ts";
import { insideBy } from "./cover.ts";

/** A ramp is at most this long: three times the usual tuck margin. */
const RAMP_MM = 2.5;
/** So much of a ramp may lie outside the cover: rounding, where it starts on the very edge. */
const RAMP_STRAY_MM = 1e-3;
/** The way inland may be this much longer than the one along the edge. */
const DETOUR_MM = 4;
/** Margins that are tried, as shares of the tuck margin, widest first. */
const SHARES = [1, 0.75, 0.5, 0.25];

interface InlandPart {
  readonly polygon: Polygon;
  readonly finder: () => PathFinder;
}

/** Leads a way inland, or gives it back as it was. */
export type Inland = (way: Polyline) => Polyline;

/** `cover` is where the way may lie at all; margins above `fromMm` up to `tuckMarginMm` are tried, widest first. */
export function inlandOf(cover: Region, fromMm: number, tuckMarginMm: number): Inland {
  const levels = SHARES.map((share) => share * tuckMarginMm)
    .filter((marginMm) => marginMm > fromMm + COVER_GAP_MM)
    .map((marginMm) => once(() => insideBy(cover, marginMm).map(partOf)));
  return (way) => {
    const most = polylineLength(way) + DETOUR_MM;
    for (const parts of levels) {
      for (const part of parts()) {
        const inland = throughPart(part, way, cover);
        if (inland && polylineLength(inland) <= most) return inland;
      }
    }
    return way;
  };
}

const partOf = (polygon: Polygon): InlandPart => ({
  polygon,
  finder: once(() => buildPathFinder([polygon])),
});

function throughPart({ polygon, finder }: InlandPart, way: Polyline, cover: Region): Polyline | null {
  const [exit, entry] = [way[0], way[way.length - 1]];
  const from = rampTo(polygon, exit, cover);
  const to = from && rampTo(polygon, entry, cover);
  const path = from && to && finder().shortestPath(from, to);
  if (!path) return null;
  return [exit, ...path.points, entry].filter((p, i, all) => i === 0 || distance(p, all[i - 1]) > 1e-6);
}

/** Where a ramp from `p` reaches the part, if it is short and lies under the cover all the way. */
function rampTo(part: Polygon, p: Point, cover: Region): Point | null {
  if (regionContains([part], p)) return p;
  const near = nearestOnEdge([part], p);
  if (near.distance > RAMP_MM) return null;
  const hiddenMm = clipLine([p, near.point], cover).reduce((sum, line) => sum + polylineLength(line), 0);
  return near.distance - hiddenMm > RAMP_STRAY_MM ? null : near.point;
}
