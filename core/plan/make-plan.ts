/**
 * The whole job: SVG text in, plan out. Each stage is a pure function of what the one before it made.
 *
 *     read, thread, patch, copy ▸ Artwork ─ order ▸ Sequence ─ route ▸ Routes ─ stitch ▸ sewing steps ─ measure ▸ Plan
 */
import { requireSewnSize, requireStitches } from "../artwork/limits.ts";
import { readArtwork } from "../artwork/read.ts";
import { type Artwork, type Marks, NO_MARKS, type Pin } from "../artwork/types.ts";
import { parseXml } from "../artwork/xml.ts";
import type { Finding } from "../findings.ts";
import type { Point } from "../geometry/types.ts";
import { elementMarks } from "../layers/element-marks.ts";
import { readMarks } from "../layers/read-marks.ts";
import { settleBends, settlePins } from "../layers/settle-pins.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import { fitWidth, patchArtwork } from "../patch/patch.ts";
import { sheetArtwork } from "../patch/sheet.ts";
import { routeSequence } from "../routing/route.ts";
import { leaveAtSewnEdges } from "../routing/sewn-edges.ts";
import type { Routes } from "../routing/types.ts";
import { closeSeams } from "../sequence/close-seams.ts";
import { formNetworks, pinsOfNetworks } from "../sequence/networks.ts";
import { orderAsWished } from "../sequence/order-as-wished.ts";
import { takeAwayHidden } from "../sequence/take-away-hidden.ts";
import type { Sequence } from "../sequence/types.ts";
import type { Settings } from "../settings.ts";
import { settingsInDrawing } from "../settings-in-drawing.ts";
import { chosenDrawing, knownDrawing } from "../techniques/chosen-drawing.ts";
import { expectedStitches } from "../techniques/expected-stitches.ts";
import { anglesOf, withAngles, withRowsOver } from "../techniques/fill-angles.ts";
import { stitcherFor } from "../techniques/stitcher.ts";
import type { Stitcher } from "../techniques/types.ts";
import { threadArtwork } from "../threads/thread-artwork.ts";
import type { Thread } from "../threads/types.ts";
import { connectorsOf } from "./connectors.ts";
import { measurePlan } from "./metrics.ts";
import { planFindings } from "./plan-findings.ts";
import { sew } from "./sew.ts";
import { sizeFindings } from "./size-findings.ts";
import { stitchFindings } from "./stitch-findings.ts";
import { singleLines } from "./stitch-measures.ts";
import type { Plan, PlannedPiece } from "./types.ts";

/**
 * Plans a drawing.
 *
 * @param svgText the drawing; a planned file is planned again from its artwork and the artist's marks in it
 * @param name what to call it, usually the file's name
 * @param threads a list to choose threads from; without it the drawing's own colours are sewn
 * @throws ArtworkError where nothing can be planned
 */
export function makePlan(
  svgText: string,
  name: string,
  settings: Settings,
  threads?: readonly Thread[],
): Plan {
  const { artwork, marks, findings } = readDrawing(svgText, name, settings, threads);
  return planArtwork(artwork, marks, settings, findings);
}

/** What a plan is made from: the artwork with its threads, as a patch and in copies where asked for, and the artist's marks, in millimetres. */
export function readDrawing(
  svgText: string,
  name: string,
  settings: Settings,
  threads?: readonly Thread[],
): { artwork: Artwork; marks: Marks; findings: readonly Finding[] } {
  const root = parseXml(svgText);
  const wishes = (drawn: Artwork) => elementMarks(root, drawn).after;
  const sewnAt = (widthMm: number | null): Artwork => {
    const drawn = readArtwork(svgText, name, { ...settings, widthMm });
    const threaded = threadArtwork(drawn, { list: threads, maxThreads: settings.maxThreads });
    return patchArtwork(threaded, settings, wishes(drawn), threads);
  };
  const single = settings.patch === "none" ? sewnAt(settings.widthMm) : fitWidth(sewnAt, settings);
  const artwork = sheetArtwork(single, settings, wishes(single));
  const { marks, findings } = readMarks(root, artwork);
  return { artwork, marks, findings: [...settingsInDrawing(root).findings, ...findings] };
}

/**
 * Plans artwork that is already read and has its threads, with the artist's marks in millimetres. `found` are
 * findings to pass on.
 *
 * @throws ArtworkError where it is larger, or would take more stitches, than the limits allow
 */
export function planArtwork(
  artwork: Artwork,
  marks: Marks,
  settings: Settings,
  found: readonly Finding[] = [],
  memory: Memory = NO_MEMORY,
): Plan {
  requireSewnSize(artwork.pieces);
  const ordered = sequenceOf(artwork, settings, marks, memory);
  const { sequence } = ordered;
  requireStitches(expectedStitches(sequence.pieces, settings));
  const pins = pinsOfNetworks(marks.pins, sequence);
  const stitchers = stitchersOf(sequence, settings, memory);
  const settled = settlePins(pins, nearestLegal(sequence, stitchers), artwork.userToMm);
  const bends = settleBends(marks.bends, artwork.userToMm);
  const routed = routeSequence(sequence, stitchers, settled, settings, memory, bends);
  const { strandsLowerBound } = routed;
  const exitPins = new Set(settled.filter(({ point }) => point === "exit").map(({ piece }) => piece));
  const routes = leaveAtSewnEdges(routed.routes, sequence, stitchers, exitPins, memory);
  const connectors = connectorsOf(sequence, routes);
  const sewing = sew(sequence, stitchers, routes, connectors, settings, memory);
  return {
    source: artwork.source,
    settings,
    size: artwork.size,
    userToMm: artwork.userToMm,
    pieces: plannedPieces(sequence, routes, settled),
    connectors: connectors.filter((connector) => connector !== null),
    sewing,
    metrics: measurePlan(artwork, sequence, connectors, sewing, strandsLowerBound, settings),
    findings: [
      ...artwork.findings,
      ...found,
      ...ordered.findings,
      ...routed.findings,
      ...planFindings(sequence, routes, pins),
      ...stitchFindings(sequence, sewing, artwork.size, settings, memory),
      ...sizeFindings(sequence, sewing, artwork.size, settings),
    ],
    ...(artwork.drawnSize === undefined ? {} : { drawnSize: artwork.drawnSize }),
    ...(artwork.cutLine === undefined ? {} : { cutLine: artwork.cutLine }),
  };
}

/** A stitcher for each piece of a sequence. */
export const stitchersOf = ({ pieces }: Sequence, settings: Settings, memory: Memory): Stitcher[] =>
  pieces.map((piece) => memory.recall("stitcher", [piece, settings], () => stitcherFor(piece, settings)));

/** The pieces as they are sewn, in needle order: seams closed, without what nobody will see, line work in networks, rows at angles. */
export function sequenceOf(
  artwork: Artwork,
  settings: Settings,
  marks: Marks = NO_MARKS,
  memory: Memory = NO_MEMORY,
): { sequence: Sequence; findings: readonly Finding[] } {
  const { pins, after } = marks;
  const drawn = knownDrawing(artwork, memory);
  const seen = memory.recall(`seen ${JSON.stringify(after)}`, [drawn, settings], () => {
    const chosen = chosenDrawing(artwork, settings, memory);
    const inOrder = (under: Settings) => {
      const ordered = orderAsWished(chosen, under, after, memory);
      const { sequence, findings } = takeAwayHidden(closeSeams(ordered.sequence, memory), under, memory);
      return { sequence, findings: [...chosen.findings, ...ordered.findings, ...findings] };
    };
    const found = inOrder(settings);
    // What is taken away where it is hidden differs a little from order to order: rows must not turn or shift by that.
    const painted = settings.order === "paint" ? found : inOrder({ ...settings, order: "paint" });
    return { ...found, painted: painted.sequence.pieces, ids: chosen.pieces.map(({ id }) => id) };
  });
  // Pins part networks, which are of lines; on any other piece they change nothing here.
  const lines = singleLines(seen.sequence.pieces);
  const parting = pins.filter(({ piece }) => lines.has(piece)).map(({ piece, point }) => `${piece} ${point}`);
  const sequence = memory.recall(`sequence ${parting.sort()}`, [seen], () => {
    const whole = formNetworks(seen.sequence, pins);
    const laid = settings.order === "paint" ? whole.pieces : withRowsOver(whole.pieces, seen.painted);
    const pieces = settings.fillAngleDeg === null ? withAngles(laid, anglesOf(seen.painted, seen.ids)) : laid;
    return { ...whole, pieces: memory.known("sewn", pieces) };
  });
  return { sequence, findings: seen.findings };
}

/** The point nearest to a pin at which its piece can be entered or left; the pin's own place where there is no such piece. */
function nearestLegal(sequence: Sequence, stitchers: readonly Stitcher[]): (pin: Pin) => Point {
  const stitcherOf = new Map(sequence.pieces.map(({ id }, k) => [id, stitchers[k]]));
  return ({ piece, at }) => stitcherOf.get(piece)?.snap(at) ?? at;
}

function plannedPieces(sequence: Sequence, routes: Routes, pins: readonly Pin[]): PlannedPiece[] {
  const pinOf = new Map(pins.map((pin) => [`${pin.point} ${pin.piece}`, pin]));
  return sequence.pieces.map((piece, k) => {
    const [entryPin, exitPin] = [pinOf.get(`entry ${piece.id}`), pinOf.get(`exit ${piece.id}`)];
    return {
      id: piece.id,
      ...(piece.members === undefined ? {} : { members: piece.members }),
      element: piece.element,
      paint: piece.paint,
      technique: piece.technique as PlannedPiece["technique"],
      colour: piece.colour,
      ...(piece.thread === undefined ? {} : { thread: piece.thread }),
      order: k + 1,
      entry: routes.entries[k],
      exit: routes.exits[k],
      entryPinned: entryPin !== undefined,
      exitPinned: exitPin !== undefined,
      ...(entryPin === undefined ? {} : { entryPin }),
      ...(exitPin === undefined ? {} : { exitPin }),
    };
  });
}
