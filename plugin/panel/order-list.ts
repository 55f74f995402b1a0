/**
 * The sewing order as a tree of blocks, strands and pieces. Arrow keys go about in it, Space and Enter choose, with
 * Shift or Control several; Alt with an arrow key moves what is chosen, as dragging does.
 */
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from "lit";
import { repeat } from "lit/directives/repeat.js";
import type { Plan } from "../../core/plan/types.ts";
import type { Unsubscribe } from "../editor-host.ts";
import { texts } from "../texts.ts";
import { RowDrag } from "./order-drag.ts";
import { type OrderRow, orderRows, rowKeyOf } from "./order-rows.ts";
import { orderStyles } from "./order-styles.ts";
import { type ListedBlock, listOrder } from "./sewing-order.ts";
import type { PanelSession } from "./state.ts";
import { base } from "./styles.ts";
import { Watch } from "./watch.ts";

export class OrderList extends LitElement {
  static override styles = [base, orderStyles];
  static override properties = {
    session: { attribute: false },
    collapsed: { state: true },
    current: { state: true },
  };
  declare session: PanelSession;
  declare collapsed: ReadonlySet<string>;
  /** Key of the row that the keyboard is on. */
  declare current: string | null;
  #listed: { plan: Plan; blocks: readonly ListedBlock[] } | null = null;
  #rows: readonly OrderRow[] = [];
  #isPointing = false;
  /** What is being selected is selected by its own row. */
  #isChoosing = false;
  #stop: Unsubscribe | null = null;
  readonly #drag = new RowDrag(this);

  constructor() {
    super();
    this.collapsed = new Set();
    this.current = null;
    new Watch(this, ["plan", "selected"]);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#stop = this.session.subscribe((state, before) => {
      if (state.pointed !== before.pointed) this.#showPointed();
      if (!isSameList(state.selected, before.selected)) this.#followSelection(state.selected);
    });
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#stop?.();
  }

  /** In a task of its own: of a long list it takes a while, and the canvas shows the new plan first. */
  protected override async scheduleUpdate(): Promise<void> {
    await new Promise((resolve) => setTimeout(resolve));
    super.scheduleUpdate();
  }

  override render() {
    const { plan, selected } = this.session.state;
    if (plan === null) return nothing;
    if (this.#listed?.plan !== plan) this.#listed = { plan, blocks: listOrder(plan) };
    this.#rows = orderRows(this.#listed.blocks, this.collapsed);
    const chosen = new Set(selected);
    const current = this.#rows.find(({ key }) => key === this.current) ?? this.#rows[0];
    const drag = this.#drag.state;
    return html`<ul
      role="tree"
      aria-label=${texts.order.list}
      aria-multiselectable="true"
      class=${drag === null ? "" : "dragging"}
      @keydown=${this.#onKey}
      @pointerleave=${() => this.#point(null)}
    >
      ${
        drag === null || drag.after !== null
          ? nothing
          : html`<li role="presentation" class="line ${drag.isLegal ? "" : "closed"}"></li>`
      }
      ${repeat(
        this.#rows,
        ({ key }) => key,
        (row) => this.#row(row, row === current, chosen),
      )}
    </ul>`;
  }

  protected override firstUpdated(): void {
    const [first] = this.session.state.selected;
    if (first !== undefined) this.#reveal(first);
  }

  protected override updated(_changed: PropertyValues): void {
    this.#showPointed();
  }

  #row(row: OrderRow, isCurrent: boolean, chosen: ReadonlySet<string>): TemplateResult {
    const isChosen = row.kind === "piece" && chosen.has(row.piece.id);
    const drag = this.#drag.state;
    const isClosed = drag !== null && row.kind === "piece" && !drag.open.has(row.piece.id);
    const isTarget = drag?.after !== null && row.kind === "piece" && row.piece.id === drag?.after;
    return html`<li
      role="treeitem"
      data-key=${row.key}
      class="${row.kind} ${isClosed ? "closed" : ""} ${isTarget ? (drag?.isLegal ? "before-line" : "before-line closed-line") : ""}"
      tabindex=${isCurrent ? 0 : -1}
      aria-level=${row.level}
      aria-posinset=${row.position}
      aria-setsize=${row.count}
      aria-selected=${row.kind === "piece" ? String(isChosen) : nothing}
      aria-expanded=${row.kind === "piece" ? nothing : String(!this.collapsed.has(row.key))}
      aria-label=${this.#label(row)}
      @click=${(event: MouseEvent) => this.#onClick(event, row)}
      @focus=${() => this.#point(row)}
      @pointerenter=${() => this.#point(row)}
    >
      ${this.#content(row)}
    </li>`;
  }

  #label(row: OrderRow): string {
    if (row.kind === "block") return texts.order.block(row.block);
    if (row.kind === "strand") return texts.order.strand(row.strand);
    return texts.order.piece(row.piece);
  }

  #content(row: OrderRow): TemplateResult {
    if (row.kind === "block") {
      const { colour, thread, index, strands } = row.block;
      return html`${this.#twist(row)}<span class="swatch" style="background:${colour}"></span>
        <span class="name">${texts.order.blockName(index, colour, thread)}</span>
        <span class="note">${texts.order.strandCount(strands.length)}</span>`;
    }
    if (row.kind === "strand") {
      const { index, pieces, stop } = row.strand;
      return html`${this.#twist(row)}<span class="name">${texts.order.strandName(index)}</span>
        <span class="note">${texts.order.pieceCount(pieces.length)}</span>
        ${
          stop === undefined
            ? nothing
            : html`<span class="stop" title=${stop.reason ?? ""}>${texts.order.trimAfter}</span>`
        }`;
    }
    const { piece } = row;
    const pins = texts.order.pins(piece);
    return html`<span class="number figures">${piece.order}</span>
      <span class="swatch" style="background:${row.colour}"></span>
      <span class="name">${piece.id}</span>
      ${pins === "" ? nothing : html`<span class="pin">${pins}</span>`}
      <span class="note">${texts.techniques[piece.technique]}</span>
      <span
        class="grip"
        title=${texts.order.grip}
        @pointerdown=${(event: PointerEvent) => void this.#drag.start(event, piece.id)}
        >⠿</span
      >`;
  }

  #twist(row: OrderRow): TemplateResult {
    const toggle = (event: Event): void => {
      event.stopPropagation();
      this.#setCollapsed(row.key, !this.collapsed.has(row.key));
    };
    return html`<span class="twist" aria-hidden="true" @click=${toggle}
      >${this.collapsed.has(row.key) ? "▸" : "▾"}</span
    >`;
  }

  // Pointing

  #point(row: OrderRow | null): void {
    if (this.#drag.state !== null) return;
    this.#isPointing = true;
    this.session.point(row?.target ?? null);
    this.#isPointing = false;
  }

  #showPointed(): void {
    const { pointed, plan } = this.session.state;
    const key = rowKeyOf(pointed, plan?.connectors ?? []);
    const before = this.renderRoot.querySelector("[data-pointed]");
    if (before?.getAttribute("data-key") === key) return;
    before?.removeAttribute("data-pointed");
    const row = this.#element(key);
    row?.setAttribute("data-pointed", "");
    if (!this.#isPointing) row?.scrollIntoView({ block: "nearest" });
  }

  /** Goes to what was selected elsewhere; what was chosen by its own row leaves the keyboard on that row. */
  #followSelection([first]: readonly string[]): void {
    if (first !== undefined && !this.#isChoosing) this.#reveal(first);
  }

  /** Brings a piece's row into view, unfolding what it lies in. */
  #reveal(piece: string): void {
    const key = `piece ${piece}`;
    this.current = key;
    const around = orderRows(this.#listed?.blocks ?? [], new Set())
      .filter((row) => row.kind !== "piece" && piecesOf(row).includes(piece))
      .map((row) => row.key);
    if (around.some((one) => this.collapsed.has(one)))
      this.collapsed = new Set([...this.collapsed].filter((one) => !around.includes(one)));
    void this.updateComplete.then(() => this.#element(key)?.scrollIntoView({ block: "nearest" }));
  }

  #element(key: string | null): HTMLElement | undefined {
    const rows = [...this.renderRoot.querySelectorAll<HTMLElement>("[data-key]")];
    return rows.find(({ dataset }) => dataset.key === key);
  }

  // Choosing

  #onClick(event: MouseEvent, row: OrderRow): void {
    this.current = row.key;
    if (row.kind === "piece" && (event.ctrlKey || event.metaKey)) this.#toggle(row.piece.id);
    else if (row.kind === "piece" && event.shiftKey) this.#extendTo(row.piece.id);
    else this.#chooseRow(row);
  }

  #chooseRow(row: OrderRow): void {
    this.#isChoosing = true;
    this.session.choose(row.target);
    this.#isChoosing = false;
  }

  #select(pieces: readonly string[]): void {
    this.#isChoosing = true;
    this.session.selectPieces(pieces);
    this.#isChoosing = false;
  }

  #toggle(id: string): void {
    const { selected } = this.session.state;
    this.#select(selected.includes(id) ? selected.filter((one) => one !== id) : [...selected, id]);
  }

  #extendTo(id: string): void {
    const { plan, selected } = this.session.state;
    const order = plan?.pieces.map((piece) => piece.id) ?? [];
    const from = order.indexOf(selected[0] ?? id);
    const to = order.indexOf(id);
    const range = from <= to ? order.slice(from, to + 1) : order.slice(to, from + 1).reverse();
    this.#select(range);
  }

  // Keys

  readonly #onKey = (event: KeyboardEvent): void => {
    const at = this.#rows.findIndex(({ key }) => key === this.current);
    const row = this.#rows[Math.max(0, at)];
    if (row === undefined) return;
    const done =
      this.#move(event, row) || this.#walk(event, Math.max(0, at), row) || this.#choose(event, row);
    if (done) event.preventDefault();
  };

  #move({ key, altKey }: KeyboardEvent, row: OrderRow): boolean {
    if (!altKey || (key !== "ArrowUp" && key !== "ArrowDown")) return false;
    const { plan, selected } = this.session.state;
    const pieces = this.#moving(row);
    if (plan === null || pieces.length === 0) return true;
    const rest = plan.pieces.map(({ id }) => id).filter((id) => !pieces.includes(id));
    const first = plan.pieces.findIndex(({ id }) => pieces.includes(id));
    const step = key === "ArrowUp" ? -1 : 1;
    const at = first + step * this.#sizeOfNext(row, step);
    if (at < 0 || at > rest.length) return true;
    if (selected.length === 0) this.#select(pieces);
    this.session.move(pieces, at === 0 ? null : rest[at - 1]);
    return true;
  }

  /** How many pieces lie in what a row is moved past: the next of its kind. */
  #sizeOfNext(row: OrderRow, step: -1 | 1): number {
    const blocks = this.#listed?.blocks ?? [];
    if (row.kind === "piece") return 1;
    const strands = blocks.flatMap((block) => block.strands);
    const passed =
      row.kind === "block"
        ? blocks[blocks.indexOf(row.block) + step]?.strands
        : strands.slice(strands.indexOf(row.strand) + step).slice(0, 1);
    return passed?.reduce((sum, { pieces }) => sum + pieces.length, 0) || 1;
  }

  /** The chosen pieces if the row is one of them, else its own; in needle order. */
  #moving(row: OrderRow): readonly string[] {
    const { plan, selected } = this.session.state;
    if (row.kind !== "piece" || !selected.includes(row.piece.id)) return piecesOf(row);
    return plan?.pieces.map(({ id }) => id).filter((id) => selected.includes(id)) ?? [];
  }

  #walk({ key, altKey, shiftKey }: KeyboardEvent, at: number, row: OrderRow): boolean {
    if (altKey) return false;
    const last = this.#rows.length - 1;
    const parentAt = this.#rows.findLastIndex(({ level }, k) => k < at && level < row.level);
    const isOpen = row.kind !== "piece" && !this.collapsed.has(row.key);
    if (key === "ArrowRight" && row.kind !== "piece" && !isOpen) this.#setCollapsed(row.key, false);
    else if (key === "ArrowLeft" && isOpen) this.#setCollapsed(row.key, true);
    else {
      const to = {
        ArrowDown: at + 1,
        ArrowUp: at - 1,
        Home: 0,
        End: last,
        ArrowRight: at + 1,
        ArrowLeft: parentAt,
      }[key];
      if (to === undefined) return false;
      const next = this.#rows[Math.min(last, Math.max(0, to))];
      this.#goTo(next);
      if (shiftKey && next.kind === "piece") this.#extendTo(next.piece.id);
    }
    return true;
  }

  #choose({ key, ctrlKey, metaKey }: KeyboardEvent, row: OrderRow): boolean {
    if (key !== "Enter" && key !== " ") return false;
    if (row.kind === "piece" && (ctrlKey || metaKey)) this.#toggle(row.piece.id);
    else this.#chooseRow(row);
    return true;
  }

  #goTo({ key }: OrderRow): void {
    this.current = key;
    void this.updateComplete.then(() => this.#element(key)?.focus());
  }

  #setCollapsed(key: string, isCollapsed: boolean): void {
    const collapsed = new Set(this.collapsed);
    if (isCollapsed) collapsed.add(key);
    else collapsed.delete(key);
    this.collapsed = collapsed;
  }
}
customElements.define("tuck-order-list", OrderList);

/** Ids of the pieces that a row stands for. */
function piecesOf(row: OrderRow): readonly string[] {
  if (row.kind === "piece") return [row.piece.id];
  const strands = row.kind === "block" ? row.block.strands : [row.strand];
  return strands.flatMap(({ pieces }) => pieces.map(({ id }) => id));
}

const isSameList = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((one, k) => one === b[k]);
