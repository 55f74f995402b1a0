/**
 * The page's module: starts the editor with our extension in it, then opens what was named and mounts the panel.
 * The editor loads this same module once more as its extension; a module runs once, so that is the default export.
 */
import type { MountPanel } from "../../editor-host.ts";
import { Notice } from "./dialogs.ts";
import { startDivider } from "./divider.ts";
import { FileActions } from "./file-actions.ts";
import { SvgEditHost } from "./host.ts";
import { addMenu } from "./menu.ts";
import { asked, files, planner } from "./opening.ts";
import type { SessionFacts } from "./server-files.ts";
import type { EditorExtension, SvgEditor } from "./svgedit-types.ts";
import { hostTexts as texts } from "./texts.ts";

const OWN_MODULE = "/plugin/svgedit-host.js";

/** Without those that keep drawings in the browser, save on their own, or connect shapes. */
const EXTENSIONS = [
  "ext-eyedropper",
  "ext-grid",
  "ext-markers",
  "ext-panning",
  "ext-shapes",
  "ext-polystar",
  "ext-layer_view",
];

const byId = (id: string): HTMLElement => document.getElementById(id) as HTMLElement;

const notice = new Notice(byId("editor"));

export default {
  name: "tuckline",
  /** Called by the editor, with itself as `this`. */
  async init(this: SvgEditor): Promise<EditorExtension> {
    const host = new SvgEditHost(this, files);
    const actions = new FileActions(host, files, notice);
    return {
      name: "tuckline",
      host,
      callback: () => void begin(host, actions),
      selectedChanged: () => host.selectionMayHaveChanged(),
      zoomChanged: () => host.overlay.moved(),
      canvasUpdated: () => host.overlay.moved(),
    };
  },
};

async function begin(host: SvgEditHost, actions: FileActions): Promise<void> {
  addMenu(actions, host);
  startDivider(byId("divider"), byId("panel"));
  takeDrops(actions);
  window.addEventListener("beforeunload", (event) => {
    if (!host.isSaved()) event.preventDefault();
  });
  const session = await asked;
  if (session === undefined) return notice.show(texts.noToken);
  host.zoomToPage();
  if (session.name !== null) await actions.openNamed(session.name, session.drawing);
  await mount(host, actions, session);
  if (session.name === null) await actions.welcome();
}

async function mount(
  host: SvgEditHost,
  actions: FileActions,
  { given, threads }: SessionFacts,
): Promise<void> {
  try {
    const panel = "/plugin/panel.js";
    const { mountPanel } = (await import(panel)) as { mountPanel: MountPanel };
    mountPanel(host, byId("panel"), {
      given,
      threads,
      planner,
      openDemo: () => actions.openDemo(),
    });
  } catch (error) {
    console.error(error);
    notice.show(texts.noPanel);
  }
}

/** A drawing that is dropped is opened; without this the browser would go to it and leave the page. */
function takeDrops(actions: FileActions): void {
  window.addEventListener("dragover", (event) => event.preventDefault());
  window.addEventListener(
    "drop",
    (event) => {
      event.preventDefault();
      event.stopPropagation();
      const file = [...(event.dataTransfer?.files ?? [])].find(({ name }) => /\.svg$/i.test(name));
      if (file !== undefined) void actions.openDropped(file);
    },
    { capture: true },
  );
}

const editorModule = "/editor/Editor.js";
const { default: Editor } = (await import(editorModule)) as {
  default: new (container: HTMLElement) => SvgEditor;
};
const editor = new Editor(byId("editor"));
editor.setConfig({
  noDefaultExtensions: true,
  extensions: EXTENSIONS,
  userExtensions: [{ pathName: OWN_MODULE }],
  preventAllURLConfig: true,
  preventURLContentLoading: true,
  lockExtensions: true,
  noStorageOnLoad: true,
  no_save_warning: true,
  // What is drawn first, on a page of millimetres: a calm fill and a line that can be sewn.
  initFill: { color: "2f6f8f", opacity: 1 },
  initStroke: { width: 1, color: "1c3347", opacity: 1 },
  imgPath: "/editor/images",
});
await editor.init();
