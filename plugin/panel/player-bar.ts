/** The player's controls: play, step, scrub, speed; and what is shown over the drawing. */
import { css, html, LitElement, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { type Direction, placeAt, type StepSize, stepTo, stitchCount } from "../canvas/player.ts";
import { OVERLAYS } from "../session-types.ts";
import { texts } from "../texts.ts";
import type { PanelSession } from "./state.ts";
import { base, fields } from "./styles.ts";
import { Watch } from "./watch.ts";

/** Stitches a second; a machine sews about 13. */
const SPEEDS = [13, 50, 200, 400, 1000, 4000] as const;
const STEPS: readonly StepSize[] = ["stitch", "piece", "strand"];

export class PlayerBar extends LitElement {
  static override styles = [
    base,
    fields,
    css`
      :host {
        display: block;
      }
      input[type="range"] {
        inline-size: 100%;
        display: block;
      }
      .controls {
        gap: 0.25rem;
      }
      .icon {
        min-inline-size: 2.125rem;
        padding: 0;
      }
      fieldset {
        border: 0;
        margin: 0.375rem 0 0;
        padding: 0;
        display: flex;
        flex-wrap: wrap;
        gap: 0.125rem 0.75rem;
      }
      legend {
        padding: 0;
        float: inline-start;
        margin-inline-end: 0.5rem;
        color: var(--quiet);
      }
      .place {
        margin-block-end: 0.25rem;
        overflow: hidden;
        text-overflow: ellipsis;
        white-space: nowrap;
      }
    `,
  ];
  static override properties = { session: { attribute: false }, stepSize: { state: true } };
  declare session: PanelSession;
  declare stepSize: StepSize;

  constructor() {
    super();
    this.stepSize = "piece";
    new Watch(this, ["plan", "player", "shown"]);
  }

  override render() {
    const { plan, player, shown } = this.session.state;
    const isEmpty = plan === null || plan.pieces.length === 0;
    const count = isEmpty ? 0 : stitchCount(plan);
    const at = player.at ?? count;
    const place = isEmpty || player.at === null ? null : placeAt(plan, player.at);
    return html`<section aria-label=${texts.player.title}>
      <input
        type="range"
        aria-label=${texts.player.scrub}
        aria-valuetext=${texts.player.place(at, count)}
        min="0"
        max=${count}
        .value=${live(String(at))}
        ?disabled=${isEmpty}
        @input=${this.#scrub}
      />
      <p class="place figures quiet small">
        ${texts.player.place(at, count)} ${place === null ? nothing : texts.player.doing(place)}
      </p>
      <div class="row controls">
        <button class="main icon" ?disabled=${isEmpty} aria-label=${texts.player.play(player.isPlaying)} @click=${this.#toggle}>
          ${player.isPlaying ? "❚❚" : "▶"}
        </button>
        ${this.#stepButton("back", isEmpty)}
        <select
          aria-label=${texts.player.stepBy}
          @change=${(event: Event) => {
            this.stepSize = (event.currentTarget as HTMLSelectElement).value as StepSize;
          }}
        >
          ${STEPS.map((by) => html`<option value=${by} ?selected=${by === this.stepSize}>${texts.player.steps[by]}</option>`)}
        </select>
        ${this.#stepButton("forward", isEmpty)}
        <select
          aria-label=${texts.player.speed}
          @change=${(event: Event) =>
            this.session.play({
              stitchesPerSecond: Number((event.currentTarget as HTMLSelectElement).value),
            })}
        >
          ${SPEEDS.map(
            (speed) =>
              html`<option value=${speed} ?selected=${speed === player.stitchesPerSecond}>
                ${texts.player.perSecond(speed)}
              </option>`,
          )}
        </select>
        <button ?disabled=${player.at === null} @click=${() => this.session.play({ at: null, isPlaying: false })}>
          ${texts.player.whole}
        </button>
      </div>
      <fieldset>
        <legend>${texts.overlays.title}</legend>
        ${OVERLAYS.map(
          (name) => html`<label>
            <input
              type="checkbox"
              .checked=${live(shown.has(name))}
              @change=${(event: Event) =>
                this.session.show(name, (event.currentTarget as HTMLInputElement).checked)}
            />
            ${texts.overlays.names[name]}
          </label>`,
        )}
      </fieldset>
    </section>`;
  }

  #stepButton(direction: Direction, isDisabled: boolean) {
    return html`<button
      class="icon"
      ?disabled=${isDisabled}
      aria-label=${texts.player.step(direction, this.stepSize)}
      @click=${() => this.#step(direction)}
    >
      ${direction === "back" ? "◂" : "▸"}
    </button>`;
  }

  readonly #toggle = (): void => {
    const { plan, player } = this.session.state;
    if (plan === null) return;
    const isAtEnd = player.at === null || player.at >= stitchCount(plan);
    this.session.play({ isPlaying: !player.isPlaying, ...(isAtEnd ? { at: 0 } : {}) });
  };

  readonly #scrub = (event: Event): void => {
    const { value } = event.currentTarget as HTMLInputElement;
    this.session.play({ at: Number(value), isPlaying: false });
  };

  #step(direction: Direction): void {
    const { plan, player } = this.session.state;
    if (plan === null) return;
    const from = player.at ?? (direction === "back" ? stitchCount(plan) : 0);
    this.session.play({ at: stepTo(plan, from, this.stepSize, direction), isPlaying: false });
  }
}
customElements.define("tuck-player-bar", PlayerBar);
