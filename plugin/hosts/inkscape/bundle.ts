/**
 * Builds what `tuckline install inkscape` copies: the program as one file for Node, with all that it needs inside,
 * and a small one that loads it; the scripts that start that; a description for each menu entry; and the licences
 * of the libraries inside. Run by `npm run build`.
 */
import { copyFile, mkdir, rm, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { licencesOf } from "../../licences.ts";
import { smallerLibraries } from "../../smaller-libraries.ts";
import { ENTRIES } from "./entries.ts";
import { inxText } from "./inx.ts";
import { CACHE, PROGRAM } from "./program.ts";

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** Where the package has it. */
export const BUNDLE = at("../../../build/inkscape");

const SCRIPTS = ["tuckline.sh", "tuckline.cmd"];

/** What comes of each module that the bundle begins at. */
const FILE_OF: Readonly<Record<string, string>> = { "start.js": "tuckline.cjs", "program.js": PROGRAM };

/** What both may weigh. */
const MOST_BYTES = 2_000_000;

/** Writes the bundle into a folder, which is made anew. @returns the size of the program in bytes */
export async function bundleInto(folder: string): Promise<number> {
  await rm(folder, { recursive: true, force: true });
  await mkdir(folder, { recursive: true });
  const { outputFiles, metafile } = await build({
    entryPoints: { start: at("start.ts"), program: at("run.ts") },
    outdir: folder,
    bundle: true,
    platform: "node",
    target: "node20",
    format: "cjs",
    plugins: [smallerLibraries(at("../../.."))],
    minify: true,
    legalComments: "none",
    metafile: true,
    write: false,
    logLevel: "warning",
  });
  const bytes = outputFiles.reduce((sum, { contents }) => sum + contents.length, 0);
  if (bytes > MOST_BYTES)
    throw new Error(`the plugin for Inkscape has ${bytes} bytes; it may have ${MOST_BYTES}`);
  for (const { path, contents } of outputFiles)
    await writeFile(join(folder, FILE_OF[basename(path)]), contents);
  await writeFile(join(folder, CACHE), "");
  for (const name of SCRIPTS) await copyFile(at(`start/${name}`), join(folder, name));
  for (const entry of ENTRIES) await writeFile(join(folder, `${entry.name}.inx`), inxText(entry, SCRIPTS[0]));
  await writeFile(join(folder, "licences.txt"), await licencesOf(Object.keys(metafile.inputs)));
  return bytes;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const bytes = await bundleInto(BUNDLE);
  console.log(`plugin for Inkscape ${(bytes / 1000).toFixed(0)} kB of ${MOST_BYTES / 1000} kB`);
}
