/** Fields that several parts of the panel have. What they show empty is what holds when nothing is given. */
import { html, nothing, type TemplateResult } from "lit";
import { live } from "lit/directives/live.js";
import { texts } from "../texts.ts";

interface Field {
  readonly id: string;
  readonly label: string;
  readonly help?: string | undefined;
}

export interface NumberField extends Field {
  /** `null`: nothing is given here. */
  readonly value: number | null;
  /** What holds then. */
  readonly otherwise: string;
  readonly unit: string;
  readonly min: number;
  readonly max: number;
  readonly step?: number;
  readonly isWhole?: boolean;
  /** Stands before the number. */
  readonly before?: TemplateResult | undefined;
  set(value: number | null): void;
}

/** A number with its unit; emptied, or by its button, it goes back to what holds otherwise. */
export function numberField(field: NumberField): TemplateResult {
  const { id, label, help, value, otherwise, unit, min, max, step = 0.1, isWhole = false, before } = field;
  const commit = (event: Event): void => {
    const input = event.currentTarget as HTMLInputElement;
    const typed = input.value.trim().replace(",", ".");
    const number = typed === "" ? null : Number(typed);
    const isGood =
      number === null || (number >= min && number <= max && (!isWhole || Number.isInteger(number)));
    input.setAttribute("aria-invalid", String(!isGood));
    input.setCustomValidity(isGood ? "" : texts.fields.range(min, max, unit));
    if (!isGood) input.reportValidity();
    else if (number !== value) field.set(number);
  };
  const stepBy = (event: KeyboardEvent): void => {
    if (event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
    const from = value ?? Number.parseFloat(otherwise);
    if (!Number.isFinite(from)) return;
    event.preventDefault();
    const by = (event.key === "ArrowUp" ? 1 : -1) * (event.shiftKey ? 10 * step : step);
    field.set(Math.min(max, Math.max(min, Math.round((from + by) / step) * step + 0)));
  };
  return html`<label for=${id} title=${help ?? nothing}>${label}</label>
    <span class="field">
      ${before ?? nothing}
      <input
        id=${id}
        inputmode="decimal"
        autocomplete="off"
        aria-invalid="false"
        .value=${live(value === null ? "" : texts.fields.number(value))}
        placeholder=${otherwise}
        @change=${commit}
        @keydown=${stepBy}
      /><span class="unit">${unit}</span>
      ${clearButton(label, value !== null, () => field.set(null))}
    </span>`;
}

export interface ChoiceField extends Field {
  /** `null`: nothing is given here; `undefined`: several pieces differ. */
  readonly value: string | null | undefined;
  /** What holds when nothing is given; absent: something always is. */
  readonly otherwise?: string;
  readonly choices: readonly { readonly value: string; readonly says: string }[];
  set(value: string | null): void;
}

export function choiceField({
  id,
  label,
  help,
  value,
  otherwise,
  choices,
  set,
}: ChoiceField): TemplateResult {
  const pick = (event: Event): void => {
    const { value: picked } = event.currentTarget as HTMLSelectElement;
    set(picked === "" ? null : picked);
  };
  return html`<label for=${id} title=${help ?? nothing}>${label}</label>
    <span class="field">
      <select id=${id} @change=${pick}>
        ${
          value === undefined
            ? html`<option value="" selected disabled>${texts.fields.several}</option>`
            : nothing
        }
        ${
          otherwise === undefined
            ? nothing
            : html`<option value="" .selected=${live(value === null)}>${otherwise}</option>`
        }
        ${choices.map(
          (one) =>
            html`<option value=${one.value} .selected=${live(one.value === value)}>${one.says}</option>`,
        )}
      </select>
      ${
        otherwise === undefined || value === undefined
          ? nothing
          : clearButton(label, value !== null, () => set(null))
      }
    </span>`;
}

export interface TextField extends Field {
  readonly value: string | null;
  readonly otherwise: string;
  isGood(text: string): boolean;
  readonly says: string;
  set(value: string | null): void;
}

export function textField({
  id,
  label,
  help,
  value,
  otherwise,
  isGood,
  says,
  set,
}: TextField): TemplateResult {
  const commit = (event: Event): void => {
    const input = event.currentTarget as HTMLInputElement;
    const text = input.value.trim();
    const good = text === "" || isGood(text);
    input.setAttribute("aria-invalid", String(!good));
    input.setCustomValidity(good ? "" : says);
    if (!good) input.reportValidity();
    else if (text !== (value ?? "")) set(text === "" ? null : text);
  };
  return html`<label for=${id} title=${help ?? nothing}>${label}</label>
    <span class="field">
      <input
        id=${id}
        autocomplete="off"
        aria-invalid="false"
        .value=${live(value ?? "")}
        placeholder=${otherwise}
        @change=${commit}
      />
      ${clearButton(label, value !== null, () => set(null))}
    </span>`;
}

const clearButton = (label: string, isGiven: boolean, clear: () => void): TemplateResult =>
  html`<button
    class="clear"
    ?hidden=${!isGiven}
    aria-label=${texts.fields.clear(label)}
    title=${texts.fields.clear(label)}
    @click=${clear}
  >
    ✕
  </button>`;
