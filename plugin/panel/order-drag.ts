/**
 * Moving rows of the order list by pointer. While rows are dragged, those between which they may be put down are
 * told from the others, and a line shows where they would go.
 */
import type { MoveVerdict } from "../../core/sequence/legal-moves.ts";
import type { PanelSession } from "./state.ts";

export interface DragState {
  readonly pieces: readonly string[];
  /** The piece they would follow; `null`: first of all. */
  readonly after: string | null;
  readonly isLegal: boolean;
  /** Rows of pieces that may be followed, and whether the start may. */
  readonly open: ReadonlySet<string | null>;
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

interface List extends HTMLElement {
  readonly session: PanelSession;
  readonly renderRoot: ParentNode;
  requestUpdate(): void;
}

/** The piece that a row stands for. */
const pieceOf = ({ dataset }: HTMLElement): string => dataset.key?.slice("piece ".length) ?? "";

/** The drag of an order list; the list shows its state. */
export class RowDrag {
  /** `null` while nothing is dragged. */
  state: DragState | null = null;
  readonly #list: List;

  constructor(list: List) {
    this.#list = list;
  }

  /** From a grip: the chosen pieces, if its own is one of them, else its own alone. */
  async start(event: PointerEvent, id: string): Promise<void> {
    const { session } = this.#list;
    const { plan, selected } = session.state;
    if (plan === null || event.button !== 0) return;
    event.preventDefault();
    const order = plan.pieces.map((piece) => piece.id);
    const pieces = selected.includes(id) ? order.filter((one) => selected.includes(one)) : [id];
    const at = order.indexOf(pieces[0]);
    const after = at === 0 ? null : order[at - 1];
    this.#show({ pieces, after, isLegal: true, open: new Set([null, ...order]) });
    this.#follow(event, (isDropped) => {
      const { state } = this;
      this.#show(null);
      if (isDropped && state !== null && state.after !== after) session.move(state.pieces, state.after);
    });
    const verdict = await session.judgeMove(pieces, after);
    if (verdict === null || this.state === null) return;
    const membersOf = (one: string) => plan.pieces.find((piece) => piece.id === one)?.members ?? [one];
    const open = openPlaces(order, pieces, verdict, membersOf);
    this.#show({ ...this.state, open, isLegal: open.has(this.state.after) });
  }

  /** Follows the pointer until it is let go, or Escape gives up. */
  #follow({ currentTarget, pointerId }: PointerEvent, ended: (isDropped: boolean) => void): void {
    const grip = currentTarget as HTMLElement;
    const listening = new AbortController();
    const { signal } = listening;
    const end = (isDropped: boolean): void => {
      listening.abort();
      ended(isDropped);
    };
    grip.setPointerCapture(pointerId);
    grip.addEventListener("pointermove", ({ clientY }) => this.#to(clientY), { signal });
    grip.addEventListener("pointerup", () => end(true), { signal });
    grip.addEventListener("pointercancel", () => end(false), { signal });
    const giveUp = ({ key }: KeyboardEvent): void => {
      if (key === "Escape") end(false);
    };
    document.addEventListener("keydown", giveUp, { signal, capture: true });
  }

  #to(y: number): void {
    const { state } = this;
    if (state === null) return;
    this.#scrollAtEdge(y);
    const rows = [...this.#list.renderRoot.querySelectorAll<HTMLElement>("li.piece")];
    const above = rows.findLast((row) => {
      const { top, height } = row.getBoundingClientRect();
      return top + height / 2 < y && !state.pieces.includes(pieceOf(row));
    });
    const after = above === undefined ? null : pieceOf(above);
    if (after !== state.after) this.#show({ ...state, after, isLegal: state.open.has(after) });
  }

  #scrollAtEdge(y: number): void {
    const { top, bottom } = this.#list.getBoundingClientRect();
    if (y < top + EDGE_PX) this.#list.scrollTop -= SCROLL_PX;
    else if (y > bottom - EDGE_PX) this.#list.scrollTop += SCROLL_PX;
  }

  #show(state: DragState | null): void {
    this.state = state;
    this.#list.requestUpdate();
  }
}
