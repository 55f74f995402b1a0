/** Bundles the page of the canvas and serves it from 127.0.0.1, out of memory. */
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

const HTML = `<!doctype html><html lang="en"><title>Canvas</title><link rel="icon" href="data:,"><style>body { margin: 0 }</style><script type="module" src="/page.js"></script>`;

export interface ServedPage {
  readonly url: string;
  close(): Promise<void>;
}

export async function serveCanvasPage(): Promise<ServedPage> {
  const { outputFiles } = await build({
    entryPoints: { page: at("page.ts"), threads: at("../../../plugin/canvas/thread-worker.ts") },
    outdir: at("out"),
    write: false,
    bundle: true,
    format: "esm",
    target: "es2022",
    minify: true,
    logLevel: "warning",
  });
  const modules = new Map(outputFiles.map(({ path, text }) => [path.slice(path.lastIndexOf("/")), text]));
  const server = createServer((request, response) => {
    const script = modules.get(request.url ?? "");
    response.setHeader("content-type", script === undefined ? "text/html" : "text/javascript");
    response.end(script ?? HTML);
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}
