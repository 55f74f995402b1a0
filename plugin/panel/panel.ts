/**
 * The panel as a whole: what it plans and how far it is, what was done last, four views in tabs, the player below.
 * What happens is told in a live region. Keys pressed in the panel stay in it: the editor has its own for them.
 */
import { html, LitElement, nothing, type TemplateResult } from "lit";
import type { Unsubscribe } from "../editor-host.ts";
import { texts } from "../texts.ts";
import "./findings-view.ts";
import "./order-list.ts";
import "./outputs-view.ts";
import { panelStyles } from "./panel-styles.ts";
import "./piece-editor.ts";
import "./plan-view.ts";
import "./player-bar.ts";
import "./settings-form.ts";
import type { PanelSession, PanelState } from "./state.ts";
import { base, tokens } from "./styles.ts";
import { Watch } from "./watch.ts";

/** A plan that is there before says nothing of being planned: its figures just change. */
const TELL_AFTER_MS = 150;

const VIEWS = ["plan", "pieces", "findings", "outputs"] as const;
type View = (typeof VIEWS)[number];

export class TuckPanel extends LitElement {
  static override styles = [tokens, base, panelStyles];
  static override properties = {
    session: { attribute: false },
    view: { state: true },
    told: { state: true },
    isLong: { state: true },
  };
  declare session: PanelSession;
  declare view: View;
  /** What the live region says. */
  declare told: string;
  /** Planning takes long enough to tell. */
  declare isLong: boolean;
  #began: ReturnType<typeof setTimeout> | undefined;
  #stop: Unsubscribe | null = null;

  constructor() {
    super();
    this.view = "plan";
    this.told = "";
    this.isLong = false;
    new Watch(this, ["plan", "planning", "isStopped", "problem", "notice", "fileName", "selected"]);
    this.addEventListener("keydown", this.#onKey);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.isLong = this.session.state.planning !== null;
    this.#stop = this.session.subscribe((state, before) => {
      this.#tell(state, before);
      this.#followPlanning(state, before);
    });
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    clearTimeout(this.#began);
    this.#stop?.();
  }

  override render() {
    const { plan, problem, notice } = this.session.state;
    return html`<div class="panel">
      <header>
        <h2>${texts.panel.title(this.session.state.fileName)}</h2>
        ${this.#progress()}
      </header>
      <p class="unseen" role="status">${this.told}</p>
      ${problem === null ? nothing : this.#problem(problem)}
      ${plan === null || plan.pieces.length > 0 ? nothing : this.#nothingToSew()}
      <div role="tablist" aria-label=${texts.panel.views} @keydown=${this.#onTabKey}>
        ${VIEWS.map((view) => this.#tab(view))}
      </div>
      ${VIEWS.map(
        (view) => html`<div
          role="tabpanel"
          id="view-${view}"
          class="view ${view}"
          aria-labelledby="tab-${view}"
          tabindex=${view === "plan" ? 0 : nothing}
          ?hidden=${view !== this.view}
        >
          ${view === this.view ? this.#view(view) : nothing}
        </div>`,
      )}
      ${notice === null ? nothing : this.#notice(notice)}
      <footer><tuck-player-bar .session=${this.session}></tuck-player-bar></footer>
    </div>`;
  }

  #progress(): TemplateResult {
    const { planning, plan, isStopped } = this.session.state;
    if (isStopped)
      return html`<p class="row quiet">
        ${texts.panel.stopped}
        <button @click=${() => this.session.planNow()}>${texts.panel.planNow}</button>
      </p>`;
    if (planning === null || !this.isLong)
      return html`<p class="quiet figures">${plan === null || plan.pieces.length === 0 ? "" : texts.panel.gained(plan.metrics)}</p>`;
    return html`<p class="row quiet">
      <progress max="1" .value=${planning.share} aria-label=${texts.panel.planning}></progress>
      ${texts.panel.planning}
      <button class="plain" @click=${() => this.session.cancelPlanning()}>${texts.panel.stop}</button>
    </p>`;
  }

  #problem({ message, remedy }: NonNullable<PanelState["problem"]>): TemplateResult {
    return html`<div class="notice trouble" role="alert">
      <p><strong>${texts.panel.problem}</strong> ${message}</p>
      <p>${remedy}</p>
    </div>`;
  }

  #notice({ kind, text, remedy, action, canUndo }: NonNullable<PanelState["notice"]>): TemplateResult {
    return html`<div class="notice ${kind}" role=${kind === "done" ? nothing : "alert"}>
      <p>${text}${remedy === undefined ? nothing : html` ${remedy}`}</p>
      <div class="row">
        ${action === undefined ? nothing : html`<button @click=${() => this.#act(action)}>${action.label}</button>`}
        ${canUndo ? html`<button title=${texts.panel.undoHint} @click=${() => this.session.undo()}>${texts.panel.undo}</button>` : nothing}
        <button class="plain" @click=${() => this.session.dismissNotice()}>${texts.panel.dismiss}</button>
      </div>
    </div>`;
  }

  #nothingToSew(): TemplateResult {
    const { openDemo } = this.session;
    return html`<div class="notice">
      <p>${texts.panel.nothingToSew}</p>
      ${openDemo === null ? nothing : html`<button class="main" @click=${openDemo}>${texts.panel.openDemo}</button>`}
    </div>`;
  }

  #tab(view: View): TemplateResult {
    const { plan, selected } = this.session.state;
    const isShown = view === this.view;
    return html`<button
      role="tab"
      id="tab-${view}"
      aria-controls="view-${view}"
      aria-selected=${String(isShown)}
      tabindex=${isShown ? 0 : -1}
      @click=${() => {
        this.view = view;
      }}
    >
      ${texts.panel.tab(view, { selected: selected.length, findings: plan?.findings.length ?? 0 })}
    </button>`;
  }

  #view(view: View): TemplateResult {
    const { session } = this;
    switch (view) {
      case "plan":
        return html`<tuck-plan-view .session=${session}></tuck-plan-view
          ><tuck-settings-form .session=${session}></tuck-settings-form>`;
      case "pieces":
        return html`<p class="quiet small">${texts.order.help}</p>
          <tuck-order-list .session=${session}></tuck-order-list
          ><tuck-piece-editor .session=${session}></tuck-piece-editor>`;
      case "findings":
        return html`<tuck-findings-view .session=${session}></tuck-findings-view>`;
      case "outputs":
        return html`<tuck-outputs-view .session=${session}></tuck-outputs-view>`;
    }
  }

  #act(action: { run(): void }): void {
    this.session.dismissNotice();
    action.run();
  }

  #tell(state: PanelState, before: PanelState): void {
    if (state.notice !== before.notice && state.notice?.kind === "done") this.#say(state.notice.text);
    if (state.plan !== before.plan && state.plan !== null)
      this.#say(texts.panel.planned(state.plan.metrics, before.plan?.metrics ?? null));
  }

  #followPlanning({ planning }: PanelState, before: PanelState): void {
    if ((planning === null) === (before.planning === null)) return;
    clearTimeout(this.#began);
    this.isLong = false;
    if (planning === null) return;
    this.#began = setTimeout(() => {
      this.isLong = true;
    }, TELL_AFTER_MS);
  }

  /** A live region is read out when its text changes: the same words again get a space that nobody hears. */
  #say(words: string): void {
    this.told = this.told === words ? `${words}\u00a0` : words;
  }

  readonly #onTabKey = (event: KeyboardEvent): void => {
    const at = VIEWS.indexOf(this.view);
    const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: VIEWS.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    this.view = VIEWS[(to + VIEWS.length) % VIEWS.length];
    void this.updateComplete.then(() =>
      this.renderRoot.querySelector<HTMLElement>(`#tab-${this.view}`)?.focus(),
    );
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    event.stopPropagation();
    if (!(event.ctrlKey || event.metaKey)) return;
    const typed = event.composedPath()[0];
    const key = event.key.toLowerCase();
    if (key === "s") this.session.save();
    else if (typed instanceof HTMLInputElement && typed.type !== "checkbox" && typed.type !== "range") return;
    else if (key === "z" && event.shiftKey) this.session.redo();
    else if (key === "z") this.session.undo();
    else if (key === "y") this.session.redo();
    else return;
    event.preventDefault();
  };
}
customElements.define("tuck-panel", TuckPanel);
