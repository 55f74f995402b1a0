/**
 * An entry as the editor's description of an extension: XML in the namespace and with the elements that Inkscape
 * documents for its extensions (`inkscape-extension`, `param`, `effect`, `script`).
 */
import { type Attributes, escapeXml, markup } from "../../../core/layers/markup.ts";
import { ENTRY_FIELD } from "./arguments.ts";
import type { Entry } from "./entry.ts";
import type { Field } from "./fields.ts";
import { MENU } from "./texts.ts";

const NAMESPACE = "http://www.inkscape.org/namespace/inkscape/extension";
const xml = markup("");

/** @param command the program's file, in the same folder */
export function inxText(entry: Entry, command: string): string {
  const extension = xml.element("inkscape-extension", { xmlns: NAMESPACE }, [
    xml.text("name", entry.label),
    xml.text("id", extensionId(entry.name)),
    hidden(ENTRY_FIELD, entry.name),
    ...entry.fields.map(fieldXml),
    xml.element("effect", { "needs-live-preview": String(entry.hasPreview) }, [
      xml.text("object-type", "all"),
      xml.element("effects-menu", {}, [xml.element("submenu", { name: MENU })]),
      xml.text("menu-tip", entry.tip),
    ]),
    xml.element("script", {}, [`<command location="inx">${command}</command>`]),
  ]);
  return `<?xml version="1.0" encoding="UTF-8"?>\n${extension}\n`;
}

/** What the editor knows an entry by, and its action, in tests and key bindings. */
export const extensionId = (entry: string): string => `tuckline.${entry}`;

function fieldXml(field: Field): string {
  switch (field.kind) {
    case "heading":
      return `<label appearance="header">${escapeXml(field.text)}</label>`;
    case "note":
      return `<label>${escapeXml(field.text)}</label>`;
    case "row":
      return xml.element("hbox", {}, field.fields.map(fieldXml));
    case "choice":
      return xml.element(
        "param",
        { ...named(field), type: "optiongroup", appearance: "combo" },
        field.options.map(
          ({ value, label }) => `<option value="${escapeXml(value)}">${escapeXml(label)}</option>`,
        ),
      );
    case "number": {
      const { min, max, decimals, preset } = field;
      return param({ ...named(field), type: "float", min, max, precision: decimals }, String(preset));
    }
    case "flag":
      return param({ ...named(field), type: "bool" }, String(field.preset));
    case "text":
      return param({ ...named(field), type: "string", "gui-description": field.tip }, "");
    case "folder":
      return param({ ...named(field), type: "path", mode: "folder" }, "");
  }
}

const named = ({ name, label }: { name: string; label: string }): Attributes => ({
  name,
  // A field without a label still needs some text, or the editor shows its name.
  "gui-text": label === "" ? " " : label,
});

const hidden = (name: string, value: string): string =>
  param({ name, type: "string", "gui-hidden": "true" }, value);

/** On one line: the editor takes white space around a value for a part of it. */
const param = (attributes: Attributes, value: string): string =>
  xml.element("param", attributes).replace(/\/>$/, `>${escapeXml(value)}</param>`);
