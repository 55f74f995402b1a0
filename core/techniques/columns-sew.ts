/**
 * Several parts of one piece sewn in one go, from any entry to any exit, with all travel between them hidden.
 *
 * The parts hang together as a tree. Parts are sewn from its tips inwards, the part of the exit last: so what is
 * not yet sewn always hangs together, and every way from one part to the next lies in parts that will be sewn
 * over it. A part is left where it meets the next part on the way to the exit's. The branch of the tree that holds
 * the entry comes first, then always the nearest.
 */
import type { PieceJoint } from "../artwork/types.ts";
import { distance } from "../geometry/point.ts";
import { polylineLength } from "../geometry/polyline.ts";
import { nearestOnEdge, regionContains } from "../geometry/region.ts";
import type { Point, Polyline, Region } from "../geometry/types.ts";
import { cleanLine, shortFor, stitchAlong } from "./even-stitches.ts";
import type { Stitcher, StitchPart } from "./types.ts";

/** A part ready to be sewn, with the way that travel takes through it. */
export interface LaidPart {
  readonly stitcher: Stitcher;
  readonly region: Region;
  /** From one point in it to another, under the part's own stitches. */
  way(from: Point, to: Point): Polyline;
  /** About how long travel through all of it is. */
  readonly lengthMm: number;
}

export interface PartsOptions {
  readonly runLengthMm: number;
  readonly minStitchMm: number;
}

/** One stitcher for all parts of `region`. `joints` make them a tree. Entry and exit may lie anywhere in the region. */
export function layParts(
  parts: readonly LaidPart[],
  joints: readonly PieceJoint[],
  region: Region,
  options: PartsOptions,
): Stitcher {
  const neighbours = parts.map((): Neighbour[] => []);
  for (const {
    parts: [a, b],
    at,
  } of joints) {
    neighbours[a].push({ part: b, at });
    neighbours[b].push({ part: a, at });
  }
  const partAt = (p: Point): number => {
    const holding = parts.findIndex((part) => regionContains(part.region, p));
    if (holding >= 0) return holding;
    const away = parts.map((part) => nearestOnEdge(part.region, p).distance);
    return away.indexOf(Math.min(...away));
  };
  const allMm = parts.reduce((sum, { lengthMm }) => sum + lengthMm, 0);

  return {
    snap: (p) => (regionContains(region, p) ? p : nearestOnEdge(region, p).point),
    travelMm(entry, exit) {
      const [from, to] = [partAt(entry), partAt(exit)];
      const direct = pathBetween(neighbours, from, to).reduce((sum, k) => sum + parts[k].lengthMm, 0);
      return allMm - direct + (from === to ? parts[to].stitcher.travelMm(entry, exit) : 0);
    },
    stitch: (entry, exit) => sewTree(parts, neighbours, entry, partAt(entry), exit, partAt(exit), options),
  };
}

interface Neighbour {
  readonly part: number;
  readonly at: Point;
}

/** Parts from one to another, both included. */
function pathBetween(neighbours: readonly (readonly Neighbour[])[], from: number, to: number): number[] {
  const search = (part: number, parent: number): number[] | null => {
    if (part === from) return [part];
    for (const next of neighbours[part]) {
      if (next.part === parent) continue;
      const path = search(next.part, part);
      if (path !== null) return [...path, part];
    }
    return null;
  };
  return search(to, -1) ?? [to];
}

function sewTree(
  parts: readonly LaidPart[],
  neighbours: readonly (readonly Neighbour[])[],
  entry: Point,
  entryPart: number,
  exit: Point,
  exitPart: number,
  options: PartsOptions,
): StitchPart[] {
  const sewn: StitchPart[] = [];
  const onWayIn = new Set(pathBetween(neighbours, entryPart, exitPart));
  let at = entry;
  let inside = entryPart;

  const goTo = (part: number): void => {
    const path = pathBetween(neighbours, inside, part);
    const way: Point[] = [at];
    for (let i = 1; i < path.length; i++) {
      const joint = neighbours[path[i - 1]].find((next) => next.part === path[i])!.at;
      way.push(...parts[path[i - 1]].way(way[way.length - 1], joint).slice(1));
    }
    inside = part;
    const line = cleanLine(way);
    // What is too short for a stitch is left to the first stitch of the part.
    const shortMm = shortFor(options.runLengthMm, options.minStitchMm);
    if (polylineLength(line) < shortMm) return;
    const points = stitchAlong(line, options.runLengthMm, shortMm);
    sewn.push({ role: "travel", points });
    at = points[points.length - 1];
  };

  const visit = (part: number, parent: number, leaveAt: Point): void => {
    const open = neighbours[part].filter((next) => next.part !== parent);
    while (open.length > 0) {
      const first = open.findIndex((next) => onWayIn.has(next.part));
      const next = first >= 0 ? first : nearest(open, at);
      const [{ part: child, at: joint }] = open.splice(next, 1);
      visit(child, part, joint);
      inside = part;
    }
    goTo(part);
    sewn.push(...parts[part].stitcher.stitch(at, leaveAt));
    at = leaveAt;
  };
  visit(exitPart, -1, exit);
  return sewn;
}

function nearest(some: readonly Neighbour[], p: Point): number {
  let best = 0;
  for (let i = 1; i < some.length; i++) if (distance(some[i].at, p) < distance(some[best].at, p)) best = i;
  return best;
}
