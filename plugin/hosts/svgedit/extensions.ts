/**
 * The editor's extensions: tools that an artist draws with, each a module of its own with words and pictures. They
 * are added once the plan is seen, as the editor itself adds them, so that nobody waits for them to see it.
 */
import type { EditorExtension, SvgEditor } from "./svgedit-types.ts";

/** Without those that keep drawings in the browser, save on their own, or connect shapes. */
const NAMES = [
  "ext-eyedropper",
  "ext-grid",
  "ext-markers",
  "ext-panning",
  "ext-shapes",
  "ext-polystar",
  "ext-layer_view",
];

interface ExtensionModule {
  readonly default: {
    readonly name: string;
    init(this: SvgEditor, editorParts: unknown): Promise<EditorExtension>;
  };
}

/** They load at once, and stand in the editor's bars in this order. One that cannot be loaded is left out. */
export async function addExtensions(editor: SvgEditor): Promise<void> {
  const loading = NAMES.map((name) => load(name).catch(console.error));
  for (const loaded of loading) {
    const extension = (await loaded)?.default;
    if (extension === undefined) continue;
    await editor.addExtension(extension.name, extension.init.bind(editor), {}).catch(console.error);
  }
}

function load(name: string): Promise<ExtensionModule> {
  const address = new URL(`extensions/${name}/${name}.js`, document.baseURI).pathname;
  return import(address);
}
