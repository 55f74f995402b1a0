/**
 * Where pieces may be moved to in the sewing order, for those who drag them: cheap enough to ask at every step of
 * a drag, since all that takes time is worked out once.
 *
 * What is moved are elements: all pieces of a shape, or of a `use`, since that is what carries the wish
 * (`data-tuck-after`). A verdict comes with the changes to such wishes that lead to just that order: every element
 * that stands elsewhere than without wishes names the piece before it, and one that is back in its place none.
 */
import type { Artwork, OrderWish, Piece } from "../artwork/types.ts";
import { type Memory, NO_MEMORY } from "../memory.ts";
import type { Settings } from "../settings.ts";
import { chosenDrawing } from "../techniques/chosen-drawing.ts";
import { orderedPieces } from "./order-as-wished.ts";
import {
  arrange,
  legalRange,
  type Move,
  type OrderedPieces,
  START,
  sewAfter,
  wrongPairs,
} from "./sew-after.ts";

/** Judges moves in the sewing order while they are made. */
export interface LegalMoves {
  /** Ids of all pieces in sewing order, lines that are sewn as networks one by one. */
  readonly order: readonly string[];
  /** What comes of sewing these pieces, and all others of their elements, right after a piece (`null`: first of all). */
  judge(pieces: readonly string[], after: string | null): MoveVerdict;
}

/** Whether a move in the order is legal, and what stands against it. */
export interface MoveVerdict {
  readonly isLegal: boolean;
  /** All that moves, in the order in which it is sewn. */
  readonly pieces: readonly string[];
  /** Overlapping pairs that it would sew the wrong way round. */
  readonly wrong: readonly { readonly before: string; readonly after: string }[];
  /** The pieces that stay must be sewn after the one and before the other; `null` where nothing sets a limit. */
  readonly notBefore: string | null;
  readonly notAfter: string | null;
  /**
   * The legal place nearest to the one asked for: right after this piece, `null` first of all. No place at all where
   * others must be sewn between the pieces of the element.
   */
  readonly nearest: { readonly after: string | null } | null;
  /** The whole order and all wishes as they are then; of an illegal move, as they are now. */
  readonly order: readonly string[];
  readonly wishes: readonly OrderWish[];
  /** What changes on elements to make it so. */
  readonly edits: readonly WishEdit[];
}

/** An element's wish set, or, by `null`, taken away. */
export interface WishEdit {
  readonly element: string;
  readonly name: "data-tuck-after";
  readonly value: string | null;
}

/**
 * Prepares to judge moves in the order that `planArtwork` sews. Of a patch or a sheet give the artwork without
 * them, as read with `patch: "none"` and `sheetOf: null`: their order is that of the artwork.
 */
export function legalMoves(
  artwork: Artwork,
  wishes: readonly OrderWish[],
  settings: Settings,
  memory: Memory = NO_MEMORY,
): LegalMoves {
  const ordered = orderedPieces(chosenDrawing(artwork, settings, memory), settings, memory);
  const { order, kept } = sewAfter(ordered, wishes);
  const names = (numbers: readonly number[]) => numbers.map((k) => ordered.painted[k].id);
  const numberOf = new Map(ordered.painted.map(({ id }, k) => [id, k]));
  return {
    order: names(order),
    judge(pieces, after) {
      const asked = new Set(pieces.map((id) => numberOf.get(id)).filter((k) => k !== undefined));
      const elements = new Set([...asked].map((k) => elementOf(ordered.painted[k])));
      const moved = order.filter((k) => elements.has(elementOf(ordered.painted[k])));
      const rest = order.filter((k) => !moved.includes(k));
      const at = placeAfter(after === null ? START : numberOf.get(after), order, rest);
      const { earliest, latest } = legalRange(rest, moved, ordered.precedence);
      const wanted = [...rest.slice(0, at), ...moved, ...rest.slice(at)];
      const wrong = wrongPairs(wanted, ordered.precedence);
      const near = Math.min(Math.max(at, earliest + 1), latest);
      const then = wrong.length === 0 ? wishesFor(wanted, elements, ordered, kept, wishes) : wishes;
      return {
        isLegal: wrong.length === 0,
        pieces: names(moved),
        wrong: wrong.map(([a, b]) => ({ before: ordered.painted[a].id, after: ordered.painted[b].id })),
        notBefore: earliest < 0 ? null : ordered.painted[rest[earliest]].id,
        notAfter: latest === rest.length ? null : ordered.painted[rest[latest]].id,
        nearest: earliest < latest ? { after: near === 0 ? null : ordered.painted[rest[near - 1]].id } : null,
        order: names(wrong.length === 0 ? wanted : order),
        wishes: then,
        edits: editsBetween(wishes, then),
      };
    },
  };
}

/** The element whose wish moves a piece: its own, or the `use` that draws it. */
const elementOf = ({ id, element }: Piece): string =>
  id === element || id.startsWith(`${element}.`) || !id.includes("/")
    ? element
    : id.slice(0, id.indexOf("/"));

/** The place right after a piece among the others; of one that moves itself, right after the last one before it that stays. */
function placeAfter(after: number | undefined, order: readonly number[], rest: readonly number[]): number {
  if (after === START) return 0;
  const upTo = after === undefined ? order : order.slice(0, order.indexOf(after) + 1);
  const last = upTo.findLast((k) => rest.includes(k));
  return last === undefined ? 0 : rest.indexOf(last) + 1;
}

/** As few wishes as lead to an order that differs from the present one by where these elements stand. */
function wishesFor(
  wanted: readonly number[],
  elements: ReadonlySet<string>,
  ordered: OrderedPieces,
  kept: readonly Move[],
  wishes: readonly OrderWish[],
): readonly OrderWish[] {
  const { painted } = ordered;
  const place = new Map(wanted.map((k, at) => [k, at]));
  const moves = [
    ...kept.map(({ wish, pieces }) => ({ wish, pieces })),
    ...newUnits(elements, painted),
  ].flatMap(({ wish, pieces }, n, units): Move[] => {
    const later = units.slice(n + 1);
    const own = pieces.filter((k) => !later.some((unit) => unit.pieces.includes(k)));
    if (own.length === 0) return [];
    const first = Math.min(...own.map((k) => place.get(k)!));
    const after = first === 0 ? START : wanted[first - 1];
    return [{ pieces: own, after, wish: { ...wish, after: after === START ? null : painted[after].id } }];
  });
  const leads = (some: readonly Move[]) => isSame(arrange(ordered, some), wanted);
  const needed = moves.reduce<readonly Move[]>((left, move) => {
    const without = left.filter((one) => one !== move);
    return leads(without) ? without : left;
  }, moves);
  const asked = new Map(needed.map(({ wish }) => [wish.element, wish]));
  const idle = wishes.filter((wish) => !kept.some((move) => move.wish === wish) && !asked.has(wish.element));
  const all = [...idle, ...asked.values()];
  return isSame(sewAfter(ordered, all).order, wanted) ? all : [...asked.values()];
}

/** Elements with all their pieces, as units that can be moved. */
const newUnits = (elements: ReadonlySet<string>, painted: readonly Piece[]) =>
  [...elements].map((element) => {
    const pieces = painted.flatMap((piece, k) => (elementOf(piece) === element ? [k] : []));
    return { pieces, wish: { element, pieces: pieces.map((k) => painted[k].id), after: null } };
  });

function editsBetween(before: readonly OrderWish[], then: readonly OrderWish[]): WishEdit[] {
  const targets = (wishes: readonly OrderWish[]) =>
    new Map(wishes.map(({ element, after }) => [element, after ?? "-"]));
  const [old, now] = [targets(before), targets(then)];
  return [...new Set([...old.keys(), ...now.keys()])]
    .filter((element) => old.get(element) !== now.get(element))
    .map((element) => ({ element, name: "data-tuck-after", value: now.get(element) ?? null }));
}

const isSame = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((k, n) => k === b[n]);
