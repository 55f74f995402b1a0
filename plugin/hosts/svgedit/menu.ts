/** The file commands in the editor's own menu, and their usual keys. */
import type { EditorHost } from "../../editor-host.ts";
import type { FileActions } from "./file-actions.ts";
import { hostTexts as texts } from "./texts.ts";

const ITEMS = [
  { id: "tuckline-new", label: texts.newDrawing, icon: "new.svg", action: "newDrawing" },
  { id: "tuckline-open", label: texts.open, icon: "open.svg", action: "open" },
  { id: "tuckline-save", label: texts.save, icon: "saveImg.svg", action: "save" },
  { id: "tuckline-save-as", label: texts.saveAs, icon: "saveImg.svg", action: "saveAs" },
] as const;

export function addMenu(actions: FileActions, host: EditorHost): void {
  const menu = document.getElementById("main_button");
  // It leads to a page elsewhere.
  document.getElementById("tool_editor_homepage")?.remove();
  // The editor's own elements can only be made by the parser, in the page.
  menu?.insertAdjacentHTML(
    "afterbegin",
    ITEMS.map(
      ({ id, label, icon }) => `<se-menu-item id="${id}" label="${label}" src="${icon}"></se-menu-item>`,
    ).join(""),
  );
  for (const { id, action } of ITEMS)
    document.getElementById(id)?.addEventListener("click", () => actions[action]());
  window.addEventListener("keydown", (event) => onKey(event, actions), { capture: true });
  // The editor hears its own undo keys only while nothing has the focus.
  host.overlay.element.addEventListener("keydown", (event) => onOverlayKey(event, host));
}

/** Everywhere on the page, in fields too: the browser would save or open the page itself. */
function onKey(event: KeyboardEvent, actions: FileActions): void {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  if (key !== "s" && key !== "o") return;
  event.preventDefault();
  event.stopImmediatePropagation();
  if (document.querySelector("dialog[open]") !== null) return;
  if (key === "o") actions.open();
  else if (event.shiftKey) actions.saveAs();
  else actions.save();
}

function onOverlayKey(event: KeyboardEvent, host: EditorHost): void {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  if (key !== "z" && key !== "y") return;
  event.preventDefault();
  if (key === "y" || event.shiftKey) host.redo();
  else host.undo();
}
