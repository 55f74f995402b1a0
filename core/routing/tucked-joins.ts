/**
 * Tucked ways: shortest paths through the cover of what is sewn later, as far inside its edge as any way can
 * keep. The widest margin is found by bisection over inward offsets of the cover, the path by an exact
 * shortest path search in what is left.
 */
import { clipLine } from "../geometry/clip-line.ts";
import { boxContains, boxesMeet, boxOf, growBox, joinBoxes } from "../geometry/point.ts";
import { polylineLength } from "../geometry/polyline.ts";
import { regionBox } from "../geometry/region.ts";
import { buildPathFinder, type PathFinder } from "../geometry/shortest-path.ts";
import type { Box, Point, Polyline, Region } from "../geometry/types.ts";
import { once } from "../once.ts";
import { strictPortsWithin } from "./body.ts";
import { EVERYWHERE, insideBy } from "./cover.ts";
import { type Inland, inlandOf } from "./inland.ts";
import type { Join, JoinOffer, JoinTask } from "./joins.ts";
import { around, nearestFew, nearestOnPorts, portLength, samplePorts, spread, trimEnd } from "./ports.ts";

/** Points offered along each end of a tucked way. */
const EXIT_POINTS = 5;
const ENTRY_POINTS = 12;
/** The ends of a way are pulled together at most this often, and while it gains this much. */
const PULLS = 3;
const PULL_GAIN_MM = 0.02;
/** The widest margin is found to this. */
const MARGIN_STEP_MM = 0.025;
/** The first window reaches this far beyond the pair; most connectors lie within. */
const WINDOW_MM = 6;

/** A way through one connected part of the cover at one margin. */
interface Passage {
  /** Made when a way is asked for: most margins that are tried are not the one in the end. */
  readonly finder: () => PathFinder;
  readonly exits: readonly Polyline[];
  readonly entries: readonly Polyline[];
  readonly marginMm: number;
  /** Leads a way that must pass a narrow place further inside the cover wherever it can. */
  readonly inland: Inland;
}

/**
 * Looks for the full tuck margin in a window round the pair, and in a wider one if the ends allow it; then for the
 * widest margin there is; and where nothing leads through at all, under everything that is still to come.
 */
export function tuckedOffer(task: JoinTask): JoinOffer | null {
  const near = growBox(joinBoxes(task.from.box, task.to.box), WINDOW_MM);
  const nearby = viewOf(task, near);
  const full = offerUnder(task, nearby, fullMargin);
  if (full) return shortest(task, full, near);
  if (!endsReach(task, nearby, task.tuckMarginMm)) {
    if (!endsReach(task, nearby, 0)) return null;
    const narrow = offerUnder(task, nearby, widestMargin);
    if (narrow && !narrow.isShadowed && !endsReach(task, nearby, narrow.marginMm + MARGIN_STEP_MM))
      return narrow;
  }
  const wide = viewOf(task, growBox(near, Math.max(near.maxX - near.minX, near.maxY - near.minY) / 2));
  const fullFarther = offerUnder(task, wide, fullMargin);
  if (fullFarther) return shortest(task, fullFarther, near);
  const all = viewOf(task, EVERYWHERE);
  return (
    offerUnder(task, wide, widestMargin) ??
    offerUnder(task, all, fullMargin) ??
    offerUnder(task, all, widestMargin)
  );
}

/** What a window shows of later pieces, worked out when it is first asked for. */
interface View {
  /** Without pieces that the thread would show through. */
  readonly quiet: () => Region;
  readonly whole: () => Region;
  readonly isAllQuiet: boolean;
}

function viewOf(task: JoinTask, window: Box): View {
  const members = task.cover.members(task.firstLater, window);
  const quietOnes = members.filter((k) => !task.showsThrough(k));
  const quiet = once(() => task.cover.closedUnion(quietOnes, window));
  const isAllQuiet = quietOnes.length === members.length;
  return {
    quiet,
    isAllQuiet,
    whole: isAllQuiet ? quiet : once(() => task.cover.closedUnion(members, window)),
  };
}

/**
 * Whether both ends have points that far inside the cover. Whatever lies beyond the window changes nothing about
 * that: where it is not so, no way round leads through with that margin.
 */
function endsReach(task: JoinTask, { whole }: View, marginMm: number): boolean {
  const inside = insideBy(whole(), marginMm);
  return strictPortsWithin(task.from, inside).length > 0 && strictPortsWithin(task.to, inside).length > 0;
}

/**
 * A way shorter than one of length L lies in the ellipse round both ends whose long axis is L. Where that
 * reaches beyond the window, the offer is made again with all that the ellipse could hold.
 */
function shortest(task: JoinTask, offer: JoinOffer, window: Box): JoinOffer {
  const reach = offer.joins
    .map((join) => growBox(boxOf([join.exit, join.entry]), join.tuckedMm / 2))
    .reduce(joinBoxes);
  if (boxContains(window, reach)) return offer;
  return offerUnder(task, viewOf(task, joinBoxes(window, reach)), fullMargin) ?? offer;
}

type MarginSearch = (task: JoinTask, cover: Region) => readonly Passage[];

/** An offer with the margin that its ways keep, and whether the thread shows through what lies over it. */
interface TuckedOffer extends JoinOffer {
  readonly marginMm: number;
  readonly isShadowed: boolean;
}

/** Under what a window shows of later pieces, first without those that the thread would show through. */
function offerUnder(task: JoinTask, view: View, search: MarginSearch): TuckedOffer | null {
  const passages = search(task, view.quiet());
  if (passages.length > 0) return passageOffer(passages, null);
  if (view.isAllQuiet) return null;
  const shadowed = search(task, view.whole());
  return shadowed.length > 0 ? passageOffer(shadowed, view.quiet()) : null;
}

const fullMargin: MarginSearch = (task, cover) => passagesAt(task, cover, task.tuckMarginMm);

/** The widest margin below the tuck margin that lets any way through, by bisection. */
const widestMargin: MarginSearch = (task, cover) => {
  let best = passagesAt(task, cover, 0);
  if (best.length === 0) return best;
  let open = 0;
  let shut = task.tuckMarginMm;
  while (shut - open > MARGIN_STEP_MM) {
    const middle = (open + shut) / 2;
    const passages = passagesAt(task, cover, middle);
    if (passages.length > 0) [open, best] = [middle, passages];
    else shut = middle;
  }
  const inland = inlandOf(cover, open, task.tuckMarginMm);
  return best.map((passage) => ({ ...passage, inland }));
};

function passagesAt(task: JoinTask, cover: Region, marginMm: number): Passage[] {
  const passages: Passage[] = [];
  for (const part of insideBy(cover, marginMm)) {
    if (!boxesMeet(regionBox([part]), task.from.box) || !boxesMeet(regionBox([part]), task.to.box)) continue;
    const exits = strictPortsWithin(task.from, [part]);
    if (exits.length === 0) continue;
    const entries = strictPortsWithin(task.to, [part]);
    if (entries.length === 0) continue;
    passages.push({
      finder: once(() => buildPathFinder([part])),
      exits,
      entries,
      marginMm,
      inland: (way) => way,
    });
  }
  return passages;
}

function passageOffer(passages: readonly Passage[], quietCover: Region | null): TuckedOffer | null {
  const join = (passage: Passage, exit: Point, entry: Point): Join[] => {
    const path = wayThrough(passage, exit, entry);
    return path ? [tuckedJoin(passage.inland(path), passage.marginMm, quietCover)] : [];
  };
  const offered = passages.flatMap((passage) => {
    const entries = samplePorts(passage.entries, ENTRY_POINTS);
    const exits = spread(samplePorts(passage.exits, EXIT_POINTS), 2 * EXIT_POINTS);
    return exits.flatMap((exit) =>
      nearestFew(entries, exit, 2).flatMap((entry) => join(passage, exit, entry)),
    );
  });
  if (offered.length === 0) return null;
  return {
    joins: offered,
    marginMm: passages[0].marginMm,
    isShadowed: quietCover !== null,
    near: ({ exit, entry }, reach) =>
      passages.flatMap((passage) => {
        const exits = around(passage.exits, exit, (portLength(passage.exits) / EXIT_POINTS) * reach);
        const entries = around(passage.entries, entry, (portLength(passage.entries) / EXIT_POINTS) * reach);
        return exits.flatMap((from) => entries.flatMap((to) => join(passage, from, to)));
      }),
  };
}

/**
 * The shortest way from one point to another in a passage, cut where it leaves the one body and meets the
 * other, and with both ends pulled to the nearest point of their body, as long as that makes it shorter.
 */
function wayThrough(passage: Passage, exit: Point, entry: Point): Polyline | null {
  let best = trimmed(passage, exit, entry);
  for (let pull = 0; best && best.length > 1 && pull < PULLS; pull++) {
    const from = nearestOnPorts(passage.exits, best[1]) ?? best[0];
    const to = nearestOnPorts(passage.entries, best[best.length - 2]) ?? best[best.length - 1];
    const pulled = trimmed(passage, from, to);
    if (!pulled || polylineLength(pulled) > polylineLength(best) - PULL_GAIN_MM) break;
    best = pulled;
  }
  return best;
}

function trimmed({ finder, exits, entries }: Passage, exit: Point, entry: Point): Polyline | null {
  const path = finder().shortestPath(exit, entry);
  return path && trimEnd(trimEnd(path.points, entries).reverse(), exits).reverse();
}

function tuckedJoin(points: Polyline, marginMm: number, quietCover: Region | null): Join {
  const tuckedMm = polylineLength(points);
  const quietMm = quietCover
    ? clipLine(points, quietCover).reduce((sum, line) => sum + polylineLength(line), 0)
    : tuckedMm;
  return {
    kind: "tucked",
    exit: points[0],
    entry: points[points.length - 1],
    legs: [{ points, exposed: false }],
    tuckedMm,
    exposedMm: 0,
    marginMm,
    shadowMm: Math.max(0, tuckedMm - quietMm),
  };
}
