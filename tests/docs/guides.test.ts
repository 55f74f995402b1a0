/**
 * The guides do what they say: every command in them is run, in their order, in one folder with the demo crest, by
 * the program as it is built; what they say it prints, it prints; and the codes of findings, options and npm scripts
 * that they name are those there are.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { cp, mkdir, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Readable, Writable } from "node:stream";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { packageRoot } from "../../cli/package-root.ts";
import type * as commandLine from "../../cli/run.ts";
import { type GuideStep, isCommand, stepsOf } from "./commands.ts";

const root = packageRoot();
const read = (name: string) => readFileSync(join(root, name), "utf8");
const GUIDES = ["README.md", "DEVELOPERS.md"];

const SHARD = "$SLURM_ARRAY_TASK_ID";

describe.each(GUIDES)("the commands of %s", (guide) => {
  const steps = stepsOf(read(guide));
  const npm = steps.filter(isCommand).filter(({ program }) => program === "npm");
  let folder = "";
  let printed = "";

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "tuckline-"));
    const fixtures = join(root, "fixtures");
    await cp(join(fixtures, "heron-crest.svg"), join(folder, "heron-crest.svg"));
    await cp(join(fixtures, "threads-willowmere.csv"), join(folder, "my-threads.csv"));
    await mkdir(join(folder, "clipart"));
    for (const name of ["touching.svg", "two-colours.svg"])
      await cp(join(fixtures, "cases", name), join(folder, "clipart", name));
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  const typed = steps.filter((step) => !isCommand(step) || step.program === "tuckline");
  it.skipIf(typed.length === 0).each(typed.map((step) => [title(step), step] as const))(
    "%s",
    async (_, step) => {
      if (!isCommand(step)) {
        expect(plain(printed)).toContain(plain(step.text));
        return;
      }
      printed = "";
      for (const words of spelledOut(step.words)) {
        const { code, output } = await runBuilt(words, folder);
        // `check` says by 1 that there is something to look at.
        expect([0, ...(words[0] === "check" ? [1] : [])], output).toContain(code);
        printed += output;
      }
    },
    60_000,
  );

  it("call scripts of npm that there are", () => {
    const { scripts } = JSON.parse(read("package.json"));
    const own = new Set(["ci", "install", "pack", "start", "test"]);
    const unknown = npm
      .map(({ words }) => words)
      .filter(([verb, script]) => (verb === "run" ? scripts[script] === undefined : !own.has(verb)));
    expect(unknown).toEqual([]);
  });
});

describe("the README", () => {
  const readme = read("README.md");

  it("says of every code of a finding what it means, and of no other", () => {
    const codes = new Set(sources("core").flatMap(findingCodes));
    const troubleshooting = readme.slice(
      readme.indexOf("## Troubleshooting"),
      readme.indexOf("## What it can't"),
    );
    const rows = [...troubleshooting.matchAll(/^\| (`.*?) \|/gm)].map(([, cell]) => cell);
    const told = rows.flatMap((cell) => [...cell.matchAll(/`([^`]+)`/g)].map(([, code]) => code));
    expect(codes.size).toBeGreaterThan(40);
    expect([...codes].filter((code) => !told.some((row) => fits(code, row)))).toEqual([]);
    expect(told.filter((row) => ![...codes].some((code) => fits(code, row)))).toEqual([]);
    expect(told).toEqual([...new Set(told)]);
  });

  it("names options that there are", async () => {
    const commands = ["plan", "check", "explain", "inspect", "batch", "merge", "strip", "edit", "install"];
    const helps = await Promise.all(commands.map((name) => runBuilt([name, "--help"], root)));
    const known = new Set(helps.flatMap(({ output }) => output.match(/--[a-z][a-z-]+/g) ?? []));
    // Of another program: Slurm's sbatch.
    const others = new Set(["--array", "--wrap"]);
    const named = readme.match(/(?<![\w-])--[a-z][a-z-]+/g) ?? [];
    expect(named.filter((name) => !known.has(name) && !others.has(name))).toEqual([]);
  });

  it("leads to places that there are", () => {
    const heads = [...readme.matchAll(/^#+ (.+)$/gm)].map(([, head]) => anchorOf(head));
    const links = [...readme.matchAll(/\]\(([^)]+)\)/g)].map(([, link]) => link);
    const isThere = (link: string) =>
      link.startsWith("#") ? heads.includes(link.slice(1)) : existsSync(join(root, link));
    expect(links.filter((link) => !isThere(link))).toEqual([]);
  });

  it("and DEVELOPERS.md are ten pages together, of 550 words", () => {
    const words = GUIDES.flatMap((guide) => read(guide).match(/\S*[\p{L}\d]\S*/gu) ?? []);
    expect(words.length).toBeLessThan(10 * 550);
  });
});

const title = (step: GuideStep): string =>
  `line ${step.line}: ${isCommand(step) ? step.words.join(" ") : `“${step.text}”`}`;

/** Line by line as a reader compares them: figures and words, whatever space lies between. */
const plain = (text: string): string => text.replace(/\s+/g, " ");

/** What a test may not do as it is typed: open a browser, touch the user's own folders, be an array job. */
function spelledOut(words: readonly string[]): string[][] {
  if (words.some((word) => word.includes(SHARD)))
    return Array.from({ length: 8 }, (_, k) => words.map((word) => word.replace(SHARD, String(k + 1))));
  if (words[0] === "edit") return [[...words, "--no-open"]];
  if (words[0].endsWith("install")) return [[...words, "--to", "extensions"]];
  return [[...words]];
}

async function runBuilt(words: readonly string[], cwd: string): Promise<{ code: number; output: string }> {
  const built = pathToFileURL(join(root, "build", "cli", "run.js")).href;
  const { run }: typeof commandLine = await import(/* @vite-ignore */ built);
  let output = "";
  const sink = () =>
    new Writable({
      write(chunk, _encoding, done) {
        output += chunk;
        done();
      },
    });
  const code = await run(words, {
    stdin: Readable.from([]),
    stdout: sink(),
    stderr: sink(),
    cwd,
    debug: true,
  });
  return { code, output };
}

const sources = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .map((name) => read(join(folder, name)));

/** Of a code that is put together, what is fixed: `…-left-out`. */
const findingCodes = (source: string): string[] =>
  [...source.matchAll(/(?:\bcode: |notes\.add\(\s*)(?:"([^"]+)"|`([^`]+)`)/g)].map(([, fixed, made]) =>
    (fixed ?? made).replace(/\$\{[^}]*\}/g, "…"),
  );

const fits = (code: string, row: string): boolean =>
  code === row || (row.includes("…") && new RegExp(`^${row.replace("…", ".+")}$`).test(code));

const anchorOf = (head: string): string =>
  head
    .toLowerCase()
    .replace(/[^\w\s-]/g, "")
    .trim()
    .replace(/\s/g, "-");
