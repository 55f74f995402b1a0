/**
 * Wishes about the order: the pieces of an element sewn right after another piece.
 *
 * They are carried out on an order that is already found, in paint order or regrouped: what is wished elsewhere is
 * taken out and put back right after the piece it names, what follows it with it; several that follow one piece
 * stand in document order. All other pieces keep their order.
 *
 * Paint order stays what is seen: of two pieces that overlap, the one painted first is sewn first
 * (`precedence.ts`). A wish against that is passed over; which ones go is settled so that as many stay as can.
 */
import type { OrderWish, Piece } from "../artwork/types.ts";
import type { Finding } from "../findings.ts";
import { hasBit } from "./bits.ts";
import type { Precedence } from "./precedence.ts";

/** Pieces by their numbers in paint order, which is also how `precedence` numbers them. */
export interface OrderedPieces {
  readonly painted: readonly Piece[];
  /** The order without wishes: every number once. */
  readonly base: readonly number[];
  readonly precedence: Precedence;
}

/** The start of sewing, as a place to follow. */
export const START = -1;

/** A wish in numbers. */
export interface Move {
  readonly wish: OrderWish;
  readonly pieces: readonly number[];
  /** A piece, or `START`. */
  readonly after: number;
}

/** The order with every wish that is possible, and findings about the others. */
export function sewAfter(
  ordered: OrderedPieces,
  wishes: readonly OrderWish[],
): { order: readonly number[]; kept: readonly Move[]; findings: readonly Finding[] } {
  if (wishes.length === 0) return { order: ordered.base, kept: [], findings: [] };
  const { moves, findings } = movesOf(ordered, wishes);
  let kept = moves;
  const dropped: Move[] = [];
  for (let fault = faultOf(arrange(ordered, kept), kept, ordered); fault; ) {
    const { move } = fault;
    dropped.push(move);
    kept = kept.filter((one) => one !== move);
    fault = faultOf(arrange(ordered, kept), kept, ordered);
  }
  // One that only stood with another that is gone may be possible by itself.
  for (const move of moves.filter((one) => dropped.includes(one))) {
    const tried = moves.filter((one) => kept.includes(one) || one === move);
    const fault = faultOf(arrange(ordered, tried), tried, ordered);
    if (fault === null) kept = tried;
    else findings.push(passedOver(move, fault, arrange(ordered, kept), ordered));
  }
  return { order: arrange(ordered, kept) as readonly number[], kept, findings };
}

/** Wishes in numbers; those that name no piece that is sewn are findings. A piece goes by the last wish about it. */
function movesOf(
  { painted }: OrderedPieces,
  wishes: readonly OrderWish[],
): { moves: readonly Move[]; findings: Finding[] } {
  const numberOf = new Map(painted.map(({ id }, k) => [id, k]));
  const wishOf = new Map<number, OrderWish>();
  for (const wish of wishes) {
    for (const id of wish.pieces) {
      const k = numberOf.get(id);
      if (k !== undefined) wishOf.set(k, wish);
    }
  }
  const findings: Finding[] = [];
  const moves = wishes.flatMap((wish): Move[] => {
    const after = wish.after === null ? START : numberOf.get(wish.after);
    const pieces = wish.pieces.flatMap((id) => {
      const k = numberOf.get(id);
      return k !== undefined && wishOf.get(k) === wish ? [k] : [];
    });
    if (after === undefined) findings.push(nothingThere(wish));
    return after === undefined || pieces.length === 0 ? [] : [{ wish, pieces, after }];
  });
  return { moves, findings };
}

/** The order that the moves lead to; without pieces that wait for one another in a circle. */
export function arrange({ base }: Pick<OrderedPieces, "base">, moves: readonly Move[]): readonly number[] {
  const moved = new Set(moves.flatMap(({ pieces }) => pieces));
  const place = new Map(base.map((k, at) => [k, at]));
  const followers = new Map<number, number[]>();
  for (const { pieces, after } of moves) {
    const inOrder = [...pieces].sort((a, b) => place.get(a)! - place.get(b)!);
    followers.set(after, [...(followers.get(after) ?? []), ...inOrder]);
  }
  const order: number[] = [];
  const stack = [...(followers.get(START) ?? []), ...base.filter((k) => !moved.has(k))].reverse();
  while (stack.length > 0) {
    const k = stack.pop()!;
    order.push(k);
    for (const follower of [...(followers.get(k) ?? [])].reverse()) stack.push(follower);
  }
  return order;
}

/** A pair that an order sews the wrong way round, or a circle, and the move that is to blame. */
interface Fault {
  readonly move: Move;
  /** `null` where pieces wait for one another. */
  readonly pair: readonly [before: number, after: number] | null;
}

function faultOf(order: readonly number[], moves: readonly Move[], { base, precedence }: OrderedPieces) {
  if (order.length < base.length) {
    const reached = new Set(order);
    const move = moves.findLast(({ pieces }) => pieces.some((k) => !reached.has(k)))!;
    return { move, pair: null };
  }
  const pair = wrongPairs(order, precedence)[0];
  if (pair === undefined) return null;
  const move = moves.findLast(({ pieces }) => pair.some((k) => pieces.includes(k)))!;
  return { move, pair } satisfies Fault;
}

/** The pairs [before, after] of overlapping pieces that an order sews the wrong way round. */
export function wrongPairs(
  order: readonly number[],
  { pairs }: Precedence,
): (readonly [before: number, after: number])[] {
  const place = new Map(order.map((k, at) => [k, at]));
  return pairs.filter(([a, b]) => place.get(a)! > place.get(b)!);
}

/**
 * Where pieces may be put, together, into an order of the others: right after place `earliest` at the soonest, right
 * before place `latest` at the latest.
 */
export function legalRange(
  order: readonly number[],
  pieces: readonly number[],
  { before }: Precedence,
): { earliest: number; latest: number } {
  let earliest = -1;
  let latest = order.length;
  for (const [at, k] of order.entries()) {
    if (pieces.some((one) => hasBit(before[one], k))) earliest = at;
    if (latest === order.length && pieces.some((one) => hasBit(before[k], one))) latest = at;
  }
  return { earliest, latest };
}

const nothingThere = (wish: OrderWish): Finding => ({
  code: "order-without-piece",
  severity: "info",
  piece: wish.element,
  message: `${wish.element} is to be sewn right after ${wish.after}, which is not sewn; it keeps its place.`,
  remedy: "Name a piece that is sewn, or take data-tuck-after away.",
});

function passedOver(
  { wish, pieces }: Move,
  { pair }: Fault,
  order: readonly number[],
  ordered: OrderedPieces,
): Finding {
  const where = wish.after === null ? "first of all" : `right after ${wish.after}`;
  const common = { severity: "warning" as const, piece: wish.element };
  if (pair === null)
    return {
      ...common,
      code: "order-circular",
      message: `${wish.element} can’t be sewn ${where}: that one is itself to be sewn after ${wish.element}.`,
      remedy: "Take data-tuck-after away from one of the two.",
    };
  const [before, after] = pair.map((k) => ordered.painted[k].id);
  return {
    ...common,
    code: "order-hides",
    message: `${wish.element} can’t be sewn ${where}: ${after} lies on ${before} and must be sewn later, or the picture changes. It keeps its place.`,
    remedy: legalInWords(wish.element, order, pieces, ordered),
  };
}

function legalInWords(
  element: string,
  order: readonly number[],
  pieces: readonly number[],
  { painted, precedence }: OrderedPieces,
): string {
  const rest = order.filter((k) => !pieces.includes(k));
  const { earliest, latest } = legalRange(rest, pieces, precedence);
  if (earliest >= latest)
    return `Other pieces lie between those of ${element}, which can’t be moved as one; take data-tuck-after away, or draw them as elements of their own.`;
  const limits = [
    ...(earliest >= 0 ? [`after ${painted[rest[earliest]].id}`] : []),
    ...(latest < rest.length ? [`before ${painted[rest[latest]].id}`] : []),
  ];
  const legal = limits.length === 0 ? "anywhere by itself" : limits.join(" and ");
  return `${element} may be sewn ${legal}; or change which of them is painted on top.`;
}
