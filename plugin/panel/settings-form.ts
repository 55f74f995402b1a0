/**
 * Settings, kept in the drawing. Those that most designs ask for stand first; all others follow, by the table of
 * settings. An empty field holds what the recipe, or what was given with the command, says.
 */
import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import type { Settings } from "../../core/settings.ts";
import { SETTING_NAMES, SETTINGS_TABLE, type SettingName } from "../../core/settings-schema.ts";
import { texts } from "../texts.ts";
import { choiceField, numberField, textField } from "./fields.ts";
import type { PanelSession } from "./state.ts";
import { base, fields } from "./styles.ts";
import { Watch } from "./watch.ts";

const FIRST: readonly SettingName[] = [
  "recipe",
  "order",
  "widthMm",
  "hoopWidthMm",
  "hoopHeightMm",
  "jumpThresholdMm",
  "maxThreads",
];

export class SettingsForm extends LitElement {
  static override styles = [
    base,
    fields,
    css`
      :host {
        display: block;
      }
    `,
  ];
  static override properties = { session: { attribute: false }, showsAll: { state: true } };
  declare session: PanelSession;
  declare showsAll: boolean;

  constructor() {
    super();
    this.showsAll = false;
    new Watch(this, ["facts", "inherited"]);
  }

  override render() {
    if (this.session.state.facts === null) return nothing;
    const others = SETTING_NAMES.filter((name) => !FIRST.includes(name));
    return html`<h3>${texts.settings.title}</h3>
      <div class="fields">${FIRST.map((name) => this.#field(name))}</div>
      <details
        @toggle=${(event: Event) => {
          this.showsAll = (event.currentTarget as HTMLDetailsElement).open;
        }}
      >
        <summary>${texts.settings.more(others.length)}</summary>
        <div class="fields">${this.showsAll ? others.map((name) => this.#field(name)) : nothing}</div>
      </details>`;
  }

  #field(name: SettingName): TemplateResult {
    const { facts, inherited } = this.session.state;
    const info = SETTINGS_TABLE[name];
    const drawn = facts?.settings[name] as Settings[SettingName] | undefined;
    const held = inherited[name];
    const common = { id: name, label: texts.settings.labels[name], help: info.help };
    const otherwise = held === null && "nullMeans" in info ? (info.nullMeans ?? "") : String(held);
    const set = (value: unknown): void => this.session.setSettings({ [name]: value ?? undefined });
    switch (info.kind) {
      case "choice":
        return choiceField({
          ...common,
          value: (drawn as string | undefined) ?? null,
          otherwise: texts.settings.asGiven(texts.choice(otherwise)),
          choices: info.choices.map((value) => ({ value, says: texts.choice(value) })),
          set,
        });
      case "text":
        return textField({
          ...common,
          value: (drawn as string | null | undefined) ?? null,
          otherwise,
          isGood: (text) => info.form?.pattern.test(text) ?? !text.includes(";"),
          says: info.form?.says ?? texts.settings.plainText,
          set,
        });
      default: {
        const { min, max, unit, kind } = info;
        const isWhole = kind === "integer";
        return numberField({
          ...common,
          value: typeof drawn === "number" ? drawn : null,
          otherwise,
          unit,
          min,
          max,
          isWhole,
          step: isWhole ? 1 : max > 100 ? 1 : 0.1,
          set,
        });
      }
    }
  }
}
customElements.define("tuck-settings-form", SettingsForm);
