/**
 * Puts a routed sequence into needle order: tie in, sew piece and connector in turn, tie off, trim, change
 * colour, move on. Within a strand every step begins on the needle point where the one before it ended.
 */
import { append } from "../append.ts";
import { distance, lerp } from "../geometry/point.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import type { Leg } from "../routing/joins.ts";
import type { Connector, Routes } from "../routing/types.ts";
import type { Sequence } from "../sequence/types.ts";
import type { Settings } from "../settings.ts";
import { stitchAlong, withoutShort } from "../techniques/even-stitches.ts";
import { tieIn, tieOff } from "../techniques/ties.ts";
import type { Stitcher } from "../techniques/types.ts";
import type { ThreadLabel } from "../threads/types.ts";
import type { ColourChangeStep, SewingStep, SewnRole, SewnStep } from "./types.ts";

/** So many needle points at either end of a strand are enough to lay its ties on. */
const TIE_POINTS = 8;

interface Run {
  readonly role: SewnRole;
  readonly piece?: string;
  readonly connector?: string;
  readonly points: Polyline;
}

/** The whole design in needle order. */
export function sew(
  sequence: Sequence,
  stitchers: readonly Stitcher[],
  routes: Routes,
  connectors: readonly (Connector | null)[],
  settings: Settings,
  memory: Memory = NO_MEMORY,
): SewingStep[] {
  const steps: SewingStep[] = [];
  let strand = 0;
  let needle: Point | null = null;
  for (const [block, { colour, start, end }] of sequence.blocks.entries()) {
    for (let from = start; from < end; ) {
      let to = from + 1;
      while (to < end && routes.joins[to - 1]) to++;
      const runs = tied(
        worthSewing(
          sewStrand(sequence, stitchers, routes, connectors, settings, memory, from, to),
          settings.minStitchMm,
          memory,
        ),
        settings,
      );
      if (needle) {
        steps.push({ role: "trim" });
        if (from === start) steps.push(colourChange(colour, sequence.pieces[start].thread));
        steps.push({ role: "jump", points: flat([needle, runs[0].points[0]]) });
      }
      for (const run of runs) steps.push(stepOf(run, block, strand, settings.maxMoveMm, memory));
      needle = lastOf(lastOf(runs).points);
      strand++;
      from = to;
    }
  }
  return steps;
}

const colourChange = (colour: string, thread: ThreadLabel | undefined): ColourChangeStep => ({
  role: "colour-change",
  colour,
  ...(thread === undefined ? {} : { thread }),
});

/** Pieces `from` to `to` − 1 and the connectors between them, without ties. */
function sewStrand(
  sequence: Sequence,
  stitchers: readonly Stitcher[],
  routes: Routes,
  connectors: readonly (Connector | null)[],
  settings: Settings,
  memory: Memory,
  from: number,
  to: number,
): Run[] {
  const runs: Run[] = [];
  for (let k = from; k < to; k++) {
    const piece = sequence.pieces[k].id;
    const [entry, exit] = [routes.entries[k], routes.exits[k]];
    const parts = memory.recall(`stitch ${entry} ${exit}`, [stitchers[k]], () =>
      stitchers[k].stitch(entry, exit),
    );
    for (const { role, points } of parts) {
      if (points.length > 1) runs.push({ role, piece, points });
    }
    const connector = k + 1 < to ? connectors[k] : null;
    if (connector) {
      const { legs } = routes.joins[k]!;
      const points = memory.recall("needle points", [legs, settings], () => needlePoints(legs, settings));
      if (points.length > 1) runs.push({ role: "connector", connector: connector.id, points });
    }
  }
  return runs;
}

/**
 * The runs of a strand without stitches too short to be worth sewing. A needle point too near to the one before it
 * is left out; where an entry or exit would be, as in a hop over a hair's breadth, the run between the two is, and
 * its neighbour goes on to where it ended. A strand of nothing but one tiny stitch is left as it is.
 */
function worthSewing(runs: readonly Run[], minMm: number, memory: Memory): Run[] {
  const kept: Run[] = [];
  const isTiny = (points: Polyline): boolean =>
    points.length === 2 && distance(points[0], points[1]) < minMm - 1e-9;
  const between = (start: Point, points: Polyline, end: Point): Polyline =>
    withoutShort([start, ...points.slice(1, -1), end], minMm);
  for (const run of runs) {
    const points = memory.recall(`worth sewing ${minMm}`, [run.points], () => longEnough(run.points, minMm));
    const before = kept[kept.length - 1];
    if (before === undefined || !isTiny(points)) kept.push({ ...run, points });
    else {
      const goneOn = memory.recall(`gone on ${minMm}`, [before.points, points], () =>
        between(before.points[0], before.points, points[1]),
      );
      kept[kept.length - 1] = { ...before, points: goneOn };
    }
  }
  const [first, second, ...others] = kept;
  if (second === undefined || !isTiny(first.points)) return kept;
  const points = between(first.points[0], second.points, lastOf(second.points));
  return [{ ...second, points }, ...others];
}

/** The same points where none is too near to the one before it. */
function longEnough(points: Polyline, minMm: number): Polyline {
  const isShort = points.some((p, i) => i > 0 && distance(points[i - 1], p) < minMm - 1e-9);
  return isShort ? withoutShort(points, minMm) : points;
}

/** Tucked legs in even running stitches, a gap in one stitch where the machine reaches. */
function needlePoints(legs: readonly Leg[], settings: Settings): Point[] {
  const points: Point[] = [];
  for (const leg of legs) {
    const length = leg.exposed ? settings.maxMoveMm : settings.runLengthMm;
    const stitched = stitchAlong(leg.points, length, settings.minStitchMm);
    append(points, points.length > 0 ? stitched.slice(1) : stitched);
  }
  return points;
}

/** A strand with its ties, which lie on its own first and last stitches. */
function tied(runs: readonly Run[], settings: Settings): Run[] {
  const options = { count: settings.tieCount, lengthMm: settings.tieLengthMm };
  const first = pointsUntil(runs, TIE_POINTS, (run) => run.points);
  const last = pointsUntil([...runs].reverse(), TIE_POINTS, (run) => [...run.points].reverse()).reverse();
  return [
    {
      role: "tie-in",
      ...ownerOf(runs[0]),
      points: tieIn(first, options),
    },
    ...runs,
    {
      role: "tie-off",
      ...ownerOf(lastOf(runs)),
      points: tieOff(last, options),
    },
  ];
}

/** The first points of runs, as many as asked for or there are. */
function pointsUntil(runs: readonly Run[], count: number, pointsOf: (run: Run) => Polyline): Point[] {
  const points: Point[] = [];
  for (const run of runs) {
    points.push(...pointsOf(run).slice(0, count - points.length));
    if (points.length >= count) break;
  }
  return points;
}

const ownerOf = (run: Run): { piece?: string } => (run.piece === undefined ? {} : { piece: run.piece });

const stepOf = (run: Run, block: number, strand: number, maxMoveMm: number, memory: Memory): SewnStep => ({
  role: run.role,
  block,
  strand,
  ...ownerOf(run),
  ...(run.connector === undefined ? {} : { connector: run.connector }),
  points: flatPoints(run, maxMoveMm, memory),
});

/** Ties are made anew each time; everything else keeps its points. */
function flatPoints({ role, points }: Run, maxMoveMm: number, memory: Memory): Float64Array {
  const work = () => flat(withinReach(withoutRepeats(points), maxMoveMm));
  return role === "tie-in" || role === "tie-off"
    ? work()
    : memory.recall(`flat ${maxMoveMm}`, [points], work);
}

/** Needle points with stitches that reach too far split evenly: no machine movement may be longer along an axis. */
function withinReach(points: Polyline, maxMoveMm: number): Polyline {
  const split: Point[] = points.slice(0, 1);
  for (let i = 1; i < points.length; i++) {
    const [from, to] = [points[i - 1], points[i]];
    const reach = Math.max(Math.abs(to[0] - from[0]), Math.abs(to[1] - from[1]));
    const parts = Math.ceil(reach / maxMoveMm - 1e-9);
    for (let n = 1; n < parts; n++) split.push(lerp(from, to, n / parts));
    split.push(to);
  }
  return split;
}

const withoutRepeats = (points: Polyline): Polyline =>
  points.filter((p, i) => i === 0 || distance(p, points[i - 1]) > 1e-9);

function flat(points: Polyline): Float64Array {
  const coordinates = new Float64Array(points.length * 2);
  points.forEach(([x, y], i) => {
    coordinates[2 * i] = x;
    coordinates[2 * i + 1] = y;
  });
  return coordinates;
}

const lastOf = <T>(items: readonly T[]): T => items[items.length - 1];
