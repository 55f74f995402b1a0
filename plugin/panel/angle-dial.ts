/** An angle as a dial: turned by pointer or by arrow keys. Angles run counter-clockwise from the x axis, 0° to 180°. */
import { css, LitElement, svg } from "lit";
import { texts } from "../texts.ts";
import { base } from "./styles.ts";

/** Rows have no direction: half a turn is all there is. */
const TURN_DEG = 180;
const STEPS: { readonly [key: string]: number } = {
  ArrowRight: 1,
  ArrowUp: 1,
  ArrowLeft: -1,
  ArrowDown: -1,
  PageUp: 15,
  PageDown: -15,
};

export class AngleDial extends LitElement {
  static override styles = [
    base,
    css`
      :host {
        display: inline-block;
        flex: none;
      }
      svg {
        inline-size: 2.5rem;
        block-size: 2.5rem;
        touch-action: none;
        cursor: grab;
        border-radius: 50%;
        display: block;
      }
      circle {
        fill: var(--raised);
        stroke: var(--edge);
      }
      .row {
        stroke: var(--line);
      }
      .hand {
        stroke: var(--accent);
        stroke-width: 3;
        stroke-linecap: round;
      }
      .unset {
        stroke-dasharray: 3 4;
      }
    `,
  ];
  static override properties = {
    angleDeg: { attribute: false },
    plannedDeg: { attribute: false },
    turned: { state: true },
  };
  /** `null`: the plan decides. */
  declare angleDeg: number | null;
  /** As the rows run in the plan; `null` where they run in no one way. */
  declare plannedDeg: number | null;
  /** While it is being turned. */
  declare turned: number | null;

  constructor() {
    super();
    this.angleDeg = null;
    this.plannedDeg = null;
    this.turned = null;
  }

  override render() {
    const set = this.turned ?? this.angleDeg;
    const shown = set ?? this.plannedDeg ?? 0;
    const turn = `rotate(${-shown} 28 28)`;
    return svg`<svg viewBox="0 0 56 56" role="slider" tabindex="0" aria-label=${texts.piece.dial}
      aria-valuemin="0" aria-valuemax="179" aria-valuenow=${shown}
      aria-valuetext=${set === null ? texts.piece.byPlan(this.plannedDeg) : `${set}°`}
      @keydown=${this.#onKey} @pointerdown=${this.#onDown} @pointermove=${this.#onMove} @pointerup=${this.#onUp}>
      <circle cx="28" cy="28" r="26"/>
      <g transform=${turn}>
        ${[-12, -6, 6, 12].map((y) => svg`<path class="row" d="M8 ${28 + y}H48"/>`)}
        <path class="hand ${set === null ? "unset" : ""}" d="M6 28H50"/>
      </g>
    </svg>`;
  }

  readonly #onKey = (event: KeyboardEvent): void => {
    const step = STEPS[event.key];
    if (step === undefined) return;
    event.preventDefault();
    this.#give(within((this.angleDeg ?? this.plannedDeg ?? 0) + step));
  };

  readonly #onDown = (event: PointerEvent): void => {
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
    this.turned = this.#angleAt(event);
  };

  readonly #onMove = (event: PointerEvent): void => {
    if (this.turned !== null) this.turned = this.#angleAt(event);
  };

  readonly #onUp = (): void => {
    const { turned } = this;
    this.turned = null;
    if (turned !== null) this.#give(turned);
  };

  #angleAt({ clientX, clientY, currentTarget, shiftKey }: PointerEvent): number {
    const { left, top, width, height } = (currentTarget as Element).getBoundingClientRect();
    const radians = Math.atan2(top + height / 2 - clientY, clientX - left - width / 2);
    const degrees = (radians * 180) / Math.PI;
    const step = shiftKey ? 15 : 1;
    return within(Math.round(degrees / step) * step);
  }

  #give(angleDeg: number): void {
    this.dispatchEvent(new CustomEvent("angle", { detail: angleDeg }));
  }
}
customElements.define("tuck-angle-dial", AngleDial);

const within = (degrees: number): number => ((degrees % TURN_DEG) + TURN_DEG) % TURN_DEG;
