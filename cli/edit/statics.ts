/** Files of the editor, of the panel and of the demo, as they lie on the disk. */
import { createHash } from "node:crypto";
import { readdir, readFile, stat } from "node:fs/promises";
import { extname, join, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";

/** No pages but our own: the editor's, opened by a link from elsewhere, would load what that link says. */
const TYPES: Readonly<Record<string, string>> = {
  ".css": "text/css; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".gif": "image/gif",
};

/** The editor asks for its logo before it knows where its pictures are. */
const ELSEWHERE: Readonly<Record<string, string>> = { "/editor/logo.svg": "/editor/images/logo.svg" };

export interface StaticFile {
  readonly type: string;
  readonly isBrotli: boolean;
  /** Another one whenever the file is another: an entity tag, as HTTP has them (RFC 9110, 8.8.3). */
  readonly tag: string;
  read(): Promise<Uint8Array>;
}

/** Where each part of the page lies: the first part of the path, and its folder. */
export interface Roots {
  readonly editor: string;
  readonly plugin: string;
}

/**
 * The folders of an installed package. `packageRoot` is the folder of this package's own package.json.
 *
 * The editor's package names a main file that lies beside what is served.
 */
export function rootsOf(packageRoot: string): Roots {
  return {
    editor: fileURLToPath(new URL(".", import.meta.resolve("svgedit"))),
    plugin: join(packageRoot, "build", "plugin"),
  };
}

/**
 * One name for all that is served: another one whenever anything of it is another. Of the editor's package, which
 * holds thousands of files, its version and the size of its code stand for the rest.
 */
export async function tagOfAll({ editor, plugin }: Roots): Promise<string> {
  const hash = createHash("sha256");
  for (const name of (await readdir(plugin).catch(() => [])).sort())
    hash.update(name).update(await readFile(join(plugin, name)));
  hash.update(await readFile(join(editor, "..", "..", "package.json")));
  hash.update(String((await stat(join(editor, "Editor.js"))).size));
  return hash.digest("hex").slice(0, 16);
}

/**
 * `/editor/images/logo.svg` → the file, compressed where a compressed copy lies beside it and may be sent;
 * undefined where there is none, or where it would lie outside.
 */
export async function staticFile(
  roots: Roots,
  path: string,
  takesBrotli: boolean,
): Promise<StaticFile | undefined> {
  const [, part, ...rest] = (ELSEWHERE[path] ?? path).split("/");
  const root = part === "editor" ? roots.editor : part === "plugin" ? roots.plugin : undefined;
  const type = TYPES[extname(path).toLowerCase()];
  if (root === undefined || type === undefined) return undefined;
  if (rest.some((name) => name === "" || name.startsWith(".") || /[\\:\0]/.test(name))) return undefined;
  const file = resolve(root, ...rest);
  if (!file.startsWith(resolve(root) + sep)) return undefined;
  for (const isBrotli of takesBrotli && part === "plugin" ? [true, false] : [false]) {
    const found = isBrotli ? `${file}.br` : file;
    const facts = await stat(found).catch(() => undefined);
    if (facts?.isFile()) return { type, isBrotli, tag: tagOf(facts, isBrotli), read: () => readFile(found) };
  }
  return undefined;
}

const tagOf = ({ size, mtimeMs }: { size: number; mtimeMs: number }, isBrotli: boolean): string =>
  `"${size.toString(36)}-${Math.round(mtimeMs).toString(36)}${isBrotli ? "-br" : ""}"`;
