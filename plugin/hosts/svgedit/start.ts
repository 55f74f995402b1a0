/**
 * The page's module: starts the editor with our extension in it, then opens what was named and mounts the panel.
 * The editor loads this same module once more as its extension; a module runs once, so that is the default export.
 */
import type { MountPanel } from "../../editor-host.ts";
import { Notice } from "./dialogs.ts";
import { startDivider } from "./divider.ts";
import { addExtensions } from "./extensions.ts";
import { FileActions } from "./file-actions.ts";
import { SvgEditHost } from "./host.ts";
import { addMenu } from "./menu.ts";
import { asked, files, firstLook, mayStart, planner, primePlanner } from "./opening.ts";
import type { SessionFacts } from "./server-files.ts";
import type { EditorExtension, SvgEditor } from "./svgedit-types.ts";
import { hostTexts as texts } from "./texts.ts";

const OWN_MODULE = new URL("svgedit-host.js", import.meta.url).pathname;
const PANEL_MODULE = new URL("panel.js", import.meta.url).pathname;
/** The page's base is the editor's own folder. */
const EDITOR_MODULE = new URL("Editor.js", document.baseURI).pathname;

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
  if (session.name !== null) await actions.openNamed(session.name, session.drawing);
  if (host.fileName() === null) host.zoomToPage();
  firstLook.editorIsThere();
  await mount(host, actions, session);
  if (session.name === null) await actions.welcome();
}

async function mount(
  host: SvgEditHost,
  actions: FileActions,
  { given, threads }: SessionFacts,
): Promise<void> {
  try {
    const { mountPanel } = (await import(PANEL_MODULE)) as { mountPanel: MountPanel };
    mountPanel(host, byId("panel"), {
      given,
      threads,
      planner,
      openDemo: () => actions.openDemo(),
      onFirst() {
        firstLook.end();
        void addExtensions(editor);
        void primePlanner().catch(() => {});
      },
    });
  } catch (error) {
    console.error(error);
    firstLook.end();
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

async function startEditor(): Promise<SvgEditor> {
  await mayStart;
  const { default: Editor } = (await import(EDITOR_MODULE)) as {
    default: new (container: HTMLElement) => SvgEditor;
  };
  const editor = new Editor(byId("editor"));
  editor.setConfig({
    noDefaultExtensions: true,
    // They can wait: see extensions.ts.
    extensions: [],
    userExtensions: [{ pathName: OWN_MODULE }],
    preventAllURLConfig: true,
    preventURLContentLoading: true,
    lockExtensions: true,
    noStorageOnLoad: true,
    no_save_warning: true,
    // What is drawn first, on a page of millimetres: a calm fill and a line that can be sewn.
    initFill: { color: "2f6f8f", opacity: 1 },
    initStroke: { width: 1, color: "1c3347", opacity: 1 },
    imgPath: new URL("images", document.baseURI).pathname,
  });
  await editor.init();
  return editor;
}

const editor = await startEditor().catch((error) => {
  firstLook.end();
  notice.show(texts.noEditor);
  throw error;
});
