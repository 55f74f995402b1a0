/** How the selected pieces are sewn: technique, rows, stitches, underlay, entry and exit, strand and place in the order. */
import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import type { Technique } from "../../core/artwork/types.ts";
import { type NumberSetting, SETTINGS_TABLE, type SettingName } from "../../core/settings-schema.ts";
import { trackOf } from "../canvas/needle-track.ts";
import { rowAngle } from "../canvas/row-angle.ts";
import { texts } from "../texts.ts";
import "./angle-dial.ts";
import { type Chosen, chosenOf, heldValue, ownValue } from "./chosen.ts";
import type { OverrideName } from "./edits.ts";
import { choiceField, numberField } from "./fields.ts";
import type { PanelSession } from "./state.ts";
import { base, fields } from "./styles.ts";
import { Watch } from "./watch.ts";

const TECHNIQUES = ["fill", "satin", "run", "skip"] as const;
type NumberName = "angle" | "spacing" | "length" | "pull";

/** The setting whose place each takes; for some techniques another. */
const SETTING_OF: {
  readonly [Name in NumberName]: { readonly [T in Technique]?: SettingName } & {
    readonly default: SettingName;
  };
} = {
  angle: { default: "fillAngleDeg" },
  spacing: { default: "fillSpacingMm", satin: "satinSpacingMm" },
  length: { default: "fillLengthMm", run: "runLengthMm" },
  pull: { default: "pullMm" },
};

const UNDERLAYS = ["auto", "none", "centre-run", "edge-run", "zigzag", "cross-fill"] as const;

export class PieceEditor extends LitElement {
  static override styles = [
    base,
    fields,
    css`
      :host {
        display: block;
      }
      h3 {
        overflow-wrap: anywhere;
      }
      h3:first-child {
        margin-block-start: 0;
      }
    `,
  ];
  static override properties = { session: { attribute: false } };
  declare session: PanelSession;

  constructor() {
    super();
    new Watch(this, ["plan", "facts", "selected", "selectedElements"]);
  }

  override render() {
    const { facts, selectedElements } = this.session.state;
    if (facts === null) return nothing;
    const chosen = chosenOf(facts, selectedElements);
    this.toggleAttribute("idle", chosen.elements.length === 0);
    if (chosen.elements.length === 0) return html`<p class="quiet">${texts.piece.none}</p>`;
    return html`<section aria-label=${texts.piece.title(chosen.elements)}>
      <h3>${texts.piece.title(chosen.elements)}</h3>
      <div class="fields">
        ${this.#technique(chosen)} ${this.#angle(chosen)} ${this.#number(chosen, "spacing")}
        ${this.#number(chosen, "length")} ${this.#number(chosen, "pull")}
        ${this.#underlay(chosen)}
      </div>
      ${this.#ends()} ${this.#strand()} ${this.#place()}
    </section>`;
  }

  #set(chosen: Chosen, name: OverrideName, value: string | number | null): void {
    this.session.setOverride(chosen.elements, name, value);
  }

  /** As they are sewn, or, of what is not, as they would be. */
  #techniques({ pieces }: Chosen): Technique[] {
    const { plan, selected } = this.session.state;
    const sewn = plan?.pieces.filter(({ id }) => selected.includes(id)) ?? [];
    return [...new Set((sewn.length > 0 ? sewn : pieces).map(({ technique }) => technique))];
  }

  #technique(chosen: Chosen): TemplateResult {
    const { facts } = this.session.state;
    const techniques = this.#techniques(chosen).map((one) => texts.techniques[one]);
    return choiceField({
      id: "technique",
      label: texts.piece.technique,
      value: ownValue(facts!, chosen.elements, "technique"),
      otherwise: texts.piece.otherwise(techniques.join(", ")),
      choices: TECHNIQUES.map((value) => ({ value, says: texts.techniques[value] })),
      set: (value) => this.#set(chosen, "technique", value),
    });
  }

  #underlay(chosen: Chosen): TemplateResult {
    const { facts } = this.session.state;
    return choiceField({
      id: "underlay",
      label: texts.piece.underlay,
      value: ownValue(facts!, chosen.elements, "underlay"),
      otherwise: texts.piece.otherwise(heldValue(chosen.pieces, "underlay") ?? texts.piece.byRecipe),
      choices: UNDERLAYS.map((value) => ({ value, says: texts.choice(value) })),
      set: (value) => this.#set(chosen, "underlay", value),
    });
  }

  #number(chosen: Chosen, name: NumberName, before?: TemplateResult): TemplateResult {
    const { facts, settings } = this.session.state;
    const [technique, ...others] = this.#techniques(chosen);
    const setting = SETTING_OF[name];
    const { min, max, unit } = SETTINGS_TABLE[setting.default] as NumberSetting;
    const own = ownValue(facts!, chosen.elements, name);
    const bySetting = settings[(others.length === 0 && setting[technique]) || setting.default];
    const held = heldValue(chosen.pieces, name) ?? bySetting;
    const unset = name === "angle" ? texts.piece.byPlanShort(this.#plannedAngle()) : texts.piece.asDrawn;
    const otherwise = held === null ? unset : String(held);
    return numberField({
      id: name,
      label: texts.piece[name],
      value: own === null || own === undefined ? null : Number(own),
      otherwise: own === undefined ? texts.fields.several : otherwise,
      unit,
      min,
      max,
      step: name === "angle" ? 1 : name === "length" ? 0.1 : 0.05,
      before,
      set: (value) => this.#set(chosen, name, value),
    });
  }

  #angle(chosen: Chosen): TemplateResult {
    const { facts } = this.session.state;
    const own = ownValue(facts!, chosen.elements, "angle") ?? heldValue(chosen.pieces, "angle") ?? null;
    const dial = html`<tuck-angle-dial
      .angleDeg=${own === null ? null : Number(own)}
      .plannedDeg=${this.#plannedAngle()}
      @angle=${(event: CustomEvent<number>) => this.#set(chosen, "angle", event.detail)}
    ></tuck-angle-dial>`;
    return this.#number(chosen, "angle", dial);
  }

  /** How the rows of a single fill run; `null` of several, and of what has no rows. */
  #plannedAngle(): number | null {
    const { plan, selected } = this.session.state;
    const piece = selected.length === 1 ? plan?.pieces.find(({ id }) => id === selected[0]) : undefined;
    if (plan === null || piece?.technique !== "fill") return null;
    return rowAngle(trackOf(plan), piece.id);
  }

  /** Entry and exit of a single piece: where they are fixed, and the way to free them. */
  #ends(): TemplateResult | typeof nothing {
    const { plan, selected } = this.session.state;
    const piece = selected.length === 1 ? plan?.pieces.find(({ id }) => id === selected[0]) : undefined;
    if (piece === undefined) return nothing;
    const end = (point: "entry" | "exit", isPinned: boolean) => html`<div
      class="row"
      @pointerenter=${() => this.session.point({ kind: "marker", piece: piece.id, point })}
    >
      <span>${texts.piece.end(point, isPinned)}</span>
      <button ?hidden=${!isPinned} @click=${() => this.session.release(piece.id, point)}>
        ${texts.piece.release(point)}
      </button>
    </div>`;
    return html`<h3>${texts.piece.ends}</h3>
      ${end("entry", piece.entryPinned)} ${end("exit", piece.exitPinned)}
      <p class="quiet small">${texts.piece.endsHelp}</p>`;
  }

  #strand(): TemplateResult | typeof nothing {
    const { selected, facts } = this.session.state;
    if (selected.length === 0) return nothing;
    const named = chosenOf(facts!, this.session.state.selectedElements).pieces.filter(
      ({ overrides }) => overrides.strand !== undefined,
    );
    const names = [...new Set(named.map(({ overrides }) => overrides.strand ?? ""))];
    return html`<h3>${texts.piece.strand}</h3>
      <p class="quiet">${texts.piece.strandHelp(names, selected.length)}</p>
      <div class="row">
        <button ?disabled=${selected.length < 2} @click=${() => this.session.makeStrand(selected)}>
          ${texts.piece.makeStrand}
        </button>
        <button ?disabled=${names.length === 0} @click=${() => this.session.undoStrand(selected)}>
          ${texts.piece.undoStrand}
        </button>
      </div>`;
  }

  #place(): TemplateResult | typeof nothing {
    const { plan, selected, facts } = this.session.state;
    if (plan === null || selected.length === 0) return nothing;
    const order = plan.pieces.map(({ id }) => id);
    const pieces = order.filter((id) => selected.includes(id));
    const rest = order.filter((id) => !selected.includes(id));
    const first = order.indexOf(pieces[0]);
    const moveTo = (at: number): void => this.session.move(pieces, at === 0 ? null : rest[at - 1]);
    const wish = facts?.marks.after.find((one) => one.pieces.some((id) => pieces.includes(id)));
    return html`<h3>${texts.piece.order}</h3>
      <p class="quiet">${texts.piece.place(first + 1, order.length, wish?.after)}</p>
      <div class="row">
        <button ?disabled=${first === 0} @click=${() => moveTo(first - 1)}>${texts.piece.earlier}</button>
        <button ?disabled=${first >= rest.length} @click=${() => moveTo(first + 1)}>${texts.piece.later}</button>
        <button ?hidden=${wish === undefined} @click=${() => this.session.releaseOrder(pieces)}>
          ${texts.piece.releaseOrder}
        </button>
      </div>`;
  }
}
customElements.define("tuck-piece-editor", PieceEditor);
