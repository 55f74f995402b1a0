/** What to look at: findings by gravity and kind, the stops that are left, and changes that would save one. */
import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { groupFindings } from "../../core/finding-groups.ts";
import type { Finding } from "../../core/findings.ts";
import type { Stop, Suggestion } from "../../core/plan/explain.ts";
import type { Plan } from "../../core/plan/types.ts";
import type { Target } from "../session-types.ts";
import { texts } from "../texts.ts";
import type { PanelSession } from "./state.ts";
import { base } from "./styles.ts";
import { Watch } from "./watch.ts";

/** Of one kind, so many are shown at first. */
const MOST = 3;

export class FindingsView extends LitElement {
  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      li {
        display: grid;
        grid-template-columns: 1fr auto;
        gap: 0.25rem var(--gap);
        align-items: start;
        padding: 0.375rem 0.5rem;
        border-inline-start: 3px solid var(--line);
        margin-block-end: 0.375rem;
      }
      li.pointed {
        background: var(--pointed);
      }
      li.error {
        border-inline-start-color: var(--trouble);
      }
      li > p.quiet,
      li > .row {
        grid-column: 1;
      }
      li > button {
        grid-area: 1 / 2;
      }
      .grade {
        font-weight: 600;
      }
      h3:first-child {
        margin-block-start: 0;
      }
    `,
  ];
  static override properties = { session: { attribute: false }, opened: { state: true } };
  declare session: PanelSession;
  /** Kinds of which all are shown. */
  declare opened: ReadonlySet<string>;

  constructor() {
    super();
    this.opened = new Set();
    new Watch(this, ["plan", "planning", "explanation", "isExplaining", "pointed"]);
  }

  override render() {
    const { plan } = this.session.state;
    if (plan === null) return nothing;
    return html`<h3>${texts.findings.title(plan.findings.length)}</h3>
      ${groupFindings(plan.findings).map((group) => this.#group(plan, group))}
      <h3>${texts.findings.stops}</h3>
      ${this.#stops(plan)}`;
  }

  protected override updated(): void {
    if (this.session.state.planning === null) this.session.explain();
    if (!this.matches(":hover"))
      this.renderRoot.querySelector(".pointed")?.scrollIntoView({ block: "nearest" });
  }

  #group(plan: Plan, group: readonly Finding[]): TemplateResult {
    const [{ code, severity }] = group;
    const kind = `${severity} ${code}`;
    const { pointed } = this.session.state;
    const isPointed = pointed?.kind === "finding" && group.indexOf(plan.findings[pointed.index]) >= MOST;
    const shown = this.opened.has(kind) || isPointed ? group : group.slice(0, MOST);
    const open = (): void => {
      this.opened = new Set([...this.opened, kind]);
    };
    return html`<ul aria-label=${texts.findings.group(severity, group.length)}>
        ${shown.map((finding) => this.#finding(plan, finding))}
      </ul>
      ${
        shown.length === group.length
          ? nothing
          : html`<button class="plain" @click=${open}>${texts.findings.more(group.length - shown.length)}</button>`
      }`;
  }

  #finding(plan: Plan, finding: Finding): TemplateResult {
    const { severity, message, remedy, at, piece } = finding;
    const index = plan.findings.indexOf(finding);
    const target: Target = { kind: "finding", index };
    const { pointed } = this.session.state;
    const isPointed = pointed?.kind === "finding" && pointed.index === index;
    return html`<li
      class="${severity} ${isPointed ? "pointed" : ""}"
      @pointerenter=${() => this.session.point(target)}
      @focusin=${() => this.session.point(target)}
      @pointerleave=${() => this.session.point(null)}
    >
      <p><span class="grade">${texts.findings.grade[severity]}</span> ${message}</p>
      <p class="quiet">${remedy}</p>
      ${at === undefined && piece === undefined ? nothing : this.#showButton(target)}
    </li>`;
  }

  #stops(plan: Plan): TemplateResult {
    const { explanation, isExplaining } = this.session.state;
    if (explanation === null)
      return html`<p class="quiet">${isExplaining ? texts.findings.explaining : texts.findings.notExplained}</p>`;
    const { stops, suggestions } = explanation;
    return html`<p class="quiet">${texts.findings.stopCount(stops.length)}</p>
      <ul>
        ${stops.map((stop) => this.#stop(plan, stop))}
      </ul>
      <h3>${texts.findings.suggestions}</h3>
      ${suggestions.length === 0 ? html`<p class="quiet">${texts.findings.noSuggestions}</p>` : nothing}
      <ul>
        ${suggestions.map((suggestion) => this.#suggestion(suggestion))}
      </ul>`;
  }

  #stop(plan: Plan, { from, to, reason }: Stop): TemplateResult {
    const jump = plan.connectors.find((one) => one.from === from && one.to === to);
    const target: Target =
      jump === undefined ? { kind: "piece", id: to } : { kind: "connector", id: jump.id };
    return html`<li
      @pointerenter=${() => this.session.point(target)}
      @focusin=${() => this.session.point(target)}
      @pointerleave=${() => this.session.point(null)}
    >
      <p><span class="grade">${texts.findings.between(from, to)}</span> ${reason}</p>
      ${this.#showButton(target)}
    </li>`;
  }

  #suggestion(suggestion: Suggestion): TemplateResult {
    const { change, what, blocksSaved, strandsSaved } = suggestion;
    const target: Target | null = change.kind === "setting" ? null : { kind: "piece", id: change.piece };
    return html`<li
      @pointerenter=${() => this.session.point(target)}
      @focusin=${() => this.session.point(target)}
      @pointerleave=${() => this.session.point(null)}
    >
      <p>${texts.findings.suggestion(what)}</p>
      <p class="quiet">${texts.findings.saves(blocksSaved, strandsSaved)}</p>
      <div class="row">
        ${
          change.kind === "drawing"
            ? nothing
            : html`<button @click=${() => this.session.apply(change)}>${texts.findings.apply}</button>`
        }
        ${target === null ? nothing : this.#showButton(target)}
      </div>
    </li>`;
  }

  #showButton(target: Target): TemplateResult {
    return html`<button @click=${() => this.session.choose(target)}>${texts.findings.show}</button>`;
  }
}
customElements.define("tuck-findings-view", FindingsView);
