/**
 * Line work as networks: running stitches of one colour that touch, and that follow each other in the order with
 * nothing but running stitches between, become one piece, sewn out and back without a trim. Running stitches hide
 * nothing, so which of them comes first is not seen.
 *
 * Lines stay apart where the artist set them apart: by settings of their own, or by a strand's name. A piece can
 * have one entry and one exit; where pins ask for more than one of either in what would be one network, the
 * pinned lines are sewn for themselves.
 */
import type { Piece, Pin } from "../artwork/types.ts";
import { ringsOf, unionOfRings } from "../geometry/region.ts";
import type { Polyline } from "../geometry/types.ts";
import { touchingGroups } from "../techniques/network-graph.ts";
import { blocksOf } from "./blocks.ts";
import type { Bounds } from "./bounds.ts";
import type { Block, Sequence } from "./types.ts";

/** A piece that is sewn along its line. */
type LinePiece = Piece & { readonly line: Polyline };

/** The sequence with every network as one piece, in the place of its first member and called after it. */
export function formNetworks(sequence: Sequence, pins: readonly Pin[] = []): Sequence {
  const pieces = sequence.blocks.flatMap((block) =>
    stretchesOf(sequence.pieces, block).flatMap((stretch) =>
      stretch.length > 1 && stretch.every(isLine) ? inNetworks(stretch, pins) : stretch,
    ),
  );
  const joined = sequence.pieces.length - pieces.length;
  if (joined === 0) return sequence;
  const { bounds } = sequence;
  return {
    ...sequence,
    pieces,
    blocks: blocksOf(pieces),
    ...(bounds ? { bounds: boundsOfNetworks(bounds, joined) } : {}),
  };
}

/**
 * What is left of bounds that are for the lines one by one, where so many were joined to others. Taken apart again in
 * its place, a network of two, which touch, is at most two strands more, and each further line two.
 */
const boundsOfNetworks = ({ blocks, strands }: Bounds, joined: number): Bounds => ({
  blocks,
  strands: Math.max(blocks, strands - 2 * joined),
});

/** Pins of members as pins of their network. */
export function pinsOfNetworks(pins: readonly Pin[], { pieces }: Sequence): Pin[] {
  const networkOf = new Map(pieces.flatMap(({ id, members = [] }) => members.map((member) => [member, id])));
  return pins.map((pin) => ({ ...pin, piece: networkOf.get(pin.piece) ?? pin.piece }));
}

const isLine = (piece: Piece): piece is LinePiece =>
  piece.technique === "run" && piece.line !== undefined && piece.parts === undefined;

/** A block cut into pieces that follow each other: lines together, anything else by itself. */
function stretchesOf(pieces: readonly Piece[], { start, end }: Block): Piece[][] {
  const stretches: Piece[][] = [];
  for (const piece of pieces.slice(start, end)) {
    const last = stretches.at(-1);
    if (last && isLine(piece) && isLine(last[0])) last.push(piece);
    else stretches.push([piece]);
  }
  return stretches;
}

function inNetworks(lines: readonly LinePiece[], pins: readonly Pin[]): Piece[] {
  const alike = new Map<string, LinePiece[]>();
  for (const piece of lines) alike.set(kindOf(piece), [...(alike.get(kindOf(piece)) ?? []), piece]);
  const networks = [...alike.values()].flatMap((group) => networksAmong(group, pins));
  const placeOf = new Map(lines.map(({ id }, k) => [id, k]));
  return networks
    .sort(([a], [b]) => placeOf.get(a.id)! - placeOf.get(b.id)!)
    .map((members) => (members.length === 1 ? members[0] : networkOf(members)));
}

/** Lines of one kind may be sewn as one: the same settings, the same number of passes. */
const kindOf = ({ overrides, passes }: Piece): string =>
  JSON.stringify([passes, Object.entries(overrides).sort(([a], [b]) => (a < b ? -1 : 1))]);

/** Lines of one kind, in the groups in which they are sewn. */
function networksAmong(lines: readonly LinePiece[], pins: readonly Pin[]): LinePiece[][] {
  return touchingGroups(lines.map(({ line }) => line)).flatMap((group) => {
    const members = group.map((k) => lines[k]);
    const pinned = members.filter(({ id }) => pins.some(({ piece }) => piece === id));
    if (members.length === 1 || !contradict(pinned, pins)) return [members];
    const free = members.filter((piece) => !pinned.includes(piece));
    return [...pinned.map((piece) => [piece]), ...networksAmong(free, [])];
  });
}

/** Whether two of the pieces have their entry pinned, or two their exit. */
function contradict(pinned: readonly Piece[], pins: readonly Pin[]): boolean {
  const ids = new Set(pinned.map(({ id }) => id));
  return (["entry", "exit"] as const).some(
    (point) =>
      new Set(pins.filter((pin) => pin.point === point && ids.has(pin.piece)).map((pin) => pin.piece)).size >
      1,
  );
}

function networkOf(members: readonly LinePiece[]): Piece {
  const { line: _, ...first } = members[0];
  return {
    ...first,
    region: unionOfRings(members.flatMap(({ region }) => ringsOf(region))),
    lines: members.map(({ line }) => line),
    members: members.map(({ id }) => id),
  };
}
