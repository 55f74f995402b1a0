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

/** One that cannot be loaded leaves its tool out, and says so in the console. */
export async function addExtensions(editor: SvgEditor): Promise<void> {
  await Promise.all(NAMES.map((name) => addExtension(editor, name).catch(console.error)));
}

async function addExtension(editor: SvgEditor, folder: string): Promise<void> {
  const address = new URL(`extensions/${folder}/${folder}.js`, document.baseURI).pathname;
  const { name, init } = ((await import(address)) as ExtensionModule).default;
  await editor.addExtension(name, init.bind(editor), {});
}
