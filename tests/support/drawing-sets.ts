/** The open drawing sets that tests, corpus and benchmark read: development dependencies, never shipped. */
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";

export interface Drawing {
  readonly name: string;
  readonly text: string;
}

const require = createRequire(import.meta.url);

/** Sets by name: flat layered emoji (art under CC BY 4.0) and flat colour icons (MIT). */
export const DRAWING_SETS: Readonly<Record<string, () => string>> = {
  emoji: () => dirname(require.resolve("@twemoji/svg/package.json")),
  icons: () => join(dirname(require.resolve("flat-color-icons/package.json")), "svg"),
};

/** The names of all drawings of a set, sorted. */
export const drawingNames = (set: string): string[] =>
  readdirSync(DRAWING_SETS[set]())
    .filter((name) => name.endsWith(".svg"))
    .sort();

export const readDrawing = (set: string, name: string): Drawing => ({
  name,
  text: readFileSync(join(DRAWING_SETS[set](), name), "utf8"),
});

/** `count` names spread evenly over the sorted list. */
export function spreadNames(set: string, count: number): string[] {
  const names = drawingNames(set);
  return Array.from({ length: count }, (_, k) => names[Math.floor(((k + 0.5) * names.length) / count)]);
}
