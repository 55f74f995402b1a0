/** What was gained, what it takes to sew it, and the threads: the figures of the plan. */
import { css, html, LitElement, nothing } from "lit";
import type { PlainMetrics, Plan } from "../../core/plan/types.ts";
import { texts } from "../texts.ts";
import type { PanelSession } from "./state.ts";
import { base } from "./styles.ts";
import { Watch } from "./watch.ts";

export class PlanView extends LitElement {
  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      td.best {
        font-weight: 600;
      }
    `,
  ];
  static override properties = { session: { attribute: false } };
  declare session: PanelSession;

  constructor() {
    super();
    new Watch(this, ["plan", "threadUse"]);
  }

  override render() {
    const { plan } = this.session.state;
    if (plan === null || plan.pieces.length === 0) return nothing;
    return html`${this.#gains(plan)}
      <h3>${texts.plan.sewing}</h3>
      ${this.#size(plan)}
      <h3>${texts.plan.threads}</h3>
      ${this.#threads()}`;
  }

  #gains({ metrics }: Plan) {
    const { count, mm } = texts.figures;
    const row = (name: string, show: (of: PlainMetrics) => string, note = "") => html`<tr>
      <th scope="row">${name}</th>
      <td class="number">${show(metrics.untucked)}</td>
      <td class="number best">${show(metrics)}</td>
      <td class="small quiet">${note}</td>
    </tr>`;
    return html`<table>
      <caption>
        ${texts.plan.gains}
      </caption>
      <thead>
        <tr>
          <td></td>
          <th scope="col" class="number">${texts.plan.plain}</th>
          <th scope="col" class="number">${texts.plan.planned}</th>
          <td></td>
        </tr>
      </thead>
      <tbody>
        ${row(texts.plan.blocks, ({ blocks }) => count(blocks), texts.plan.bound(metrics.blocks, metrics.blocksLowerBound))}
        ${row(texts.plan.strands, ({ strands }) => count(strands), texts.plan.bound(metrics.strands, metrics.strandsLowerBound))}
        ${row(texts.plan.trims, ({ trims }) => count(trims))} ${row(texts.plan.hops, ({ hops }) => count(hops))}
        ${row(texts.plan.connectors, ({ connectorMm }) => `${mm(connectorMm)} mm`, texts.plan.tucked(metrics))}
        ${row(texts.plan.time, ({ seconds }) => texts.figures.duration(seconds))}
      </tbody>
    </table>`;
  }

  #size({ size, metrics, settings: { hoopWidthMm, hoopHeightMm } }: Plan) {
    return html`<p class="figures">${texts.plan.size(size.widthMm, size.heightMm, metrics.pieces, metrics.stitches)}</p>
      <p class="quiet">${texts.plan.hoop(size, hoopWidthMm, hoopHeightMm)}</p>`;
  }

  #threads() {
    const { count, metres } = texts.figures;
    return html`<table>
      <thead>
        <tr>
          <th scope="col">${texts.plan.thread}</th>
          <th scope="col" class="number">${texts.plan.stitches}</th>
          <th scope="col" class="number">${texts.plan.needle}</th>
          <th scope="col" class="number">${texts.plan.bobbin}</th>
        </tr>
      </thead>
      <tbody>
        ${this.session.state.threadUse.map(
          ({ colour, thread, stitches, needleMm, bobbinMm }) => html`<tr>
            <th scope="row">
              <span class="swatch" style="background:${colour}"></span> ${texts.thread(colour, thread)}
            </th>
            <td class="number">${count(stitches)}</td>
            <td class="number">${metres(needleMm)}</td>
            <td class="number">${metres(bobbinMm)}</td>
          </tr>`,
        )}
      </tbody>
    </table>`;
  }
}
customElements.define("tuck-plan-view", PlanView);
