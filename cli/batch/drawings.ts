/**
 * The drawings of a batch: what the patterns name, sorted, the same on every machine.
 *
 * A drawing's *name* is its path below the common root: the folder in which all patterns begin. It is kept in the
 * output folder, so that `birds/heron.svg` and `water/heron.svg` do not meet there. Its *stem* is what its outputs
 * are called, without an ending.
 */
import type { Stats } from "node:fs";
import { stat } from "node:fs/promises";
import { dirname, isAbsolute, relative, resolve, sep } from "node:path";
import { escapePath, glob, isDynamicPattern } from "tinyglobby";
import { CliError, type Io } from "../io.ts";

export interface BatchDrawing {
  /** Below the common root, with slashes on every machine. */
  readonly name: string;
  /** As a person would type it, for messages. */
  readonly shown: string;
  readonly stem: string;
}

/** A drawing's endings. */
const ENDING = /\.svgz?$/i;

/**
 * All drawings that the patterns name, each once, sorted by name.
 *
 * @param patterns files, folders (all drawings in them, at any depth), globs; one that begins with ! leaves out
 * @param within folders whose files are outputs, never drawings
 * @throws CliError where a pattern names nothing
 */
export async function findDrawings(
  patterns: readonly string[],
  within: readonly string[],
  io: Pick<Io, "cwd">,
): Promise<BatchDrawing[]> {
  const cwd = resolve(io.cwd);
  const left = patterns.filter((pattern) => pattern.startsWith("!")).map((pattern) => pattern.slice(1));
  const found = new Map<string, string>();
  const bases: string[] = [];
  for (const pattern of patterns.filter((each) => !each.startsWith("!"))) {
    const { base, paths } = await filesOf(pattern, left, cwd);
    bases.push(base);
    const drawings = paths.filter((path) => !within.some((folder) => isWithin(folder, path)));
    if (drawings.length === 0)
      throw new CliError(
        `${pattern}: there is no drawing of this name; check it, and quote it with its stars`,
      );
    for (const path of drawings) found.set(path, shownAs(path, pattern, cwd));
  }
  if (found.size === 0)
    throw new CliError(
      "tuckline: name drawings to plan, as in 'clipart/**/*.svg'; a batch does not read standard input",
    );
  const root = commonFolder(bases);
  const named = [...found].map(([path, shown]) => ({ name: slashed(relative(root, path)), shown }));
  named.sort((a, b) => (a.name < b.name ? -1 : 1));
  const stems = stemsOf(named.map(({ name }) => name));
  return named.map((drawing, k) => ({ ...drawing, stem: stems[k] }));
}

async function filesOf(
  pattern: string,
  ignore: readonly string[],
  cwd: string,
): Promise<{ base: string; paths: string[] }> {
  const search = async (glob_: string) =>
    (await glob(glob_, { cwd, ignore: [...ignore], absolute: true, expandDirectories: false })).map((path) =>
      resolve(path),
    );
  // A file or folder of exactly this name goes before what the name would mean as a pattern.
  const path = resolve(cwd, pattern);
  const there = await statOf(path);
  if (there?.isDirectory())
    return { base: path, paths: await search(`${escapePath(slashed(path))}/**/*.{svg,svgz,SVG,SVGZ}`) };
  if (there !== undefined) return { base: dirname(path), paths: [path] };
  if (!isDynamicPattern(pattern)) return { base: dirname(path), paths: [] };
  return { base: resolve(cwd, staticPart(slashed(pattern))), paths: await search(slashed(pattern)) };
}

const statOf = (path: string): Promise<Stats | undefined> => stat(path).catch(() => undefined);

/** The folders of a pattern before the first that is one itself: `clipart` of `clipart/*` + `*.svg`. */
function staticPart(pattern: string): string {
  const parts = pattern.split("/");
  const first = parts.findIndex((part) => isDynamicPattern(part));
  // A brace may hold slashes, which leaves no part that is a pattern by itself.
  const fixed = parts.slice(0, Math.max(0, first));
  return pattern.startsWith("/") && fixed.length === 1 ? "/" : fixed.join("/");
}

function commonFolder(folders: readonly string[]): string {
  const split = folders.map((folder) => folder.split(sep));
  const [first] = split;
  let shared = 0;
  while (shared < first.length && split.every((parts) => parts[shared] === first[shared])) shared++;
  return first.slice(0, shared).join(sep) || sep;
}

/** Relative where the pattern is. */
const shownAs = (path: string, pattern: string, cwd: string): string =>
  isAbsolute(pattern) ? path : relative(cwd, path);

const slashed = (path: string): string => (sep === "/" ? path : path.replaceAll(sep, "/"));

const isWithin = (folder: string, path: string): boolean => path.startsWith(folder + sep);

/**
 * The names without their endings. Where two would be one (`heron.svg` and `heron.svgz`, or on many disks
 * `Heron.svg`), both keep theirs.
 */
function stemsOf(names: readonly string[]): string[] {
  const stems = names.map((name) => name.replace(ENDING, ""));
  for (;;) {
    const count = new Map<string, number>();
    for (const stem of stems) count.set(stem.toLowerCase(), (count.get(stem.toLowerCase()) ?? 0) + 1);
    const shared = stems.flatMap((stem, k) =>
      (count.get(stem.toLowerCase()) as number) > 1 && stem !== names[k] ? [k] : [],
    );
    if (shared.length === 0) return stems;
    for (const k of shared) stems[k] = names[k];
  }
}
