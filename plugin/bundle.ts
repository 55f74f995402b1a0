/**
 * Bundles what runs in the browser into build/plugin: ES modules, minified, each beside a compressed copy that
 * the server sends; and says how large they are. Run by `npm run build`.
 */
import { copyFile, mkdir, readdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import { basename } from "node:path";
import { fileURLToPath } from "node:url";
import { brotliCompressSync, gzipSync } from "node:zlib";
import { build, type Metafile } from "esbuild";
import { smallerLibraries } from "./smaller-libraries.ts";

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

const OUT = at("../build/plugin");
/** Built here first: where that fails, what was built before stays. */
const NEW = `${OUT}.new`;

const FOR_SERVER = at("../build/edit");

/** By the names that the page loads them by. */
const MODULES = {
  opening: at("hosts/svgedit/opening.ts"),
  "svgedit-host": at("hosts/svgedit/start.ts"),
  panel: at("panel/main.ts"),
  worker: at("worker/main.ts"),
  threads: at("canvas/thread-worker.ts"),
};

const COPIES = { "page.css": at("hosts/svgedit/page.css"), "icon.svg": at("hosts/svgedit/icon.svg") };

/** What our own code may weigh in all as it is sent, the editor not counted. */
const MOST_BYTES = 250_000;

await rm(NEW, { recursive: true, force: true });
await mkdir(NEW, { recursive: true });
const { metafile } = await build({
  entryPoints: MODULES,
  outdir: NEW,
  bundle: true,
  format: "esm",
  target: "es2022",
  // What two modules need is fetched once.
  splitting: true,
  chunkNames: "shared-[hash]",
  minify: true,
  legalComments: "none",
  plugins: [smallerLibraries(at(".."))],
  logLevel: "warning",
  metafile: true,
});
for (const [name, source] of Object.entries(COPIES)) await copyFile(source, `${NEW}/${name}`);

// The planner for the local server, which shows the first plan: never sent. What was compiled goes with the old one.
await rm(FOR_SERVER, { recursive: true, force: true });
await build({
  entryPoints: [at("hosts/svgedit/planning-thread.ts"), at("hosts/svgedit/planning-program.ts")],
  outdir: FOR_SERVER,
  outExtension: { ".js": ".cjs" },
  bundle: true,
  platform: "node",
  target: "node20",
  format: "cjs",
  minify: true,
  legalComments: "none",
  plugins: [smallerLibraries(at(".."))],
  logLevel: "warning",
});

await writeFile(`${NEW}/parts.json`, JSON.stringify(partsOf(metafile.outputs)));
const scripts = (await readdir(NEW)).filter((name) => name.endsWith(".js"));
let zipped = 0;
let sent = 0;
for (const name of scripts) {
  const bytes = await readFile(`${NEW}/${name}`);
  const compressed = brotliCompressSync(bytes);
  await writeFile(`${NEW}/${name}.br`, compressed);
  zipped += gzipSync(bytes, { level: 9 }).length;
  sent += compressed.length;
  console.log(`${name} ${kB(compressed.length)}`);
}
await rm(OUT, { recursive: true, force: true });
await rename(NEW, OUT);
console.log(`in all ${kB(sent)} of ${kB(MOST_BYTES)}, by gzip ${kB(zipped)}`);
if (sent > MOST_BYTES) console.error("The panel's code is larger than it may be.");

/** Which other modules each of those that the page names is made of, so that it can ask for them at once. */
function partsOf(outputs: Metafile["outputs"]): Record<string, string[]> {
  const all = (path: string): string[] =>
    outputs[path].imports
      .filter(({ kind, external }) => kind === "import-statement" && external !== true)
      .flatMap(({ path }) => [path, ...all(path)]);
  return Object.fromEntries(
    Object.keys(outputs)
      .filter((path) => basename(path, ".js") in MODULES)
      .map((path) => [basename(path, ".js"), [...new Set(all(path))].map((part) => basename(part))]),
  );
}

function kB(bytes: number): string {
  return `${(bytes / 1000).toFixed(1)} kB`;
}
