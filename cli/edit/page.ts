/**
 * The page: the editor on the left, the panel beside it. All of it that moves is in the host's module, but for
 * the beginning of the plan, which waits for nothing; the token comes in the address's fragment, which browsers
 * keep to themselves. What modules will ask for in turn is named before they do, in the order in which it is needed:
 * what the page begins with at once, the editor and the panel in a template whose links count when it is opened.
 */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Roots } from "./statics.ts";

/** Modules by name, each with those that it is made of besides. The bundler writes it. */
type Parts = Readonly<Record<string, readonly string[]>>;

/** @param kept the path that everything is served under */
export async function pageOf(kept: string, { plugin }: Roots): Promise<string> {
  const parts: Parts = await readFile(join(plugin, "parts.json"), "utf8").then(JSON.parse, () => ({}));
  const partsOf = (names: readonly string[]): string[] => names.flatMap((name) => parts[name] ?? []);
  const first = new Set(partsOf(["opening", "svgedit-host"]));
  const later = partsOf(["panel"]).filter((name) => !first.has(name));
  const preloads = (names: Iterable<string>): string =>
    [...names].map((name) => `<link rel="modulepreload" href="${kept}/plugin/${name}">`).join("\n");
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>Tuckline</title>
<base href="${kept}/editor/">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<script type="module" async src="${kept}/plugin/opening.js"></script>
${preloads(first)}
<link rel="stylesheet" href="./svgedit.css">
<link rel="stylesheet" href="${kept}/plugin/page.css">
<script type="module" src="${kept}/plugin/svgedit-host.js"></script>
<template id="needed-later">
<link rel="preload" as="script" crossorigin href="./Editor.js">
${preloads([...later, "panel.js"])}
</template>
<link rel="icon" href="${kept}/plugin/icon.svg">
</head>
<body>
<div id="tuckline">
<main id="editor" aria-label="Drawing"><div id="first-look"><p role="status"></p></div></main>
<div id="divider" role="separator" tabindex="0" aria-orientation="vertical" aria-label="Width of the panel"></div>
<aside id="panel" aria-label="Embroidery"></aside>
</div>
<noscript>Tuckline needs JavaScript in the browser.</noscript>
</body>
</html>
`;
}
