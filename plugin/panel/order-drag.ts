/**
 * Moving rows of the order list by pointer. While rows are dragged, those between which they may be put down are
 * told from the others, and a line shows where they would go.
 */
import type { MoveVerdict } from "../../core/sequence/legal-moves.ts";

export interface DragState {
  readonly pieces: readonly string[];
  /** The piece they would follow; `null`: first of all. */
  readonly after: string | null;
  readonly isLegal: boolean;
  /** Rows of pieces that may be followed, and whether the start may. */
  readonly open: ReadonlySet<string | null>;
  readonly verdict: MoveVerdict | null;
}

/** Which pieces may be followed: from the last that must come before to just ahead of the first that must come after. */
export function openPlaces(
  order: readonly string[],
  pieces: readonly string[],
  { notBefore, notAfter }: Pick<MoveVerdict, "notBefore" | "notAfter">,
  membersOf: (piece: string) => readonly string[],
): Set<string | null> {
  const rest = order.filter((id) => !pieces.includes(id));
  const placeOf = (member: string | null): number =>
    member === null ? -1 : rest.findIndex((id) => membersOf(id).includes(member));
  const first = placeOf(notBefore);
  const before = placeOf(notAfter);
  const last = before < 0 ? rest.length - 1 : before - 1;
  const open = new Set<string | null>(rest.slice(Math.max(0, first), last + 1));
  if (first < 0) open.add(null);
  return open;
}

/** How near to the list's edge a drag scrolls it, and by how much at each move. */
const EDGE_PX = 28;
const SCROLL_PX = 12;

export function scrollAtEdge(list: HTMLElement, y: number): void {
  const { top, bottom } = list.getBoundingClientRect();
  if (y < top + EDGE_PX) list.scrollTop -= SCROLL_PX;
  else if (y > bottom - EDGE_PX) list.scrollTop += SCROLL_PX;
}
