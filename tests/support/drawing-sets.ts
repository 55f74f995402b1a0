/**
 * The open drawing sets that tests, corpus, fuzzer and benchmark read: development dependencies, never shipped. Each
 * is here for a style that the others lack. Some come as a folder of files, some as a *collection*: one JSON file
 * with the inside of every drawing and the size of its page, from which the files are put together here.
 *
 * One is no npm package: the conformance tests of SVG 1.1 come with Debian's `librsvg2-tests`, and are there only
 * where that is installed.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";

export interface Drawing {
  readonly name: string;
  readonly text: string;
}

interface DrawingSet {
  readonly about: string;
  /** Where its files lie, where it comes as files. */
  readonly folder?: () => string;
  /** File names, sorted. */
  readonly names: () => readonly string[];
  readonly text: (name: string) => string;
}

const RSVG_TESTS = "/usr/libexec/installed-tests/RSVG/fixtures";
/** Each drawing with a picture of how it should look beside it, `NAME-ref.png`. */
export const CONFORMANCE_FOLDER = `${RSVG_TESTS}/reftests/svg1.1`;
/** Drawings that made another program stop. */
export const CRASH_FOLDERS = [`${RSVG_TESTS}/crash`, `${RSVG_TESTS}/render-crash`];

/** The names of the drawings in a folder, sorted. */
export const filesIn = (folder: string): string[] =>
  readdirSync(folder)
    .filter((name) => name.endsWith(".svg"))
    .sort();

/** Sets by name, each with where it comes from and its licence. */
export const DRAWING_SETS: Readonly<Record<string, DrawingSet>> = {
  emoji: folder("@twemoji/svg", "", "flat layered emoji; art CC BY 4.0"),
  icons: folder("flat-color-icons", "svg", "flat colour icons; MIT"),
  flags: folder("flag-icons", "flags/4x3", "national flags, some with coats of arms; MIT"),
  rounds: folder("circle-flags", "flags", "flags in a round mask; MIT"),
  lines: collection("tabler", (name) => !name.endsWith("-filled"), "strokes without fills; MIT"),
  gradients: collection("fluent-color", () => true, "icons shaded by gradients; MIT"),
  shaded: collection("noto", () => true, "emoji with gradients, clips and see-through layers; Apache 2.0"),
  weather: collection("meteocons", () => true, "animated icons of symbols, clips and masks; MIT"),
  conformance: {
    about: "W3C SVG 1.1 test suite, from Debian's librsvg2-tests; BSD 3-clause",
    folder: () => CONFORMANCE_FOLDER,
    names: () => (existsSync(CONFORMANCE_FOLDER) ? filesIn(CONFORMANCE_FOLDER) : []),
    text: (name) => readFileSync(join(CONFORMANCE_FOLDER, name), "utf8"),
  },
};

/** The sets that every checkout has. */
export const PACKAGED_SETS: readonly string[] = Object.keys(DRAWING_SETS).filter(
  (set) => set !== "conformance",
);

/** The names of all drawings of a set, sorted. */
export const drawingNames = (set: string): readonly string[] => DRAWING_SETS[set].names();

export const readDrawing = (set: string, name: string): Drawing => ({
  name,
  text: DRAWING_SETS[set].text(name),
});

/** `count` names spread evenly over the sorted list. */
export function spreadNames(set: string, count: number): string[] {
  const names = drawingNames(set);
  return Array.from({ length: count }, (_, k) => names[Math.floor(((k + 0.5) * names.length) / count)]);
}

/** A package that keeps its drawings as files. */
function folder(packageName: string, inside: string, about: string): DrawingSet {
  const path = once(() => join(dirname(pathTo(`${packageName}/package.json`)), inside));
  return {
    about: `${packageName}: ${about}`,
    folder: path,
    names: once(() => filesIn(path())),
    text: (name) => readFileSync(join(path(), name), "utf8"),
  };
}

interface Collection {
  readonly icons: Readonly<Record<string, { body: string; width?: number; height?: number }>>;
  readonly width: number;
  readonly height: number;
}

/** A package `@iconify-json/…` that keeps its drawings in one JSON file. */
function collection(prefix: string, wanted: (name: string) => boolean, about: string): DrawingSet {
  const path = `@iconify-json/${prefix}/icons.json`;
  const read = once(() => JSON.parse(readFileSync(pathTo(path), "utf8")) as Collection);
  return {
    about: `@iconify-json/${prefix}: ${about}`,
    names: once(() =>
      Object.keys(read().icons)
        .filter(wanted)
        .map((name) => `${name}.svg`)
        .sort(),
    ),
    text: (name) => {
      const { icons, width: usualWidth, height: usualHeight } = read();
      const { body, width = usualWidth, height = usualHeight } = icons[name.slice(0, -".svg".length)];
      return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}">${body}</svg>`;
    },
  };
}

/** A function's answer, worked out at the first question. */
function once<T>(work: () => T): () => T {
  let answer: T | undefined;
  return () => (answer ??= work());
}

/** Where a file of an installed package lies. */
function pathTo(packageFile: string): string {
  return createRequire(import.meta.url).resolve(packageFile);
}
