/**
 * What makes a patch of artwork, in the order of sewing:
 *
 * - *placement line*: a single line on the backing that shows where the patch's fabric goes; then the machine stops
 *   for a change of thread, and the fabric is laid on;
 * - *tack-down*: a line twice round, inside the placement line, that holds the fabric;
 * - *ground*: on request, fill under the artwork;
 * - the artwork;
 * - *edge*: a satin along the outline that hides both lines and the rims of ground and artwork.
 *
 * The order and the places are common practice, no source.
 */
import { untaken } from "../artwork/names.ts";
import type { Piece, PieceOverrides, Technique } from "../artwork/types.ts";
import { closeRing } from "../geometry/polyline.ts";
import { offset, subtract, thicken } from "../geometry/region.ts";
import { simplifyRing } from "../geometry/simplify.ts";
import type { Region, Ring } from "../geometry/types.ts";
import { lightness } from "../routing/shows-through.ts";
import type { Settings } from "../settings.ts";
import { mapToThreads } from "../threads/map-to-threads.ts";
import type { Thread, ThreadLabel } from "../threads/types.ts";

/** How far inside the placement line the tack-down runs. */
const TACK_INSIDE_MM = 0.8;
/** Twice round: a single line gives way when the fabric is pulled. */
const TACK_PASSES = 2;
/** Points that an offset leaves closer to the line than this say nothing. */
const SMOOTH_MM = 0.01;
/** Where artwork and edge share one colour, the placement line has this one, so that the machine stops after it. */
const GUIDE_COLOURS = ["#808080", "#303030"];

interface Dye {
  readonly colour: string;
  readonly thread?: ThreadLabel;
}

/** The artwork's pieces, in the order in which they are sewn, with those of the patch round them. */
export function framePieces(
  pieces: readonly Piece[],
  outline: Ring,
  settings: Settings,
  threads?: readonly Thread[],
): Piece[] {
  const { patchEdgeMm, threadWidthMm } = settings;
  const sewn = pieces.filter(({ technique }) => technique !== "skip");
  const area: Region = [{ outer: outline, holes: [] }];
  const edge = settings.patchEdgeColour === null ? darkest(sewn) : dyed(settings.patchEdgeColour, threads);
  const ground = settings.patchGround === null ? null : dyed(settings.patchGround, threads);
  const tack = ground ?? dyeOf(sewn[0]);
  const placement = placementDye(edge, tack, sewn, threads);

  const middle = ringsInside(area, patchEdgeMm / 2);
  const inner = ringsInside(area, patchEdgeMm / 2 + TACK_INSIDE_MM);
  const name = namer(pieces);
  const line = (id: string, ring: Ring, dye: Dye, passes: number): Piece => ({
    ...own(name(id), dye, "stroke", "run"),
    region: thicken([closeRing(ring)], threadWidthMm / 2),
    line: closeRing(ring),
    widthMm: threadWidthMm,
    passes,
  });
  return [
    ...middle.map((ring) => line("patch-placement", ring, placement, 1)),
    ...inner.map((ring) => line("patch-tack-down", ring, tack, TACK_PASSES)),
    ...(ground === null
      ? []
      : middle.map((ring) => ({
          ...own(name("patch-ground"), ground, "fill", "fill"),
          region: [{ outer: ring, holes: [] }],
        }))),
    ...pieces,
    ...middle.map((ring) => ({
      ...own(name("patch-edge"), edge, "stroke", "satin"),
      region: band(ring, area, patchEdgeMm),
      line: closeRing(ring),
      widthMm: patchEdgeMm,
    })),
  ];
}

/** A piece of the patch itself: its technique is fixed, and it is sewn even where all of it is hidden. */
const own = (
  id: string,
  dye: Dye,
  paint: Piece["paint"],
  technique: Technique,
): Omit<Piece, "region"> & { readonly overrides: PieceOverrides } => ({
  id,
  element: id,
  paint,
  colour: dye.colour,
  ...(dye.thread === undefined ? {} : { thread: dye.thread }),
  technique,
  overrides: { technique, strand: id },
});

/** Names that no piece has: as given, then with a number. */
function namer(pieces: readonly Piece[]): (name: string) => string {
  const taken = new Set(pieces.map(({ id }) => id));
  return (name) => untaken(name, taken);
}

const ringsInside = (area: Region, byMm: number): Ring[] =>
  offset(area, -byMm, "round").map(({ outer }) => simplifyRing(outer, SMOOTH_MM));

/** What lies within half the edge's width of its middle line. */
function band(middle: Ring, area: Region, widthMm: number): Region {
  const own = offset([{ outer: middle, holes: [] }], widthMm / 2, "round");
  return subtract(own, offset(area, -widthMm, "round"));
}

const dyeOf = ({ colour, thread }: Piece): Dye => (thread === undefined ? { colour } : { colour, thread });

const darkest = (pieces: readonly Piece[]): Dye =>
  dyeOf(pieces.reduce((a, b) => (lightness(b.colour) < lightness(a.colour) ? b : a)));

/** The colour, or that of the thread that is nearest to it. */
function dyed(asked: string, threads: readonly Thread[] | undefined): Dye {
  const colour = asked.toLowerCase();
  if (threads === undefined || threads.length === 0) return { colour };
  const [{ thread }] = mapToThreads([colour], threads);
  return { colour: thread.hex, thread: { name: thread.name, code: thread.code } };
}

/** The edge's thread, or any other that differs from the tack-down's: a machine stops only where the colour changes. */
function placementDye(
  edge: Dye,
  tack: Dye,
  sewn: readonly Piece[],
  threads: readonly Thread[] | undefined,
): Dye {
  const known = [edge, ...sewn.map(dyeOf)];
  const guides = GUIDE_COLOURS.map((colour) => dyed(colour, threads));
  const plain = GUIDE_COLOURS.map((colour) => ({ colour }));
  return [...known, ...guides, ...plain].find(({ colour }) => colour !== tack.colour) ?? edge;
}
