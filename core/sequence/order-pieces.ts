/**
 * Paint order is sewing order: what is painted later is sewn later and lies on top. On request the pieces are
 * regrouped first (`regroup.ts`), which never changes the order of two that overlap; a patch and a sheet of copies
 * have their order already. What else moves a piece is a strand group (elements that share `data-tuck-strand`): its
 * members are brought together where no piece that they would be moved past overlaps them, so that the picture stays
 * as drawn. One strand has one thread: of elements with a fill and a stroke, each colour is a strand.
 */
import type { Artwork, Piece } from "../artwork/types.ts";
import type { Finding } from "../findings.ts";
import { boxesMeet } from "../geometry/point.ts";
import { intersect, regionArea, regionBox } from "../geometry/region.ts";
import type { Point } from "../geometry/types.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import type { Settings } from "../settings.ts";
import { blocksOf } from "./blocks.ts";
import { formNetworks } from "./networks.ts";
import { countOf, weighOrders } from "./order-costs.ts";
import { orderIslands } from "./order-islands.ts";
import { type Regrouped, regroup } from "./regroup.ts";
import type { Sequence } from "./types.ts";

/** Overlaps smaller than this change no stitch: a square as wide as the thread is 0.16 mm². */
const OVERLAP_MM2 = 0.01;

/** Puts the pieces in needle order, without those that are skipped, and says where a group could not be kept. */
export function orderPieces(
  artwork: Artwork,
  settings: Settings,
  memory: Memory = NO_MEMORY,
): {
  sequence: Sequence;
  findings: Finding[];
} {
  const findings: Finding[] = [];
  const painted = sewnOf(artwork.pieces);
  const regrouped =
    settings.order === "regroup" && !artwork.inSewingOrder
      ? regroupArtwork(artwork, settings, memory, findings)
      : null;
  let pieces = regrouped?.pieces ?? painted;
  const groups = strandGroups(pieces);
  for (const group of groups) pieces = gather(pieces, group, findings);
  // The bound on strands is for thread that is hidden; with strands that may show, only that on blocks holds.
  const hidesAll = groups.length === 0 && settings.blend === "never";
  const bounds = regrouped && {
    blocks: regrouped.blocksLowerBound,
    strands: hidesAll ? regrouped.strandsLowerBound : regrouped.blocksLowerBound,
  };
  return { sequence: { pieces, blocks: blocksOf(pieces), ...(bounds ? { bounds } : {}) }, findings };
}

const sewnOf = (pieces: readonly Piece[]): readonly Piece[] =>
  pieces.filter(({ technique }) => technique !== "skip");

function regroupArtwork(
  { pieces, size }: Artwork,
  settings: Settings,
  memory: Memory,
  findings: Finding[],
): Regrouped {
  const { pieces: painted } = orderIslands({ pieces: sewnOf(pieces), blocks: [] }, settings, memory);
  const kept = (settings.keepLayers ?? "")
    .split(",")
    .map((name) => name.trim())
    .filter((name) => name !== "");
  const chains = kept.map((name) => painted.flatMap((piece, k) => (piece.groups?.includes(name) ? [k] : [])));
  for (const [n, name] of kept.entries())
    if (chains[n].length === 0) findings.push(noSuchLayer(name, painted));
  const middle: Point = [size.widthMm / 2, size.heightMm / 2];
  const from = settings.sewFrom === "centre" ? { from: middle } : {};
  const regrouped = regroup(painted, settings, { chains, ...from });
  return hasMoreStrands(regrouped.pieces, painted, settings) ? { ...regrouped, pieces: painted } : regrouped;
}

/** Lines that will be sewn as networks need no strands of their own, which the search for an order does not know. */
function hasMoreStrands(found: readonly Piece[], painted: readonly Piece[], settings: Settings): boolean {
  if (!painted.some(({ technique }) => technique === "run")) return false;
  const strandsOf = (pieces: readonly Piece[]): number => {
    const sewn = formNetworks({ pieces, blocks: blocksOf(pieces) }).pieces;
    return countOf(weighOrders(sewn, settings).costOf(sewn.map((_, k) => k))).strands;
  };
  return strandsOf(found) > strandsOf(painted);
}

function noSuchLayer(name: string, pieces: readonly Piece[]): Finding {
  const known = [...new Set(pieces.flatMap(({ groups }) => groups ?? []))];
  return {
    code: "no-such-layer",
    severity: "warning",
    message: `No layer “${name}” holds anything that is sewn, so there is no order to keep in it.`,
    remedy:
      known.length === 0
        ? "The drawing has no named layers; name one in the editor."
        : `The layers are ${known.join(", ")}.`,
  };
}

/** The names of strand groups, in the order in which they first appear. */
const strandGroups = (pieces: readonly Piece[]): string[] => [
  ...new Set(pieces.flatMap((piece) => piece.overrides.strand ?? [])),
];

function gather(order: readonly Piece[], group: string, findings: Finding[]): readonly Piece[] {
  const members = order.filter((piece) => piece.overrides.strand === group);
  const colours = [...new Set(members.map(({ colour }) => colour))];
  const first = members.filter(({ colour }) => colour === colours[0]);
  const stray = members.find(({ element }) => first.every((piece) => piece.element !== element));
  if (stray) {
    findings.push({
      code: "strand-of-two-colours",
      severity: "warning",
      piece: stray.id,
      message: `The strand “${group}” holds ${first[0].id} in ${first[0].colour} and ${stray.id} in ${stray.colour}; one strand has one thread.`,
      remedy: `Give both the same colour, or take ${stray.id} out of the strand.`,
    });
  }
  return colours.reduce(
    (gathered, colour) =>
      gatherAlike(
        gathered,
        members.filter((piece) => piece.colour === colour),
        group,
        findings,
      ),
    order,
  );
}

/** Brings members of one colour together. */
function gatherAlike(
  order: readonly Piece[],
  members: readonly Piece[],
  group: string,
  findings: Finding[],
): readonly Piece[] {
  let gathered = order;
  for (let m = 1; m < members.length; m++) {
    const next = bringTogether(gathered, members.slice(0, m), members[m]);
    if (next) gathered = next;
    else findings.push(apart(group, members[m - 1], members[m]));
  }
  return gathered;
}

const apart = (group: string, before: Piece, after: Piece): Finding => ({
  code: "strand-kept-apart",
  severity: "warning",
  piece: after.id,
  message: `${before.id} and ${after.id} share the strand “${group}”, but a piece of another colour between them overlaps both.`,
  remedy: `Move one of the two next to the other in the layer list, or take ${after.id} out of the strand.`,
});

/** Moves `member` back to the earlier ones or, failing that, them on to it; `null` where overlaps forbid both. */
function bringTogether(
  order: readonly Piece[],
  earlier: readonly Piece[],
  member: Piece,
): readonly Piece[] | null {
  const from = order.indexOf(earlier.at(-1)!);
  const to = order.indexOf(member);
  const between = order.slice(from + 1, to);
  const before = order.slice(0, from + 1);
  const after = order.slice(to + 1);
  if (!between.some((piece) => overlap(piece, member))) return [...before, member, ...between, ...after];
  // What lies between is sewn within the strand.
  if (between.every((piece) => piece.colour === member.colour)) return order;
  if (between.some((piece) => earlier.some((other) => overlap(piece, other)))) return null;
  const rest = before.filter((piece) => !earlier.includes(piece));
  const jumped = order.slice(order.indexOf(earlier[0]), from).filter((piece) => !earlier.includes(piece));
  if (jumped.some((piece) => earlier.some((other) => overlap(piece, other)))) return null;
  return [...rest, ...between, ...earlier, member, ...after];
}

/** Whether two pieces share area that would be seen: then their order shows. */
export const overlap = (a: Piece, b: Piece): boolean =>
  boxesMeet(regionBox(a.region), regionBox(b.region)) &&
  regionArea(intersect(a.region, b.region)) > OVERLAP_MM2;
