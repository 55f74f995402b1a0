/** What the artist takes away: the drawing itself, with or without layers, and every file of the plan. */
import { css, html, LitElement, nothing } from "lit";
import { texts } from "../texts.ts";
import type { OutputName } from "../worker/protocol.ts";
import type { PanelSession } from "./state.ts";
import { base, fields } from "./styles.ts";
import { Watch } from "./watch.ts";

const OUTPUTS: readonly OutputName[] = ["machine", "sheet", "picture", "planned", "artwork", "json", "csv"];

export class OutputsView extends LitElement {
  static override styles = [
    base,
    fields,
    css`
      :host {
        display: block;
      }
      h3:first-child {
        margin-block-start: 0;
      }
      .cautions {
        border: 1px solid var(--edge);
        border-radius: 6px;
        padding: 0.5rem 0.5rem 0.5rem 1.5rem;
        list-style: disc;
        margin-block-start: 0.5rem;
      }
      dl {
        display: grid;
        gap: 0.5rem;
      }
      dd {
        color: var(--quiet);
      }
    `,
  ];
  static override properties = { session: { attribute: false }, newName: { state: true } };
  declare session: PanelSession;
  declare newName: string | null;

  constructor() {
    super();
    this.newName = null;
    new Watch(this, ["plan", "facts", "fileName"]);
  }

  override render() {
    const { plan, facts, fileName } = this.session.state;
    const name = this.newName ?? fileName ?? texts.untitled;
    const { session } = this;
    return html`<h3>${texts.outputs.drawing}</h3>
      <div class="row">
        <button class="main" @click=${() => session.save()}>${texts.save.save}</button>
        <label class="unseen" for="new-name">${texts.save.newName}</label>
        <span class="field">
          <input
            id="new-name"
            .value=${name}
            @input=${(event: Event) => {
              this.newName = (event.currentTarget as HTMLInputElement).value;
            }}
          />
          <button @click=${() => session.saveAs(name)}>${texts.save.saveAs}</button>
        </span>
      </div>
      <h3>${texts.outputs.layers}</h3>
      <p class="quiet">${facts?.hasLayers ? texts.outputs.hasLayers : texts.outputs.noLayers}</p>
      <div class="row">
        <button ?disabled=${plan === null} @click=${() => session.writeLayers()}>
          ${facts?.hasLayers ? texts.outputs.writeAgain : texts.outputs.writeLayers}
        </button>
        <button ?disabled=${!facts?.hasLayers} @click=${() => session.takeLayersAway()}>
          ${texts.outputs.takeAway}
        </button>
      </div>
      <h3>${texts.outputs.files}</h3>
      ${plan === null ? html`<p class="quiet">${texts.outputs.nothing}</p>` : nothing}
      <dl>
        ${OUTPUTS.map(
          (output) => html`<div>
            <dt>
              <button ?disabled=${plan === null} @click=${() => session.download(output)}>
                ${texts.outputs.names[output]}
              </button>
            </dt>
            <dd>${texts.outputs.says[output]}</dd>
          </div>`,
        )}
      </dl>
      <h3>${texts.cautions.title}</h3>
      <ul class="cautions">
        ${texts.cautions.all.map((caution) => html`<li>${caution}</li>`)}
      </ul>`;
  }
}
customElements.define("tuck-outputs-view", OutputsView);
