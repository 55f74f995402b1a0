/**
 * Bundles what runs in the browser into build/plugin: ES modules, minified, and says how
 * large they are as they travel (gzip). Run by `npm run build`.
 */
import { copyFile, mkdir, readdir, readFile, rename, rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { build, type Plugin } from "esbuild";

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

const OUT = at("../build/plugin");
/** Built here first: where that fails, what was built before stays. */
const NEW = `${OUT}.new`;

/** By the names that the page loads them by. */
const MODULES = {
  "svgedit-host": at("hosts/svgedit/start.ts"),
  panel: at("panel/main.ts"),
  worker: at("worker/main.ts"),
  threads: at("canvas/thread-worker.ts"),
};

const COPIES = { "page.css": at("hosts/svgedit/page.css"), "icon.svg": at("hosts/svgedit/icon.svg") };

/** What our own code may weigh in all, the editor not counted. */
const MOST_BYTES = 250_000;

/**
 * Parts of libraries that the core never comes to use, left out: the grammar of every property (style sheets are
 * parsed, not checked), source maps of style sheets, and colour spaces that no drawing can name.
 */
const SMALLER: Readonly<Record<string, string>> = {
  "css-tree": `export { default as parse } from "css-tree/parser";
    export { default as generate } from "css-tree/generator";`,
  "source-map-js/lib/source-map-generator.js": "export class SourceMapGenerator {}",
  culori: `import "culori/css";
    import { modeLab65, useMode } from "culori/fn";
    export * from "culori/fn";
    useMode(modeLab65);`,
};

/**
 * clipper-lib brings big integers of its own, which browsers have had for years; it multiplies with them, where
 * coordinates are large, and compares the products.
 */
const CLIPPER_INTEGERS = { from: "\tvar dbits;", to: "\t// end of Int128 section" };
const NATIVE_INTEGERS = `
  var Int128 = {
    Int128Mul: (one, other) => BigInt(Math.round(one)) * BigInt(Math.round(other)),
    op_Equality: (one, other) => one === other,
  };`;

async function smallClipper(path: string): Promise<string> {
  const text = await readFile(path, "utf8");
  const from = text.indexOf(CLIPPER_INTEGERS.from);
  const to = text.indexOf(CLIPPER_INTEGERS.to);
  if (from < 0 || to < from) throw new Error(`${path} is not the clipper-lib that this was written for.`);
  return text.slice(0, from) + NATIVE_INTEGERS + text.slice(to);
}

const smaller: Plugin = {
  name: "smaller",
  setup({ onResolve, onLoad }) {
    onLoad({ filter: /clipper-lib[\\/]clipper\.js$/ }, async ({ path }) => ({
      contents: await smallClipper(path),
    }));
    const names = Object.keys(SMALLER).join("|");
    onResolve({ filter: new RegExp(`^(${names})$`) }, ({ path }) => ({ path, namespace: "smaller" }));
    onLoad({ filter: /.*/, namespace: "smaller" }, ({ path }) => ({
      contents: SMALLER[path],
      resolveDir: at(".."),
    }));
  },
};

await rm(NEW, { recursive: true, force: true });
await mkdir(NEW, { recursive: true });
await build({
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
  // The editor is served as it is, and the panel is loaded by the page: neither belongs into the host's module.
  external: ["/editor/*", "/plugin/*"],
  plugins: [smaller],
  logLevel: "warning",
});
for (const [name, source] of Object.entries(COPIES)) await copyFile(source, `${NEW}/${name}`);
await rm(OUT, { recursive: true, force: true });
await rename(NEW, OUT);

let total = 0;
for (const name of (await readdir(OUT)).filter((name) => name.endsWith(".js"))) {
  const size = gzipSync(await readFile(`${OUT}/${name}`)).length;
  total += size;
  console.log(`${name} ${(size / 1000).toFixed(1)} kB gzip`);
}
console.log(`in all ${(total / 1000).toFixed(1)} kB of ${MOST_BYTES / 1000} kB`);
if (total > MOST_BYTES) console.error("The panel's code is larger than it may be.");
